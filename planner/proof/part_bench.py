"""Two parts side by side, and a pairing of their terminals as names under which they can be compared."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import product

from planner.model.part import Part, Role, Terminal
from planner.proof.part_differences import ORIGINAL, OTHER, Difference, Naming, OverAll, differences
from planner.proof.part_facts import Node, PartFacts, Snapshot
from planner.proof.part_settings import PairedPosition, PairedSettings

EARTH_RANK = 100
_BOTH = "both"


@dataclass(frozen=True, slots=True)
class Pair:
    """A terminal of the original, the one of the other part that takes its place, and why."""

    original: str
    other: str
    why: str


@dataclass(frozen=True)
class Pairing:
    """All pairs, and terminals of the other part that belong to a paired one of its own.

    ``spare`` are one node with it inside; ``bridged`` share its purpose and are to be linked to it. ``apart``
    are terminals of the original whose ends a plan has put on no one terminal of the other part.
    """

    pairs: tuple[Pair, ...]
    spare: Mapping[str, str] = field(default_factory=dict)
    bridged: Mapping[str, str] = field(default_factory=dict)
    apart: frozenset[str] = frozenset()

    @property
    def taken(self) -> frozenset[str]:
        """Terminals of the other part that have a partner."""
        return frozenset(p.other for p in self.pairs)


class Bench:
    """Two parts side by side, with all that a pairing of their terminals is judged by."""

    def __init__(self, original: Part, other: Part, roles: Mapping[str, Role]) -> None:
        self.original, self.other, self.roles = original, other, roles
        self.settings = PairedSettings(original, other)
        self.facts = (
            PartFacts(original, ORIGINAL, {}),
            PartFacts(other, OTHER, self.settings.back),
        )

    @cached_property
    def compared(self) -> tuple[PairedPosition, ...]:
        """Positions that both parts have."""
        return tuple(
            p for p in self.settings.positions if p.original_has_it and p.other_has_it and not p.is_new
        )

    def naming(self, pairing: Pairing) -> Naming:
        """A pairing as names of nodes."""
        nodes: dict[Node, Node] = {}
        marks: dict[Node, str] = {}
        first: dict[str, str] = {}
        for pair in pairing.pairs:
            called = (_BOTH, first.setdefault(pair.other, pair.original))
            nodes[ORIGINAL, pair.original] = nodes[OTHER, pair.other] = called
            marks[called] = pair.other
        for mark, neighbour in (*pairing.spare.items(), *pairing.bridged.items()):
            nodes[OTHER, mark] = nodes[OTHER, neighbour]
        return Naming(
            nodes,
            marks,
            self._rank,
            self._is_fed,
            lambda node: self._rank(node) >= EARTH_RANK,
            self._over_all(nodes),
        )

    @cached_property
    def always_joined(self) -> tuple[frozenset[tuple[Node, Node]], frozenset[tuple[Node, Node]]]:
        """Terminals that each part joins in every setting, each pair both ways round."""
        ours, theirs = (frozenset.intersection(*self._joined(which)) for which in (0, 1))
        return ours, theirs

    def _joined(self, which: int) -> list[frozenset[tuple[Node, Node]]]:
        return [
            frozenset((a, b) for group in snapshot.groups for a in group for b in group if a != b)
            for snapshot in self._snapshots(which)
        ]

    def _snapshots(self, which: int) -> Iterator[Snapshot]:
        for position in self.settings.positions:
            for setting in (position.original, position.other)[which]:
                yield self.facts[which].at(setting)

    def compare(self, position: PairedPosition, naming: Naming) -> Iterator[list[Difference]]:
        """Yield what differs in a position, for every pair of settings in which the parts can be then."""
        for ours, theirs in product(position.original, position.other):
            yield differences(
                self.facts[0].at(ours).renamed(naming.nodes),
                self.facts[1].at(theirs).renamed(naming.nodes),
                naming,
            )

    def _over_all(self, nodes: Mapping[Node, Node]) -> OverAll:
        """What the other part does over all positions, by the names of a pairing."""

        def called(pairs: frozenset[tuple[Node, Node]]) -> frozenset[tuple[Node, Node]]:
            return frozenset((nodes.get(a, a), nodes.get(b, b)) for a, b in pairs)

        loads = [
            frozenset((fact.what, fact.ends) for fact in snapshot.renamed(nodes).loads)
            for snapshot in self._snapshots(1)
        ]
        return OverAll(
            called(self.always_joined[1]),
            called(self._ever_joined),
            frozenset.intersection(*loads),
            frozenset.union(*loads),
        )

    @cached_property
    def _ever_joined(self) -> frozenset[tuple[Node, Node]]:
        return frozenset.union(*self._joined(1))

    def rank_of(self, terminal: Terminal) -> int:
        """Where a terminal stands between the live pole and earth; in the middle if nobody knows."""
        role = self.roles.get(terminal.role) if terminal.role else None
        return role.rank if role else EARTH_RANK if terminal.by == "mounting" else EARTH_RANK // 2

    def wants_of(self, terminal: Terminal) -> str:
        """What a terminal cannot do without."""
        role = self.roles.get(terminal.role) if terminal.role else None
        return terminal.wants or (role.wants if role else "nothing")

    def _terminal(self, node: Node) -> Terminal | None:
        side, mark = node
        if side == "inner":
            return None
        return (self.other if side == OTHER else self.original).terminals[mark]

    def _rank(self, node: Node) -> int:
        terminal = self._terminal(node)
        return EARTH_RANK // 2 if terminal is None else self.rank_of(terminal)

    def _is_fed(self, node: Node) -> bool:
        terminal = self._terminal(node)
        return terminal is not None and node[0] == OTHER and self.wants_of(terminal) == "live"
