"""What one position of an old control did, done by several controls of the new part together.

A switch of off, side and head may be two rockers on the new part. Position by position the old control is
lost; worked together the new ones do the same. Which, is found by what is joined and reached at terminals of
known purpose, every other thing at rest.
"""

from collections.abc import Iterator, Mapping
from itertools import combinations, islice, product

from planner.model.contact_table import ContactTable
from planner.model.paired_positions import MAX_POSITIONS, shared_labels
from planner.model.part import Part

Setting = Mapping[str, str]


def done_together(old: Part, new: Part, names: Mapping[str, str]) -> Iterator[tuple[str, str, Setting]]:
    """Yield each position that the new part lacks, by control and label, with what does its work there.

    Only what has to be moved is named, and the way that moves least comes first. A position in which the old
    part does no more than at rest needs none.
    """
    for name, label, way in _positions_gone(old, new, names):
        if way is not None:
            yield name, label, way


def is_done_together(old: Part, new: Part, names: Mapping[str, str], control: str) -> bool:
    """Whether a control is split: several of the new part do all its positions that are gone, one or more."""
    ways = [way for name, _, way in _positions_gone(old, new, names) if name == control]
    return None not in ways and any(way is not None and len(way) > 1 for way in ways)


def positions_in_doubt(
    old: Part, new: Part, names: Mapping[str, str]
) -> Iterator[tuple[str, Mapping[str, str]]]:
    """Yield each control of which several positions did the same by role, with those of the new part taken.

    Two work lamps have one role: nothing tells which of two new positions is for which.
    """
    rest = {name: labels[0] for name, labels in old.variables.items()}
    alike: dict[tuple[str, frozenset[object]], dict[str, str]] = {}
    for name, label, way in done_together(old, new, names):
        if way.keys() == {names.get(name)}:
            did = _joined(old, rest | {name: label})
            alike.setdefault((name, did), {})[label] = way[names[name]]
    yield from ((name, pairs) for (name, _), pairs in alike.items() if len({*pairs.values()}) > 1)


def _positions_gone(
    old: Part, new: Part, names: Mapping[str, str]
) -> Iterator[tuple[str, str, Setting | None]]:
    """Yield each position that the new part lacks, with what does its work there, or None."""
    at_rest = {name: labels[0] for name, labels in new.variables.items()}
    knobs = {name: new.variables[name] for name in new.controls}
    ways = [
        at_rest | dict(zip(knobs, row, strict=True))
        for row in islice(product(*knobs.values()), MAX_POSITIONS)
    ]
    ways.sort(key=lambda way: sum(way[name] != at_rest[name] for name in knobs))
    rest = {name: labels[0] for name, labels in old.variables.items()}
    for name in old.controls:
        taken: list[Setting] = []  # each position has one of its own, as long as there are any
        kept = {label for label, _ in shared_labels(old, new, name, names[name])} if name in names else set()
        for label in old.variables[name]:
            did = _joined(old, rest | {name: label})
            if label in kept or did == _joined(old, rest):
                continue
            same = (
                {n: way[n] for n in knobs if way[n] != at_rest[n]} for way in ways if _joined(new, way) == did
            )
            moved = next(same, None)
            if moved in taken and moved is not None:
                moved = next((m for m in same if m not in taken and m.keys() == moved.keys()), moved)
            taken += [moved] if moved is not None else []
            yield name, label, moved


def _joined(part: Part, setting: Setting) -> frozenset[object]:
    """What a part joins and reaches in one setting, by purposes; two terminals of one are one."""
    table = ContactTable(part, [setting], {})
    roles = {mark: t.role for mark, t in part.terminals.items() if t.role}
    found: set[object] = set()
    for one, other in combinations(roles, 2):
        if roles[one] != roles[other] and table.joined(one, other)[0]:
            found.add(frozenset((roles[one], roles[other])))
    for mark, role in roles.items():
        found |= {(role, end) for end in table.elements_at(mark, table.element_ends())[0]}
    return frozenset(found)
