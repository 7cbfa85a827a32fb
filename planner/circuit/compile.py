"""Compiles a loom: its parts, its wires and its feeds make one network."""

from dataclasses import replace
from itertools import pairwise

from planner.circuit.fitted import full_guard
from planner.circuit.network import EARTH, Conductance, Network, Supply, Tie, Variable, node_of
from planner.circuit.part_network import PartCompiler, Pole
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom

# By place, id of the part, whether it is earthed, what its variables are called and their positions mean.
CompiledParts = dict[tuple[object, ...], PartCompiler]


def compile_network(
    loom: Loom,
    catalogue: Catalogue,
    watched: frozenset[str] = frozenset(),
    compiled: CompiledParts | None = None,
) -> Network:
    """Compile a loom.

    Parameters
    ----------
    loom, catalogue
        A loom whose references are sound (``planner.reading.loom_references`` checks that).
    watched
        Addresses whose potential is to be reported besides the loads.
    compiled
        Parts compiled before for looms of the same catalogue; those of this loom are added.

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
    known = {} if compiled is None else compiled
    for place, fitted in loom.places.items():
        earthed = fitted.mounting != "insulated"
        key = (place, fitted.part, earthed, *map(tuple, (fitted.called.items(), fitted.meanings.items())))
        if key not in known:
            part = catalogue.parts[fitted.part]
            known[key] = PartCompiler(fitted, place, part, earthed=earthed).compile()
        net.take_in(known[key].net)
        sources += known[key].sources
    if loom.fuses:
        put_in = {f"fuse:{address}": amps for address, amps in loom.fuses.items()}
        net.passes = [replace(p, amps=put_in[p.label]) if p.label in put_in else p for p in net.passes]
    _add_supplies(net, sources)
    if net.volts < 0:  # the current of a generator comes home the other way
        net.conductances = [_turned(each) if each.drop_v == 0.0 else each for each in net.conductances]
    for name, feed in loom.feeds.items():
        net.nodes.add(name)
        net.supplies.append(Supply(name, full_guard(feed.when), name))
        if feed.when:
            net.watched.add(name)
    for wire in loom.wires:
        nodes = [
            f"end:{wire.wire}:{number}" if end.at in ("loose", "unknown") else node_of(end.at)
            for number, end in enumerate(wire.ends)
        ]
        net.nodes.update(nodes)
        for first, second in pairwise(nodes):
            net.ties.append(Tie(first, second, (), ("wire", wire.wire)))
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
