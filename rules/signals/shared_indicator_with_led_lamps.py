"""An indicator lamp that both sides share is given an earth and two diodes where the turn lamps are LED ones.

What it looks for
Turn lamps that flash on the wrong side, or an indicator lamp that stays dark, and an indicator lamp between
the two sides while light-emitting lamps are fitted.

Why it matters
Such a lamp returns through the lamps of the other side. A filament there lets its small current pass without
a glow; light-emitting lamps light up with it, so that both sides flash, or let nothing through.

Before
The indicator lamp on the left and the right conductor, four LED turn lamps: all four flash.

After
A diode from each side to the one terminal of the lamp, and its other terminal on earth; or an indicator that
has its own earth.

Limits
Only where the lamp has two terminals with one end on each. The diodes cost the lamp 0.7 V. What a
light-emitting lamp lets through backwards is not looked at.

Source
common practice, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.drafting import draft_insert, draft_wire
from planner.engine.earthing import earth_near
from planner.engine.exchanging import parts_that_take_the_wires
from planner.engine.signals import SharedLamp, shared_lamps
from planner.engine.suiting import parts_of
from planner.model.delta import Move, Operation, Reason
from planner.model.elements import Diode, Lamp, Led
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.wording import small

KINDS = ("unintended", "lost", "changed", "strain")


def propose(case: Case) -> Iterator[Emission]:
    """Yield two diodes and an earth for the lamp, and indicators with an earth of their own."""
    need = case.need
    if not isinstance(need, Fault) or need.kind not in KINDS or need.what in ("drop", "wire"):
        return
    for lamp in shared_lamps(case, need):
        facts = (
            f"the {lamp.does} sits between the two sides and returns through the lamps of the other one",
            "light-emitting lamps there light up with its current, or block it",
        )
        why = Reason("shared-indicator-with-led-lamps", facts)
        operations = _with_diodes(case, lamp)
        if operations:
            yield Proposal(operations, why)
        for part, exchanged in parts_that_take_the_wires(case, lamp.place):
            if not _is_shared(part, split_address(lamp.fed)[1], split_address(lamp.back)[1]):
                own = f"the {small(part.title)} takes the same wires"
                yield Proposal(exchanged, replace(why, facts=(*facts, own)), offer=bool(operations))


def _with_diodes(case: Case, lamp: SharedLamp) -> tuple[Operation, ...]:
    """A diode in each wire, both to the fed terminal, and an earth for the other; empty without diodes."""
    diodes = [p for p in parts_of(case, "in-line") if any(isinstance(e, Diode) for e in p.inside)]
    ends = [case.ends_at(at) for at in (lamp.fed, lamp.back)]
    if not diodes or any(len(on) != 1 for on in ends):
        return ()
    diode = next(e for e in diodes[0].inside if isinstance(e, Diode))
    enters, leaves = diode.between if case.loom.supply.earthed == "negative" else diode.between[::-1]
    first = draft_insert(case, *ends[0][0], diodes[0], enters, leaves)
    then = replace(case, loom=first.apply(case.loom))
    second = draft_insert(then, *ends[1][0], diodes[0], enters, leaves)
    over = Move(second.lead.wire, 1, lamp.back, lamp.fed, lamp.back)
    earth = draft_wire(case, lamp.back, earth_near(case, lamp.back), "31")
    return first, second, over, earth


def _is_shared(part: Part, one: str, other: str) -> bool:
    """Whether a lamp of a part sits between two of its terminals."""
    return any(isinstance(e, Lamp | Led) and {one, other} == set(e.between) for e in part.inside)
