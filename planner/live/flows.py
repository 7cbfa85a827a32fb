"""Which legs of the wires carry current, in every position, where the joints alone decide it.

A leg is taken out, and with it the node at its far end: what contacts and wires still join to its near end
is the *near side*. If no pole is on it, all that its loads take or give has to pass the leg (or what runs
beside it straight to the far end): loads that all give, or all take, make it carry, whatever the resistances.
Where some give and some take, their sum decides, if nothing runs beside it. If a pole is on both sides, the
joints do not decide it.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from planner.circuit.factor import Factored
from planner.circuit.network import Conductance, Network, Supply, Tie
from planner.circuit.states import is_present
from planner.circuit.tree import Function
from planner.live import passing
from planner.proof.behaviour import View

MOST_ADDED = 12  # loads whose currents are added in every position; of more it is not told
SHUNT_OHMS = 0.05  # below it a load counts as a joint; common practice, no source
_NOWHERE = "no pole at all"
_Join = Callable[[object, object], object]


class _Reach(NamedTuple):
    """A node that can be joined to the near end, and in which positions it is."""

    node: str
    joined: Function


class _Side(NamedTuple):
    """All that can be joined to one end of a leg without the leg and the node at its other end."""

    near: str
    nodes: frozenset[str]
    joints: tuple[Tie, ...]
    has_beside: bool  # another joint leads from here straight to the other end
    has_pole: bool


class Flows:
    """The joints and the loads of one loom, and the current of any leg."""

    def __init__(self, view: View) -> None:
        self.view, self.net, self.projector = view, view.net, view.projector
        self._combined: dict[tuple[int, int, _Join], Function] = {}
        shunts = [load for load in self.net.conductances if _is_shunt(load)]
        self.loads = [load for load in self.net.conductances if not _is_shunt(load)]
        self.ties = [
            *self.net.ties,
            *(Tie(p.a, p.b, p.guard, ("fuse", p.label)) for p in self.net.passes),
            *(Tie(s.a, s.b, s.guard, ("shunt", *s.key)) for s in shunts),
        ]
        self._beside: dict[str, list[int]] = {}
        for index, tie in enumerate(self.ties):
            for node in {tie.a, tie.b}:
                self._beside.setdefault(node, []).append(index)
        self._loaded = {node for load in self.loads for node in (load.a, load.b)}
        self._poles: dict[str, Function] = {self.net.zero: self.projector.constant(True)}
        for supply in self.net.supplies:
            self._poles[supply.node] = self._either(
                self._poles.get(supply.node, self.projector.constant(False)), self._guard(supply)
            )

    def legs(self) -> Iterator[tuple[str, int, Function]]:
        """Yield each leg, by wire and number, with what it carries as a function of all variables."""
        seen: dict[str, int] = {}
        for index, tie in enumerate(self.ties):
            if tie.what[0] == "wire":
                wire = tie.what[1]
                leg = seen[wire] = seen.get(wire, -1) + 1
                yield wire, leg, self._carried(index)

    def _carried(self, index: int) -> Function:
        tie = self.ties[index]
        if tie.a == tie.b:
            return self.projector.constant(passing.NOT_TOLD)
        sides = sorted(self._sides(index, tie), key=lambda side: (side.has_pole, len(side.nodes)))
        first = self._decided(sides[0])
        if passing.UNDECIDED not in first.values():
            return self.projector.apply(first, passing.word)
        second = self._decided(sides[1])
        return self.projector.apply(self._combine(first, second, passing.first_decided), passing.word)

    def _sides(self, index: int, tie: Tie) -> Iterator[_Side]:
        """Yield both sides of a leg, with every contact closed."""
        for near, far in ((tie.a, tie.b), (tie.b, tie.a)):
            nodes, edges = {near}, set[int]()
            ahead, has_beside = [near], False
            while ahead:
                for edge in self._beside.get(ahead.pop(), ()):
                    other = self.ties[edge]
                    if edge == index or edge in edges:
                        continue
                    if far in (other.a, other.b):
                        has_beside = True
                        continue
                    edges.add(edge)
                    ahead += [node for node in (other.a, other.b) if node not in nodes]
                    nodes |= {other.a, other.b}
            joints = tuple(self.ties[edge] for edge in sorted(edges))
            yield _Side(near, frozenset(nodes), joints, has_beside, not nodes.isdisjoint(self._poles))

    def _decided(self, side: _Side) -> Function:
        """What passes the leg, if anything, as bits; undecided where a pole is on this side."""
        constant, combine = self.projector.constant, self._combine
        reached = list(self._joined(side))
        pole, does = constant(False), constant(0)
        for node, joined in reached:
            if node in self._poles:
                pole = self._either(pole, combine(joined, self._poles[node], passing.both))
        if pole.value is True:
            return constant(passing.UNDECIDED)
        terms = list(self._terms(reached))
        for term in terms:
            does = combine(does, self.projector.apply(term, passing.direction), passing.bits)
        if passing.MIXED in does.values():
            total = constant(passing.UNDECIDED) if side.has_beside else self._sum(does, terms)
            does = combine(does, total, passing.settled)
        return combine(pole, does, passing.unless)

    def _terms(self, reached: Sequence[_Reach]) -> Iterator[Function]:
        """Yield what each load gives to the near side, in A, negative where it takes."""
        at = dict(reached)
        for load in self.loads:
            ends = [
                (at[node], turn)
                for node, turn in ((load.a, passing.takes), (load.b, passing.gives))
                if node in at
            ]
            if not ends:
                continue
            net = self.projector.constant(0.0)
            for joined, turn in ends:
                net = self._combine(net, self.projector.apply(joined, turn), passing.add)
            if net.support or net.value:
                amps = self.view.states.function(passing.as_it_is, "load", *load.key)
                yield self._combine(net, amps, passing.times)

    def _sum(self, does: Function, terms: Sequence[Function]) -> Function:
        """What all give together, only where some give and some take: elsewhere 0."""
        if len(terms) > MOST_ADDED:
            return self.projector.constant(passing.UNDECIDED)
        total = self.projector.constant(0.0)
        for term in terms:
            mixed = self._combine(does, term, passing.where_mixed)
            total = self._combine(total, mixed, passing.add)
        return self.projector.apply(total, passing.direction)

    def _joined(self, side: _Side) -> Iterator[_Reach]:
        """Yield in which positions each node is joined to the near end, as if that were the only pole."""
        wanted = sorted(node for node in side.nodes if node in self._loaded or node in self._poles)
        if not any(tie.guard for tie in side.joints):
            yield from (_Reach(node, self.projector.constant(True)) for node in wanted)
            return
        net = Network(self.net.volts, zero=_NOWHERE)
        names = {name for tie in side.joints for name, _ in tie.guard}
        net.variables = {name: self.net.variables[name] for name in sorted(names)}
        net.ties, net.watched = list(side.joints), set(wanted)
        net.supplies = [Supply(side.near, (), "near end")]
        tree = Factored(net, self.view.store).tree
        for node in wanted:
            key = self.view.store.key("live", node)
            yield _Reach(node, self.projector.project(tree, key, is_present))

    def _guard(self, supply: Supply) -> Function:
        """In which positions a supply holds its node."""
        holds = self.projector.constant(True)
        for name, allowed in supply.guard:
            values = self.net.variables[name].values
            here = tuple(self.projector.constant(value in allowed) for value in values)
            own = self.projector.branch(self.view.variable_number[name], here)
            holds = self._combine(holds, own, passing.both)
        return holds

    def _combine(self, first: Function, second: Function, join: "_Join") -> Function:
        """Two functions combined; many legs ask for the same."""
        key = (id(first), id(second), join)
        if key not in self._combined:
            self._combined[key] = self.projector.combine(first, second, join)
        return self._combined[key]

    def _either(self, first: Function, second: Function) -> Function:
        return self._combine(first, second, passing.either)


def _is_shunt(load: Conductance) -> bool:
    """Whether two sources may meet across it: an ammeter, a cut-out."""
    return load.ohms < SHUNT_OHMS and not load.drop_v
