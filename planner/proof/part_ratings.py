"""What two parts are rated at: which figures differ, and whether that costs something.

The shares are ours (invented): how far a figure may be off before a restorer would want to hear of it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf
from types import MappingProxyType
from typing import Literal

from planner.model.elements import AnyElement, Contact, Diode, Fuse, Lamp, Led, Resistor, Winding
from planner.model.fitted_fuse import rated_for_good
from planner.model.part import MEASURED_SOURCE, Part

RatingOutcome = Literal["same", "weaker", "heavier", "other", "unmeasured"]
_NAMELESS = (Fuse, Diode)
SAME_SHARE = 0.05
WEAKER_SHARE, HEAVIER_SHARE = 0.8, 1.25
PULL_IN_SHARE = 1.1
_UNITS: Mapping[str, str] = MappingProxyType(
    {
        "watts": "W",
        "ohms": "ohms",
        "amps": "A",
        "volts": "V",
        "pulls_in_v": "V",
        "drops_out_v": "V",
        "needs_amps": "A",
        "heater_ohms": "ohms",
        "drop_v": "V",
        "full_scale_amps": "A",
    }
)
_CALLED: Mapping[str, str] = MappingProxyType(
    {
        "pulls_in_v": "pull-in",
        "drops_out_v": "drop-out",
        "needs_amps": "least current",
        "heater_ohms": "heater",
        "drop_v": "forward drop",
        "full_scale_amps": "full scale",
    }
)

_COPIED_NOTE = "copied from the part that the readings were found to fit, not measured"
_OHMS_NOTE = "as read, or copied where no reading showed it by itself"


@dataclass(frozen=True, slots=True)
class Rating:
    """One figure of both parts; ``note`` says what a difference means."""

    what: str
    original: str
    other: str
    outcome: RatingOutcome
    note: str = ""


def compare_ratings(
    original: Part, other: Part, matched: Sequence[tuple[str, int, int]], partners: Mapping[str, str]
) -> Iterator[Rating]:
    """Yield every rating that either part gives; of what was made from readings only ohms count.

    ``matched`` are loads of both parts by name and place in the part, ``partners`` the paired terminals.
    """
    measured = MEASURED_SOURCE in (original.source, other.source)
    for rating in _given(original, other, matched, partners):
        is_ohms = f" {_UNITS['ohms']}" in f"{rating.original}{rating.other}" and "heater" not in rating.what
        if not measured:
            yield rating
        elif is_ohms:
            yield replace(rating, note="; ".join(filter(None, (rating.note, _OHMS_NOTE))))
        else:
            yield replace(rating, outcome="unmeasured", note=_COPIED_NOTE)


def _given(
    original: Part, other: Part, matched: Sequence[tuple[str, int, int]], partners: Mapping[str, str]
) -> Iterator[Rating]:
    for what, ours, theirs in matched:
        one, two = original.inside[ours], other.inside[theirs]
        called = f"{what} {' to '.join(one.between)}" if isinstance(one, _NAMELESS) else what
        if one.element != two.element:
            yield Rating(called, one.element, two.element, "other", _kind_note(two))
        for field in (*_UNITS, "kind", "category"):
            if field == "amps" and isinstance(one, Fuse) and isinstance(two, Fuse):
                yield _fuse(called, one, two)
            elif not (field == "ohms" and isinstance(one, Resistor) and not one.does):
                pair = _figure(original, one, field), _figure(other, two, field)
                if any(pair):
                    yield _rating(called, field, *pair)
    yield from _contacts(original, other, partners)


def _figure(part: Part, element: AnyElement, field: str) -> object:
    figure: object = getattr(element, field, None)
    if field == "volts" and figure is None and isinstance(element, Lamp | Winding | Led):
        return part.volts
    return figure


def _rating(what: str, field: str, one: object, two: object) -> Rating:
    here, there = _text(field, one), _text(field, two)
    what = f"{what}, {_CALLED[field]}" if field in _CALLED else what
    if one == two:
        return Rating(what, here, there, "same")
    if not isinstance(one, int | float) or not isinstance(two, int | float):
        return Rating(what, here, there, "other")
    return Rating(what, here, there, *_judge(field, two / one if one else inf))


def _judge(field: str, share: float) -> tuple[RatingOutcome, str]:
    """What a figure means that is this many times the original's."""
    if field == "watts":
        if share < WEAKER_SHARE:
            return (
                "weaker",
                "does less; what counts on its current (a thermal flasher, a charge lamp) may miss it",
            )
        if share > 1 + SAME_SHARE:
            return "heavier", "draws more: the wire, the fuse and the switch before it must carry it"
    elif field == "ohms" and share < WEAKER_SHARE:
        return "heavier", "draws more: what feeds or switches it must carry it"
    elif field == "full_scale_amps":
        return "weaker", "reads wrong with the old sender"
    elif field == "pulls_in_v" and share > PULL_IN_SHARE:
        return "weaker", "needs more volts to pull in"
    elif field == "needs_amps":
        if share > 1:
            return "weaker", "needs a heavier load before it beats"
        return "other", "beats with a lighter load, so a failed lamp may not show"
    elif field == "volts":
        return "weaker", "made for other volts"
    return "other", ""


def _fuse(what: str, one: Fuse, two: Fuse) -> Rating:
    """Compare fuses by what they carry for ever; one marked with the blowing current carries half of it."""
    carried = [rated_for_good(f.amps, f.marked) for f in (one, two)]
    here, there = (
        f"{f.amps:g} A" + (f" blowing, about {amps:g} A for ever" if f.marked == "blowing" else "")
        for f, amps in zip((one, two), carried, strict=True)
    )
    share = carried[1] / carried[0]
    if share < WEAKER_SHARE:
        return Rating(what, here, there, "weaker", "carries less and may blow")
    if share > HEAVIER_SHARE:
        return Rating(what, here, there, "heavier", "protects less: it must fit the thinnest wire behind it")
    return Rating(what, here, there, "same" if here == there else "other")


def _contacts(original: Part, other: Part, partners: Mapping[str, str]) -> Iterator[Rating]:
    """Yield the rated current of each contact between terminals that have a partner."""
    rated = [e for e in original.inside if isinstance(e, Contact)]
    for one in rated:
        marks = {partners.get(mark) for mark in one.join}
        two = next(
            (
                e
                for e in other.inside
                if isinstance(e, Contact) and None not in marks and marks <= set(e.join)
            ),
            None,
        )
        if two is None or (one.amps is None and two.amps is None):
            continue
        here, there = _text("amps", one.amps), _text("amps", two.amps)
        what = f"contact {' with '.join(one.join)}"
        if one.amps == two.amps:
            yield Rating(what, here, there, "same")
        elif one.amps is None or two.amps is None:
            yield Rating(what, here, there, "other", "only one of them says what it carries")
        elif two.amps < one.amps:
            yield Rating(what, here, there, "weaker", "carries less")
        else:
            yield Rating(what, here, there, "other", "carries more")


def _text(field: str, value: object) -> str:
    if value is None:
        return "not given"
    return f"{value:g} {_UNITS[field]}" if isinstance(value, int | float) else str(value)


def _kind_note(element: AnyElement) -> str:
    if isinstance(element, Led):
        return "an LED works one way round only"
    return ""
