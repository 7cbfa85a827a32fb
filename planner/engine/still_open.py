"""What no rule answered, in words: a plan that says nothing of it would pass for done."""

from collections.abc import Iterator

from planner.engine.bench import Bench
from planner.engine.judged import Candidate
from planner.model.elements import Coil, Contact, Flasher, Fuse
from planner.model.loom import Loom
from planner.model.need import ShortReach, WireToMake, WrongFitting
from planner.model.part import Part
from planner.model.wording import address_words, mark_words, wire_words


def still_open(bench: Bench, candidate: Candidate) -> Iterator[str]:
    """Yield in words what no rule answered: a plan that says nothing of it would pass for done."""
    loom = candidate.loom
    for end in bench.needs.loose_ends(loom):
        wire = wire_words(loom.find(end.wire), end.end)
        yield f"{wire} ({end.wire}) that was on {address_words(bench.before, end.was)} has nowhere to go"
    for full in bench.needs.full_terminals(loom):
        yield f"{address_words(loom, full.at)} carries {len(full.ends)} ends, more than it takes"
    for need in bench.needs.end_needs(loom, candidate.made, candidate.roles):
        if isinstance(need, WrongFitting | ShortReach):
            wire = wire_words(loom.find(need.wire), need.end)
            what = "does not fit" if isinstance(need, WrongFitting) else "does not reach"
            yield f"{wire} ({need.wire}) {what} {address_words(loom, need.at)}"
        elif isinstance(need, WireToMake):
            yield f"how {wire_words(loom.find(need.wire))} is made"
    for place in bench.needs.places:
        if place not in bench.before.places and place in loom.places:
            yield from _does_nothing(loom, place, bench.catalogue.parts[loom.places[place].part])


def _does_nothing(loom: Loom, place: str, part: Part) -> Iterator[str]:
    """Yield why a part in a new place does nothing: no wire at all, or none where it passes current on."""
    wired = [mark for mark, terminal in part.terminals.items() if terminal.by == "wire"]
    bare = {mark for mark in wired if not loom.ends_at.get(f"{place}:{mark}")}
    title = loom.place_title(place)
    if wired and len(bare) == len(wired):
        yield f"{title} has no wire on any terminal: as planned it does nothing{_to_decide(part)}"
    elif _passes_nothing_on(part, bare):
        marks = " and ".join(mark_words(mark) for mark in wired if mark in bare)
        yield f"{title} has no wire on {marks}: as planned it does nothing"


def _to_decide(part: Part) -> str:
    """What is left to the owner of a switch whose two sides are alike; empty for any other part."""
    ways = [e for e in part.inside if isinstance(e, Contact)]
    if part.users or len(ways) != 1 or not ways[0].when or len(ways[0].join) != 2:
        return ""
    if (
        not set(ways[0].join) <= set(part.terminals)
        or len({part.terminals[mark].role for mark in ways[0].join}) > 1
    ):
        return ""
    one, other = map(mark_words, ways[0].join)
    return (
        f"; {one} and {other} are the same to it, so either may be the feed. What is to be decided: what it "
        "switches: say so under 'wants' in the job, or enter its two wires in the loom"
    )


def _passes_nothing_on(part: Part, bare: set[str]) -> bool:
    """Whether a part is there to switch or protect, and no contact or fuse of it is used on both sides.

    A contact that a coil moves is not used either if the coil has no wire on one of its sides.
    """
    coils = {e.name for e in part.inside if isinstance(e, Coil) and set(e.between) & bare}
    ways = [e for e in part.inside if isinstance(e, Contact | Fuse | Flasher)]
    if not ways or part.users:
        return False
    for way in ways:
        nodes = way.join if isinstance(way, Contact) else way.between
        moved_by = way.when if isinstance(way, Contact) else {}
        if len(set(nodes) - bare) > 1 and not coils & set(moved_by):
            return False
    return True
