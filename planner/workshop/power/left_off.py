"""Parts that must not be live when the battery goes on: which ends come off them, and why."""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.bench_sheet import LeftOff
from planner.model.facts import Facts
from planner.model.loom import split_address
from planner.model.plan import Plan, StrainLine
from planner.model.strain import StrainKind
from planner.workshop.ends.names import Names

# What destroys a part as soon as its feed is live, whatever else is sound.
_DESTROYED: frozenset[StrainKind] = frozenset(("overheats", "over-voltage", "polarity"))


def left_off(names: Names, plan: Plan, facts: Facts) -> tuple[LeftOff, ...]:
    """What is taken off before first power, place by place; ``facts`` are those of the loom after."""
    why: dict[str, list[str]] = {}
    for line in plan.strains:
        place = split_address(line.at)[0]
        if line.is_new and line.kind in _DESTROYED and place in names.after.places:
            why.setdefault(place, []).append(line.text)
    return tuple(
        LeftOff(place, tuple(_live_ends(names, place, facts)), tuple(dict.fromkeys(said)))
        for place, said in why.items()
    )


def settled_first(plan: Plan, off: Sequence[LeftOff]) -> tuple[str, ...]:
    """What else makes a plan unsafe and has to be settled before its battery goes on."""
    if plan.verdict != "unsafe":
        return ()
    told = {text for one in off for text in one.why}
    dangers = [line.text for line in plan.strains if _is_danger(line)]
    dangers += [hazard.text for hazard in plan.hazards if not hazard.was_before]
    return tuple(text for text in dict.fromkeys(dangers) if text not in told)


def _is_danger(line: StrainLine) -> bool:
    return line.is_new and line.is_dangerous


def _live_ends(names: Names, place: str, facts: Facts) -> Iterator[str]:
    """Yield the ends at a place that are live in some position, each with its terminal."""
    for wire, end, mark in names.after.ends_of_place(place):
        fact = facts.at(f"{place}:{mark}")
        if fact.live != "never" and fact.earthed != "always":
            yield tr("{wire} off {at}", wire=names.named(wire, end), at=names.at(f"{place}:{mark}"))
