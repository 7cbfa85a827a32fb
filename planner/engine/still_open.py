"""What no rule answered, in words: a plan that says nothing of it would pass for done."""

from collections.abc import Iterator

from planner.engine.bench import Bench
from planner.engine.judged import Candidate
from planner.model.loom import Loom
from planner.model.need import ShortReach, WireToMake, WrongFitting
from planner.model.wording import address_words, wire_words


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
        if place not in bench.before.places and place in loom.places and _is_bare(bench, loom, place):
            yield f"{loom.place_title(place)} has no wire on any terminal: as planned it does nothing"


def _is_bare(bench: Bench, loom: Loom, place: str) -> bool:
    """Whether a part has terminals for wires and not one of them has any."""
    terminals = bench.catalogue.parts[loom.places[place].part].terminals
    wired = [mark for mark, terminal in terminals.items() if terminal.by == "wire"]
    return bool(wired) and not any(loom.ends_at.get(f"{place}:{mark}") for mark in wired)
