"""A diode in the wire on a lamp's return: out of the lamp current passes, back into it none."""

from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.suiting import weakest_in_line
from planner.model.delta import EndRef, Insert
from planner.model.elements import Diode, Lamp, Led
from planner.model.loom import split_address


def draft_diode_out_of(case: Case, at: str, end: EndRef) -> Insert | None:
    """The weakest diode that bears what the lamps on a terminal take, put into the end of a wire there."""
    place, mark = split_address(at)
    part = case.part(place)
    lamps = [e for e in part.inside if isinstance(e, Lamp | Led) and mark in e.between] if part else []
    found = weakest_in_line(case, Diode, sum(lamp.watts for lamp in lamps) / case.loom.supply.volts)
    if not lamps or found is None:
        return None
    diode_part, diode = found
    leaves, enters = diode.between if case.loom.supply.earthed == "negative" else diode.between[::-1]
    return draft_insert(case, *end, diode_part, enters, leaves)
