"""One of the two looms of a page: its view, and what can be looked at in it."""

from collections.abc import Iterator
from typing import Any

from planner.circuit.network import EARTH, node_of
from planner.circuit.states import is_present
from planner.circuit.store import Store
from planner.circuit.tree import Function, Projector
from planner.live.parts import Parts
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.proof.behaviour import View

LIVE, EARTHED, THROUGH, NEITHER = "live", "earth", "live through a load", "neither"


class Side:
    """One loom with its view, its terminals and its legs."""

    def __init__(self, loom: Loom, catalogue: Catalogue, store: Store, projector: Projector) -> None:
        self.loom = loom
        self.addresses = _addresses(loom, catalogue)
        self.legs = dict(_legs(loom))
        # What is watched does not fall apart, so where that is needed only loads are looked at.
        nodes = () if store.by_class else (*map(node_of, self.addresses), *self.legs.values())
        self.view = View(loom, catalogue, store, projector, frozenset(nodes))
        self.parts = Parts(self.view.states)

    def potential(self, node: str) -> Function:
        """What a node is joined to, as a function of all variables."""
        projector = self.view.projector
        parts = [self.view.states.function(is_present, k, node) for k in ("live", "zero", "volt")]
        codes = projector.combine(parts[0], projector.combine(parts[1], parts[2], _pair), _pair)
        return projector.apply(codes, _potential_word)


def _addresses(loom: Loom, catalogue: Catalogue) -> list[str]:
    """Every terminal, feed and joint of a loom; the body is always earth."""
    found = dict.fromkeys(loom.feeds)
    for place, fitted in loom.places.items():
        found |= dict.fromkeys(f"{place}:{mark}" for mark in catalogue.parts[fitted.part].terminals)
    found |= dict.fromkeys(
        end.at for wire in loom.wires for end in wire.ends if end.at not in ("loose", "unknown")
    )
    return [address for address in found if node_of(address) != EARTH]


def _legs(loom: Loom) -> Iterator[tuple[str, str]]:
    """Yield each leg, ``wire/leg``, with the node that it begins at."""
    for wire in loom.wires:
        for number, end in enumerate(wire.ends[:-1]):
            is_open = end.at in ("loose", "unknown")
            yield f"{wire.wire}/{number}", f"end:{wire.wire}:{number}" if is_open else node_of(end.at)


def _pair(first: object, second: object) -> object:
    return (first, second)


def _potential_word(code: Any) -> object:
    live, (zero, volts) = code
    return LIVE if live else EARTHED if zero else THROUGH if volts else NEITHER
