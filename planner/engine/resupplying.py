"""Parts that stay while the supply changes, seen from a case: their like for it, and what they live with."""

from planner.engine.case import Case
from planner.messages import tr
from planner.model.elements import (
    Cam,
    Coil,
    Contact,
    Control,
    Diode,
    Fuse,
    Gauge,
    Lamp,
    Led,
    Load,
    Resistor,
    Sender,
    Step,
    Winding,
)
from planner.model.part import Part
from planner.model.polarity import suits_pole
from planner.model.purpose import kind_of

# What works at any volts. A resistor that stands for an apparatus does not.
_ANY_VOLTS = (Cam, Contact, Control, Diode, Fuse, Resistor, Sender, Step)


def minds_volts(part: Part) -> bool:
    """Whether anything inside a part works only at its rated volts: loads, flashers and generators do."""
    return any(
        not isinstance(element, _ANY_VOLTS) or getattr(element, "does", None) for element in part.inside
    )


def has_other_volts(case: Case, place: str) -> bool:
    """Whether the part at a place is made for other volts than the vehicle has now, and minds it."""
    part = case.part(place)
    return part is not None and part.volts != case.loom.supply.volts and minds_volts(part)


def like_parts(case: Case, part: Part) -> list[Part]:
    """Parts of its kind for the supply now, outwardly the same, the nearest in watts first."""
    supply = case.loom.supply
    found = [
        other
        for other in case.catalogue.family(part.family)
        if other.part != part.part
        and kind_of(other) == kind_of(part)
        and (other.volts == supply.volts or not minds_volts(other))
        and suits_pole(other, supply)
        and _outside(other) == _outside(part)
    ]
    return sorted(found, key=lambda other: (abs(_watts(other) - _watts(part)), other.part))


def _outside(part: Part) -> object:
    """What a restorer and the proof tell a part by: terminals, controls, and what its loads are for."""
    terminals = {mark: (t.role, t.fitting, t.by, t.holds) for mark, t in part.terminals.items()}
    return terminals, part.controls, sorted(e.does for e in part.inside if isinstance(e, Load) and e.does)


def _watts(part: Part) -> float:
    return float(sum(getattr(element, "watts", None) or 0.0 for element in part.inside))


def fixed_load(part: Part) -> tuple[Lamp | Coil, str] | None:
    """The one load of a part whose current is always the same, and the terminal that leads to it alone.

    A lamp or a relay coil; never a motor, a gauge or an apparatus. None if there is any other load.
    """
    loads = [e for e in part.inside if isinstance(e, Load) or e.element == "source"]
    if len(loads) != 1 or not isinstance(loads[0], Lamp | Coil):
        return None
    for mark in loads[0].between:
        touching = [e for e in part.inside if mark in (*getattr(e, "between", ()), *getattr(e, "join", ()))]
        if mark in part.terminals and part.terminals[mark].by == "wire" and len(touching) == 1:
            return loads[0], mark
    return None


def why_no_dropper(part: Part) -> str:
    """Why nothing in line makes a part live with higher volts."""
    if any(isinstance(element, Winding) for element in part.inside):
        return tr("a motor or magnet takes more amps the harder it works: never put a dropper before one")
    if any(isinstance(element, Gauge) for element in part.inside):
        return tr("the current of a gauge follows its sender, and no resistor holds its volts")
    if any(isinstance(element, Lamp | Led) for element in part.inside):
        return tr("a dropper suits one fixed load, and this part has more, or one terminal for all")
    return tr("what is inside does not take one fixed current")
