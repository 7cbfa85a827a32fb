"""Which terminals of a part are joined in which position, and how two parts' tables map onto each other."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import islice, product
from math import prod
from typing import TypeVar

from planner.model.elements import (
    AnyElement,
    Cam,
    Coil,
    Contact,
    Control,
    Diode,
    Flasher,
    Led,
    Sender,
    Source,
    Stabiliser,
    Step,
)
from planner.model.part import Part

_Value = TypeVar("_Value")
Position = Mapping[str, str]  # variable: label
ElementEnd = tuple[str, ...]
MAX_POSITIONS = 512
MAX_TRIALS = 5000
MAX_MAPPINGS = 24
_POLARISED = (Diode, Led, Source, Stabiliser)


class ContactTable:
    """What each terminal of a part is joined to, in each of some positions."""

    def __init__(self, part: Part, positions: Sequence[Position], names: Mapping[str, str]) -> None:
        """``names`` gives a variable the name under which the other part knows it."""
        self.part = part
        self._roots = [_roots(part, position) for position in positions]
        self._ends: list[tuple[str, ElementEnd]] = [
            (node, end) for element in part.inside for node, end in _element_ends(element, names)
        ]

    def joined(self, one: str, other: str) -> tuple[bool, ...]:
        """Whether two nodes are joined, in each position."""
        return tuple(roots[one] == roots[other] for roots in self._roots)

    def is_one_node(self, one: str, other: str) -> bool:
        """Whether two nodes are joined in every position."""
        return all(self.joined(one, other))

    def elements_at(self, node: str, known: Collection[ElementEnd]) -> tuple[frozenset[ElementEnd], ...]:
        """Which of some element ends are joined to a node, in each position."""
        return tuple(
            frozenset(end for at, end in self._ends if end in known and roots[at] == roots[node])
            for roots in self._roots
        )

    def element_ends(self) -> frozenset[ElementEnd]:
        """Every element end of the part."""
        return frozenset(end for _, end in self._ends)

    def are_alike(self, one: str, other: str) -> bool:
        """Whether two terminals can change places and the part behaves the same."""
        ends = self.element_ends()
        if self.elements_at(one, ends) != self.elements_at(other, ends):
            return False
        others = [mark for mark in self.part.terminals if mark not in (one, other)]
        return all(self.joined(one, mark) == self.joined(other, mark) for mark in others)


def table_of(part: Part) -> ContactTable:
    """The table of one part over all its own positions."""
    variables = {**part.variables, **_conditions((part,))}
    return ContactTable(part, list(islice(_combinations(variables), MAX_POSITIONS)), {})


def map_terminals(old: Part, new: Part, wired: Collection[str]) -> list[dict[str, str]]:
    """The ways in which the wired terminals of an old part can go onto a new one, judged by contacts alone.

    Two terminals that were joined in a position must be joined in the position of the same meaning, and the
    elements that both parts have must be reached in the same positions. Known roles must agree. Terminals
    that are one node count as one; a terminal that nothing joins, or that has no counterpart, is left out.
    At most ``MAX_MAPPINGS`` ways are given; none if the parts have too many positions to compare.
    """
    old_positions, new_positions, back = _pairs(old, new)
    if not old_positions:
        return []
    old_table = ContactTable(old, old_positions, {})
    new_table = ContactTable(new, new_positions, back)
    # Terminals joined in every position compared may part in a position that only the new part has.
    targets = _one_a_node(table_of(new))
    return list(_search(old_table, new_table, [mark for mark in old.terminals if mark in wired], targets))


def equal_outputs(old: Part, new: Part, joint: tuple[str, str], start: str) -> list[str]:
    """Terminals of a new part that it joins to ``start`` just when the old part made a joint.

    Positions of one meaning are compared; a joint that was never made has no equal.
    """
    old_positions, new_positions, back = _pairs(old, new)
    made = ContactTable(old, old_positions, {}).joined(*joint)
    table = ContactTable(new, new_positions, back)
    others = [m for m, t in new.terminals.items() if m != start and t.by == "wire"]
    return [mark for mark in others if any(made) and table.joined(start, mark) == made]


def _pairs(old: Part, new: Part) -> tuple[list[Position], list[Position], dict[str, str]]:
    """The positions of one meaning of both parts, and the old name of each variable of the new one."""
    names = _same_variables(old, new)
    shared = {name: _shared_labels(old, new, name, other) for name, other in names.items()}
    conditions = _conditions((old, new))
    if not 1 <= prod(len(values) for values in (*shared.values(), *conditions.values())) <= MAX_POSITIONS:
        return [], [], {}
    ours: list[Position] = []
    theirs: list[Position] = []
    for labels in _combinations(shared):
        for others in _combinations(conditions):
            ours.append({**{name: label for name, (label, _) in labels.items()}, **others})
            theirs.append({**{names[name]: label for name, (_, label) in labels.items()}, **others})
    return ours, theirs, {other: name for name, other in names.items()}


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


def _roots(part: Part, position: Position) -> dict[str, str]:
    roots = {name: name for name in (*part.terminals, *part.nodes)}
    for element in part.inside:
        if isinstance(element, Contact) and _is_closed(element, part, position):
            merged = {roots[name] for name in element.join}
            keep = roots[element.join[0]]
            roots = {name: keep if root in merged else root for name, root in roots.items()}
    return roots


def _is_closed(contact: Contact, part: Part, position: Position) -> bool:
    for name, values in contact.when.items():
        rest = part.variables[name][0] if name in part.variables else ""
        if position.get(name, rest) not in values:
            return False
    return True


def _element_ends(element: AnyElement, names: Mapping[str, str]) -> Iterator[tuple[str, ElementEnd]]:
    between = getattr(element, "between", None)
    if between is None:
        return
    kind = element.element
    name = getattr(element, "name", None)
    what = getattr(element, "does", None) or (names.get(name, name) if name else "")
    if isinstance(element, Sender):
        what = element.follows
    for side, node in zip(("first", "second"), between, strict=True):
        yield node, (kind, what or "", side) if isinstance(element, _POLARISED) else (kind, what or "")
        if isinstance(element, Led):  # it takes the place of a filament lamp that does the same
            yield node, ("lamp", what or "")


def _same_variables(old: Part, new: Part) -> dict[str, str]:
    """Each variable of the old part that the new one has too: by name, or as the only one of its kind."""
    found: dict[str, str] = {}
    for kind in (Control, Coil, Step, Cam, Flasher):
        ours = [e.name for e in old.inside if isinstance(e, kind)]
        theirs = [e.name for e in new.inside if isinstance(e, kind)]
        found |= {name: name for name in ours if name in theirs}
        if len(ours) == len(theirs) == 1:
            found[ours[0]] = theirs[0]
    return found


def _shared_labels(old: Part, new: Part, name: str, other: str) -> list[tuple[str, str]]:
    """Labels of one meaning in both parts: old label, new label."""
    if name in old.controls:
        theirs = {p.meaning: p.label for p in new.controls[other].positions}
        return [(p.label, theirs[p.meaning]) for p in old.controls[name].positions if p.meaning in theirs]
    return [(value, value) for value in old.variables[name] if value in new.variables[other]]


def _conditions(parts: Sequence[Part]) -> dict[str, tuple[str, ...]]:
    """Vehicle-wide names that contacts wait for, with the values named and one that nobody names."""
    found: dict[str, dict[str, None]] = {}
    for part in parts:
        for element in part.inside:
            when = element.when if isinstance(element, Contact) else {}
            for name, values in when.items():
                if name not in part.variables:
                    found.setdefault(name, {"": None}).update(dict.fromkeys(values))
    return {name: tuple(values) for name, values in found.items()}


def _combinations(variables: Mapping[str, Sequence[_Value]]) -> Iterator[dict[str, _Value]]:
    for values in product(*variables.values()):
        yield dict(zip(variables, values, strict=True))
