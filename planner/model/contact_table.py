"""Which terminals of a part are joined in which position, and which things inside each of them reaches."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import islice, product
from typing import TypeVar

from planner.model.elements import (
    AnyElement,
    Contact,
    Diode,
    Led,
    Sender,
    Source,
    Stabiliser,
)
from planner.model.part import Part

_Value = TypeVar("_Value")
Position = Mapping[str, str]  # variable: label
ElementEnd = tuple[str, ...]
MAX_POSITIONS = 512
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
    variables = {**part.variables, **conditions_of((part,))}
    return ContactTable(part, list(islice(_combinations(variables), MAX_POSITIONS)), {})


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


def conditions_of(parts: Sequence[Part]) -> dict[str, tuple[str, ...]]:
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
