"""Compiles a loom: its parts, its wires and its feeds make one network."""

from dataclasses import replace
from itertools import pairwise

from planner.circuit.fitted import full_guard
from planner.circuit.network import EARTH, Conductance, Network, Supply, Tie, Variable, node_of
from planner.circuit.part_network import PartCompiler, Pole
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom, Place, Wire


class Compiled:
    """Parts and wires as they were compiled for looms of one catalogue; most are in the next loom as well.

    They are known by the object that says what they are, and keep it alive.
    """

    def __init__(self) -> None:
        self._parts: dict[tuple[str, int], PartCompiler] = {}
        self._wires: dict[int, tuple[Wire, list[str], list[Tie]]] = {}

    def part(self, place: str, fitted: Place, catalogue: Catalogue) -> PartCompiler:
        """The part that is fitted at a place."""
        found = self._parts.get((place, id(fitted)))
        if found is None:
            found = PartCompiler(fitted, place, catalogue.parts[fitted.part]).compile()
            self._parts[place, id(fitted)] = found
        return found

    def wire(self, wire: Wire) -> tuple[Wire, list[str], list[Tie]]:
        """A wire, the nodes of its ends, and what it ties; a loose or unknown end is a node of its own."""
        found = self._wires.get(id(wire))
        if found is None:
            nodes = [
                f"end:{wire.wire}:{number}" if end.at in ("loose", "unknown") else node_of(end.at)
                for number, end in enumerate(wire.ends)
            ]
            ties = [Tie(first, second, (), ("wire", wire.wire)) for first, second in pairwise(nodes)]
            found = self._wires[id(wire)] = (wire, nodes, ties)
        return found


def compile_network(
    loom: Loom,
    catalogue: Catalogue,
    watched: frozenset[str] = frozenset(),
    compiled: Compiled | None = None,
) -> Network:
    """Compile a loom.

    Parameters
    ----------
    loom, catalogue
        A loom whose references are sound (``planner.reading.loom_references`` checks that).
    watched
        Addresses whose potential is to be reported besides the loads.
    compiled
        Parts and wires compiled before for looms of the same catalogue; those of this loom are added.

    Returns
    -------
    Network
        Loose and unknown ends become nodes of their own, ``end:WIRE:NUMBER``.
    """
    net = Network(volts=loom.supply.live_volts)
    net.nodes.add(EARTH)
    for name, positions in loom.conditions.items():
        net.variables[name] = Variable(
            name, "condition", tuple(p.label for p in positions), tuple(p.meaning for p in positions)
        )
    sources: list[Pole] = []
    known = compiled or Compiled()
    for place, fitted in loom.places.items():
        part = known.part(place, fitted, catalogue)
        net.take_in(part.net)
        sources += part.sources
    if loom.fuses:
        put_in = {f"fuse:{address}": amps for address, amps in loom.fuses.items()}
        net.passes = [
            replace(p, amps=put_in[p.label], marked="continuous") if p.label in put_in else p
            for p in net.passes
        ]
    _add_supplies(net, sources)
    if net.volts < 0:  # the current of a generator comes home the other way
        net.conductances = [_turned(each) if each.drop_v == 0.0 else each for each in net.conductances]
    for name, feed in loom.feeds.items():
        net.nodes.add(name)
        net.supplies.append(Supply(name, full_guard(feed.when), name))
        if feed.when:
            net.watched.add(name)
    for wire in loom.wires:
        _, nodes, ties = known.wire(wire)
        net.nodes.update(nodes)
        net.ties += ties
    net.watched |= {node_of(address) for address in watched}
    return net


def _turned(cut_out: Conductance) -> Conductance:
    """A cut-out with the positive pole earthed: it lets the generator's current home, whatever its sign."""
    return replace(cut_out, a=cut_out.b, b=cut_out.a)


def _add_supplies(net: Network, sources: list[Pole]) -> None:
    """The first source's return pole is the zero of the whole network."""
    for index, (live, back, guard, label) in enumerate(sources):
        if index == 0:
            net.zero = back
        elif back != net.zero:
            net.ties.append(Tie(back, EARTH, (), ("source", label)))
        net.supplies.append(Supply(live, guard, label))
