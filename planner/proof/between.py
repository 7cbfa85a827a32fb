"""Between two detents: contacts that make before the neighbour breaks are checked for a short.

Detents are proven, the way between them is not. Where a part says that its contacts overlap, both
neighbours' contacts are closed at once for a moment; only joints matter for that, so loads are left out.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from planner.circuit.compile import compile_network
from planner.circuit.factor import Factored
from planner.circuit.fitted import FittedPart, Guard
from planner.circuit.network import Tie
from planner.circuit.states import is_present
from planner.circuit.store import Store
from planner.circuit.tree import Projector
from planner.model.catalogue import Catalogue
from planner.model.elements import Contact
from planner.model.loom import Loom


@dataclass(frozen=True, slots=True)
class Overlap:
    """Two neighbouring detents between which a short is possible; ``label`` names what protects it."""

    control: str
    first: str
    second: str
    label: str


def shorts_between_detents(loom: Loom, catalogue: Catalogue, places: frozenset[str]) -> Iterator[Overlap]:
    """Yield each pair of neighbouring detents of the parts at some places that overlap into a short.

    A short that either detent has by itself is found by the proof and not told again here.
    """
    for place in sorted(places & set(loom.places)):
        part = catalogue.parts[loom.places[place].part]
        overlapping = {
            str(index)
            for index, element in enumerate(part.inside)
            if isinstance(element, Contact) and element.overlaps
        }
        if not overlapping:
            continue
        for control in part.controls:
            name = FittedPart(place, part, loom.places[place].called).variable(control)
            net = compile_network(loom, catalogue)
            for first, second in pairwise(net.variables[name].values):
                yield from _shorts(loom, catalogue, (place, overlapping), name, first, second)


def _shorts(
    loom: Loom, catalogue: Catalogue, where: tuple[str, set[str]], name: str, first: str, second: str
) -> Iterator[Overlap]:
    net = compile_network(loom, catalogue)
    net.conductances.clear()
    variable = net.variables[name]
    between = f"{first} / {second}"
    net.variables[name] = replace(
        variable, values=(*variable.values, between), meanings=(*variable.meanings, between)
    )
    net.ties = [_between(tie, where, name, (first, second), between) for tie in net.ties]
    store, projector = Store(net.volts), Projector()
    factored = Factored(net, store)
    number = factored.variables[name]
    values = net.variables[name].values
    for key in sorted(factored.tree.keys):
        if store.key_names[key][0] != "short":
            continue
        short = projector.project(factored.tree, key, is_present)
        here = projector.restrict(short, number, values.index(between))
        alone = [projector.restrict(short, number, values.index(label)) for label in (first, second)]
        if True in set(here.values()) and not any(True in set(one.values()) for one in alone):
            yield Overlap(name, first, second, str(store.key_names[key][1]))


def _between(
    tie: Tie, where: tuple[str, set[str]], name: str, neighbours: tuple[str, str], between: str
) -> Tie:
    """A contact as it is between two detents: an overlapping one still holds from either side."""
    place, overlapping = where
    overlaps = tie.what[:2] == ("contact", place) and tie.what[2] in overlapping

    def widen(guard: Guard) -> Guard:
        out = []
        for variable, values in guard:
            held = [label in values for label in neighbours]
            if variable == name and (any(held) if overlaps else all(held)):
                out.append((variable, values | {between}))
            else:
                out.append((variable, values))
        return tuple(out)

    return replace(tie, guard=widen(tie.guard))
