"""What becomes of a part when the other pole is earthed, as far as its data tell."""

from planner.model.elements import (
    AnyElement,
    Cam,
    Coil,
    Contact,
    Control,
    Diode,
    Flasher,
    Fuse,
    Gauge,
    Lamp,
    Led,
    Resistor,
    Sender,
    Source,
    Step,
    Winding,
)
from planner.model.loom import Supply
from planner.model.part import Part, Polarity

# What works alike whichever way the current goes; magnets of relays and horns pull either way.
_EITHER_WAY = (Cam, Coil, Contact, Control, Fuse, Lamp, Sender, Step)
DIRECTED = (Diode, Led, Gauge, Winding)  # what exchanging two leads turns round


def polarity_of(part: Part) -> Polarity | None:
    """What the part says; else what follows from what is inside; None if nobody can tell from its data.

    Windings (magnet or wound field?), gauges, generators, electronics and resistors that stand for an
    apparatus do not tell it themselves.
    """
    if part.polarity is not None:
        return part.polarity
    if not all(_tells(element) for element in part.inside):
        return None
    return "reverses" if any(_is_one_way(element) for element in part.inside) else "indifferent"


def _is_one_way(element: AnyElement) -> bool:
    return isinstance(element, Led) or (isinstance(element, Diode) and not element.is_cut_out)


def _tells(element: AnyElement) -> bool:
    if isinstance(element, Flasher):
        return element.kind == "thermal"
    if isinstance(element, Resistor):
        return element.does is None
    return isinstance(element, (*_EITHER_WAY, Diode, Led))


def suits_pole(part: Part, supply: Supply) -> bool:
    """Whether a part may be fitted with this pole earthed: false only if it is made for the other."""
    polarity = polarity_of(part)
    return polarity not in ("negative-earth", "positive-earth") or polarity == f"{supply.earthed}-earth"


def reversing_leads(part: Part) -> tuple[str, str] | None:
    """The two terminals whose leads are exchanged to turn a part round.

    None if what is inside is not between one pair of terminals, or if one of them is its mounting.
    """
    pairs = {tuple(sorted(e.between)): e.between for e in part.inside if isinstance(e, DIRECTED)}
    if len(pairs) != 1:
        return None
    (pair,) = pairs.values()
    is_wired = all(mark in part.terminals and part.terminals[mark].by == "wire" for mark in pair)
    return pair if is_wired else None


def is_turned_round(old: Part, new: Part) -> bool:
    """Whether two parts are one battery, which is called by the post that is earthed: its leads decide."""
    was, now = (
        [e.between for e in part.inside if isinstance(e, Source) and not e.when] for part in (old, new)
    )
    return bool(was) and old.volts == new.volts and was == [(b, a) for a, b in now]
