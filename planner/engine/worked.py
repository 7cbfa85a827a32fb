"""Which loads a part's controls work, seen from a case."""

from collections.abc import Collection, Iterator

from planner.engine.case import Case
from planner.model.elements import Coil, Contact
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import Consumer, conductor, consumers_beyond
from planner.model.starting import sprung_positions

Worked = dict[Consumer, tuple[str, tuple[str, ...]]]  # by which control and in which of its positions


def worked_by(case: Case, loom: Loom, place: str, part: Part, past: Collection[str] = ()) -> Worked:
    """The loads beyond contacts of a part that only positions of one control away from rest close.

    Of two such controls the one that stays by itself is told. Nothing is followed by way of ``past``.
    """
    found: Worked = {}
    closed = [(e, away) for e in part.inside if isinstance(e, Contact) and (away := _away_from_rest(part, e))]
    for element, (name, labels) in sorted(closed, key=lambda each: _is_held(part, *each[1])):
        marks = [mark for mark in element.join if mark in part.terminals]
        if len(marks) < 2:
            continue  # it works something inside its own part
        out = max(marks, key=lambda mark: case.rank_in(part, mark))
        for load in _loads(case, loom, f"{place}:{out}", past):
            found.setdefault(load, (name, tuple(labels)))
    return found


def _away_from_rest(part: Part, contact: Contact) -> tuple[str, tuple[str, ...]] | None:
    """The one control that has to leave its rest to close a contact, and where; None if it is not one."""
    if any(name not in part.controls for name in contact.when):
        return None
    away = [
        (name, tuple(labels))
        for name, labels in contact.when.items()
        if part.controls[name].positions[0].label not in labels
    ]
    return away[0] if len(away) == 1 else None


def _is_held(part: Part, name: str, labels: Collection[str]) -> bool:
    """Whether a control springs back from all of some positions."""
    return set(labels) <= sprung_positions(part.controls[name])


def _loads(case: Case, loom: Loom, at: str, past: Collection[str]) -> Iterator[Consumer]:
    """Yield each load beyond a terminal, and beyond the contacts of a relay whose coil hangs there."""
    yield from consumers_beyond(loom, case.catalogue, at, past)
    for place, mark in map(split_address, conductor(loom, at)):
        if place not in loom.places:
            continue
        relay = case.catalogue.parts[loom.places[place].part]
        coils = {e.name for e in relay.inside if isinstance(e, Coil) and mark in e.between}
        for element in relay.inside:
            if isinstance(element, Contact) and coils & set(element.when):
                ranks = {case.rank_in(relay, joined): joined for joined in element.join}
                yield from consumers_beyond(loom, case.catalogue, f"{place}:{ranks[max(ranks)]}", past)
