"""What one part does in one setting: which terminals it joins, and which loads sit between which.

An inner node has no name that another part could share, so it is known by what else hangs on it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

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
    Stabiliser,
    Step,
    Winding,
)
from planner.model.part import Part
from planner.model.reach import joined_inside

Node = tuple[str, str]  # whose terminal it is (or "inner"), and its mark
End = frozenset[Node]
_BETWEEN_TWO = (Lamp, Winding, Resistor, Coil, Flasher, Diode, Led, Fuse, Source, Sender, Stabiliser, Gauge)
SUPPLY = "supply of "
TURNED_BY = "turned by: "
_POLARISED = (Diode, Led, Source, Stabiliser)


@dataclass(frozen=True, slots=True)
class LoadFact:
    """An element that sits between two conductors of its part; ``homes`` are the terminals it is fixed to."""

    what: str
    value: str  # what tells it from another of the same name, such as the ohms of a plain resistor
    ends: tuple[End, End]
    homes: tuple[Node | None, Node | None]
    is_polarised: bool
    element: int  # where it stands in the part


@dataclass(frozen=True, slots=True)
class Snapshot:
    """A part in one setting: its terminals by conductor, and what sits between them."""

    groups: tuple[End, ...]
    loads: tuple[LoadFact, ...]

    def renamed(self, names: Mapping[Node, Node]) -> "Snapshot":
        """The same with its terminals under other names; terminals under one name are one conductor."""
        whole: dict[Node, End] = {}
        for group in self.groups:
            called = frozenset(names.get(node, node) for node in group)
            merged = called.union(*(whole[node] for node in called if node in whole))
            whole |= dict.fromkeys(merged, merged)

        def rename(end: End) -> End:
            return frozenset[Node]().union(*(whole.get(names.get(n, n), {n}) for n in end))

        def home(node: Node | None) -> Node | None:
            return node and names.get(node, node)

        loads = tuple(
            replace(
                fact,
                ends=(rename(fact.ends[0]), rename(fact.ends[1])),
                homes=(home(fact.homes[0]), home(fact.homes[1])),
            )
            for fact in self.loads
        )
        return Snapshot(tuple(dict.fromkeys(whole.values())), loads)


class PartFacts:
    """What a part does, setting by setting.

    ``side`` marks its terminals; ``names`` gives a variable the name under which the other part knows it.
    """

    def __init__(self, part: Part, side: str, names: Mapping[str, str]) -> None:
        self.part, self.side, self.names = part, side, names
        self._known: dict[tuple[tuple[str, str], ...], Snapshot] = {}

    def at(self, setting: Mapping[str, str]) -> Snapshot:
        """The part in one setting of all its variables and of the conditions it waits for."""
        key = tuple(sorted(setting.items()))
        if key not in self._known:
            self._known[key] = self._look(setting)
        return self._known[key]

    @cached_property
    def laws(self) -> frozenset[tuple[str, str]]:
        """What moves by itself and by what, whatever the setting: what it is about, and the law."""
        found: set[tuple[str, str]] = set()
        for element in self.part.inside:
            if isinstance(element, Cam):
                about = self._called(element.name)
                found |= {(about, f"{TURNED_BY}{load}") for load in element.turned_by}
                found.add((about, f"runs through: {', '.join(element.states)}"))
            elif isinstance(element, Step):
                found.add((self._called(element.name), f"stepped by {self._called(element.stepped_by)}"))
                found.add((self._called(element.name), f"runs through: {', '.join(element.states)}"))
            elif isinstance(element, Control) and element.returns:
                meaning = next(p.meaning for p in element.positions if p.label == element.returns)
                found.add((self._called(element.name), f"springs back to {meaning}"))
            elif isinstance(element, Contact) and element.overlaps:
                about = " and ".join(self._called(name) for name in element.when) or "a contact"
                found.add((about, "makes before it breaks"))
        return frozenset(found)

    @cached_property
    def loads(self) -> frozenset[str]:
        """The names of all loads."""
        return frozenset(does for e in self.part.inside if (does := getattr(e, "does", None)))

    def _called(self, name: str) -> str:
        return self.names.get(name, name)

    def _look(self, setting: Mapping[str, str]) -> Snapshot:
        part = self.part
        roots: dict[str, str] = {}
        for name in (*part.terminals, *part.nodes):
            if name not in roots:
                roots |= dict.fromkeys(joined_inside(part, name, setting), name)
        live = self._in_circuit(roots, setting)
        terminals: dict[str, set[Node]] = {}
        hung: dict[str, set[Node]] = {}
        for mark in part.terminals:
            terminals.setdefault(roots[mark], set()).add((self.side, mark))
        for index, (one, other) in live.items():
            for root in (one, other):
                hung.setdefault(root, set()).add(("inner", self._what(part.inside[index])))
        loads = [
            LoadFact(
                self._what(part.inside[index]),
                _value(part.inside[index], setting),
                self._ends(index, (one, other), terminals, hung),
                self._homes(part.inside[index]),
                isinstance(part.inside[index], _POLARISED),
                index,
            )
            for index, (one, other) in live.items()
        ]
        loads += [
            LoadFact(
                f"{SUPPLY}{self._called(element.name)}",
                "",
                _ends_of(terminals, roots, element.supply),
                self._homes(element, "supply"),
                True,
                index,
            )
            for index, element in enumerate(part.inside)
            if isinstance(element, Flasher) and element.supply
        ]
        return Snapshot(tuple(frozenset(group) for group in terminals.values()), tuple(loads))

    def _homes(self, element: AnyElement, key: str = "between") -> tuple[Node | None, Node | None]:
        one, other = (
            (self.side, name) if name in self.part.terminals else None for name in getattr(element, key)
        )
        return one, other

    def _ends(
        self,
        index: int,
        roots: tuple[str, str],
        terminals: Mapping[str, set[Node]],
        hung: Mapping[str, set[Node]],
    ) -> tuple[End, End]:
        """What is at the two ends of an element: terminals or, at an inner node, the other elements there."""
        itself = ("inner", self._what(self.part.inside[index]))
        one, other = (frozenset(terminals.get(root) or hung[root] - {itself}) for root in roots)
        return one, other

    def _in_circuit(self, roots: Mapping[str, str], setting: Mapping[str, str]) -> dict[int, tuple[str, str]]:
        """Elements through which current can pass: neither bridged nor with an end that hangs free."""
        found: dict[int, tuple[str, str]] = {}
        for index, element in enumerate(self.part.inside):
            if isinstance(element, _BETWEEN_TWO):
                one, other = (roots[name] for name in element.between)
                if one != other and _is_there(element, setting):
                    found[index] = (one, other)
        outside = {roots[mark] for mark in self.part.terminals}
        while True:
            ends = [root for pair in found.values() for root in pair]
            loose = [
                index
                for index, pair in found.items()
                if any(root not in outside and ends.count(root) == 1 for root in pair)
            ]
            if not loose:
                return found
            for index in loose:
                del found[index]

    def _what(self, element: AnyElement) -> str:
        does: str | None = getattr(element, "does", None)
        if does:
            return does
        if isinstance(element, Coil):
            return f"coil of {self._called(element.name)}"
        if isinstance(element, Flasher):
            return f"flasher {self._called(element.name)}"
        if isinstance(element, Sender):
            return f"sender of {element.follows}"
        return element.element


def _ends_of(
    terminals: Mapping[str, set[Node]], roots: Mapping[str, str], names: tuple[str, str]
) -> tuple[End, End]:
    """The terminals on the conductors of two nodes."""
    one, other = (frozenset(terminals.get(roots[name], ())) for name in names)
    return one, other


def is_named(what: str) -> bool:
    """Whether a load is known by its name alone, so that another place for it is a change and not a loss."""
    return what not in ("fuse", "diode", "resistor", "source")


def _is_there(element: AnyElement, setting: Mapping[str, str]) -> bool:
    if isinstance(element, Sender):
        return setting.get(element.follows) in element.ohms
    when: Mapping[str, tuple[str, ...]] = getattr(element, "when", {})
    return all(setting.get(name) in labels for name, labels in when.items())


def _value(element: AnyElement, setting: Mapping[str, str]) -> str:
    if isinstance(element, Sender):
        return f"{element.ohms[setting[element.follows]]:g} ohms"
    if isinstance(element, Resistor) and not element.does:
        return f"{element.ohms:g} ohms"
    return ""
