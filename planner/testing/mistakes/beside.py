"""Which wires of a loom lie together and may have chafed: those of one bundle, those that run one way."""

from collections.abc import Iterator, Mapping
from itertools import combinations, pairwise

from planner.model.loom import Loom, Wire, split_address

Pair = tuple[str, str]
NOWHERE = frozenset(("earth", "loose", "unknown"))


SAME_WAY = (
    5  # of wires from one zone to another about one in so many lies beside a given one: common practice
)


def lying_together(loom: Loom) -> Mapping[Pair, int]:
    """Pairs of wires, those that lie closest first, each with among how many such pairs one touches.

    Of one bundle, from one place to another, or from one zone to another; there only one pair is named for
    two conductors, for through joiners all of their pairs do the same.
    """
    close = [pair for wires in loom.bundles.values() for pair in combinations(wires, 2)]
    found = dict.fromkeys((*close, *_of(_runs(loom))), 1)
    conductor = _conductors(loom)
    met = {frozenset((conductor[one], conductor[other])) for one, other in found}
    for one, other in _of(_ways(loom)):
        both = frozenset((conductor[one], conductor[other]))
        if len(both) == 2 and both not in met:
            met.add(both)
            found[one, other] = SAME_WAY
    return {(one, other): ways for (one, other), ways in found.items() if one != other}


def _of(runs: Mapping[frozenset[str], list[str]]) -> Iterator[Pair]:
    for wires in runs.values():
        yield from combinations(wires, 2)


def _runs(loom: Loom) -> Mapping[frozenset[str], list[str]]:
    """The wires that run from one place to another, by the two."""
    found: dict[frozenset[str], list[str]] = {}
    for wire in loom.wires:
        for one, other in pairwise(end.at for end in wire.ends):
            places = frozenset((split_address(one)[0], split_address(other)[0]))
            if len(places) == 2 and not places & NOWHERE:
                found.setdefault(places, []).append(wire.wire)
    return found


def _ways(loom: Loom) -> Mapping[frozenset[str], list[str]]:
    """The wires that run from one zone to another, by the two; through a joiner, where the next ones go."""
    beyond: dict[str, set[str]] = {}
    for wire in loom.wires:
        zones = {zone for end in wire.ends if (zone := _zone(loom, end.at))}
        for end in wire.ends:
            if split_address(end.at)[0] == "joint":
                beyond.setdefault(end.at, set()).update(zones)
    found: dict[frozenset[str], list[str]] = {}
    for wire in loom.wires:
        for way in _zones_of(wire, loom, beyond):
            found.setdefault(way, []).append(wire.wire)
    return found


def _zones_of(wire: Wire, loom: Loom, beyond: Mapping[str, set[str]]) -> set[frozenset[str]]:
    """The pairs of zones between which the legs of a wire may run."""
    found = set()
    for one, other in pairwise(end.at for end in wire.ends):
        here, there = ({zone} if (zone := _zone(loom, at)) else beyond.get(at, set()) for at in (one, other))
        found |= {frozenset((a, b)) for a in here for b in there if a != b}
    return found


def _zone(loom: Loom, address: str) -> str:
    place = loom.places.get(split_address(address)[0])
    return place.zone if place else ""


def _conductors(loom: Loom) -> Mapping[str, str]:
    """By wire, the one that stands for all that joiners make one conductor of."""
    stands = {wire.wire: wire.wire for wire in loom.wires}

    def first(wire: str) -> str:
        while stands[wire] != wire:
            wire = stands[wire]
        return wire

    at: dict[str, str] = {}
    for wire in loom.wires:
        for end in wire.ends:
            if split_address(end.at)[0] == "joint":
                stands[first(wire.wire)] = first(at.setdefault(end.at, wire.wire))
    return {wire: first(wire) for wire in stands}
