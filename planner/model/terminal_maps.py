"""How the terminals of an old part go onto a new one, judged by what each joins in which position."""

from collections.abc import Collection, Iterator, Sequence

from planner.model.contact_table import ContactTable, table_of
from planner.model.paired_positions import paired_positions
from planner.model.part import Part
from planner.model.same_variables import match_variables

MAX_TRIALS = 5000
MAX_MAPPINGS = 24


def map_terminals(old: Part, new: Part, wired: Collection[str]) -> list[dict[str, str]]:
    """The ways in which the wired terminals of an old part can go onto a new one, judged by contacts alone.

    Two terminals that were joined in a position must be joined in the position of the same meaning, and the
    elements that both parts have must be reached in the same positions. Known roles must agree. Terminals
    that are one node count as one; a terminal that nothing joins, or that has no counterpart, is left out.
    At most ``MAX_MAPPINGS`` ways are given; none if the parts have too many positions to compare.
    """
    tables = _tables(old, new)
    if tables is None:
        return []
    # Terminals joined in every position compared may part in a position that only the new part has.
    targets = _one_a_node(table_of(new))
    return list(_search(*tables, [mark for mark in old.terminals if mark in wired], targets))


def equal_outputs(old: Part, new: Part, joint: tuple[str, str], start: str) -> list[str]:
    """Terminals of a new part that it joins to ``start`` just when the old part made a joint.

    Positions of one meaning are compared; a joint that was never made has no equal.
    """
    tables = _tables(old, new)
    if tables is None:
        return []
    made, table = tables[0].joined(*joint), tables[1]
    others = [m for m, t in new.terminals.items() if m != start and t.by == "wire"]
    return [mark for mark in others if any(made) and table.joined(start, mark) == made]


def _tables(old: Part, new: Part) -> tuple[ContactTable, ContactTable] | None:
    """The tables of two parts over the positions that both have; None if they cannot be compared."""
    names = match_variables(old, new).names
    ours, theirs = paired_positions(old, new, names)
    if not ours:
        return None
    return ContactTable(old, ours, {}), ContactTable(new, theirs, {v: k for k, v in names.items()})


def _search(
    old: ContactTable, new: ContactTable, wired: Sequence[str], targets: Sequence[str]
) -> Iterator[dict[str, str]]:
    known = old.element_ends() & new.element_ends()
    seen = {mark: old.elements_at(mark, known) for mark in wired}
    reached = {mark: new.elements_at(mark, known) for mark in new.part.terminals}
    meant = [
        mark
        for mark in wired
        if any(seen[mark]) or any(any(old.joined(mark, other)) for other in wired if other != mark)
    ]
    roles = {t.role for t in old.part.terminals.values() if t.role}
    choices = {
        mark: [
            target
            for target in targets
            if reached[target] == seen[mark] and _roles_agree(old.part, mark, new.part, target, roles)
        ]
        for mark in meant
    }
    order = sorted((mark for mark in meant if choices[mark]), key=lambda mark: len(choices[mark]))
    trials = found = 0

    def place(mapping: dict[str, str], left: Sequence[str]) -> Iterator[dict[str, str]]:
        nonlocal trials, found
        if not left:
            found += 1
            yield dict(mapping)
            return
        mark, *rest = left
        for target in choices[mark]:
            trials += 1
            if trials > MAX_TRIALS or found >= MAX_MAPPINGS:
                return
            if all(old.joined(mark, m) == new.joined(target, t) for m, t in mapping.items()):
                yield from place({**mapping, mark: target}, rest)

    if order:
        yield from place({}, order)


def _one_a_node(table: ContactTable) -> list[str]:
    kept: list[str] = []
    for mark, terminal in table.part.terminals.items():
        if terminal.by == "wire" and not any(table.is_one_node(mark, other) for other in kept):
            kept.append(mark)
    return kept


def _roles_agree(old: Part, mark: str, new: Part, target: str, old_roles: Collection[str]) -> bool:
    role, other = old.terminals[mark].role, new.terminals[target].role
    if role is None:
        return other is None or other not in old_roles
    return other == role or (other is None and all(t.role != role for t in new.terminals.values()))
