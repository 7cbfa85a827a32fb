"""The readings that a person could take at what the work changed: where the two tips go, in which setup."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from planner.circuit.fitted import LoadKey
from planner.currents.grid import BODY, Grid
from planner.model.catalogue import Catalogue
from planner.model.loom import split_address
from planner.model.part import Part
from planner.testing.page.joiners import beyond_joiner
from planner.testing.page.setups import Setup
from planner.testing.wired import Wired


@dataclass(frozen=True)
class Probe:
    """One reading: ohms with everything dead (no setup), or volts in a setup; ``about`` a load or nothing."""

    at: str
    to: str
    quantity: Literal["ohms", "volts"]
    setup: Setup | None = None
    about: LoadKey | None = None
    why: str = ""

    @property
    def id(self) -> str:
        """What it is, by names that do not depend on the order of the tests."""
        stand = " ".join(f"{name}={value}" for name, value in self.setup.name) if self.setup else "dead"
        return f"{self.quantity} {self.at} {self.to} {stand or 'rest'}"


def changed_addresses(wired: Wired) -> tuple[str, ...]:
    """Where tips can be put at the ends that the work touched: terminals and joiners, in the loom's order."""
    return tuple(
        dict.fromkeys(
            end.at
            for wire in wired.loom.wires
            for number, end in enumerate(wire.ends)
            if (wire.wire, number) in wired.touched_ends and can_touch(wired, end.at)
        )
    )


def can_touch(wired: Wired, address: str) -> bool:
    """Whether a tip can be put on an address; a joiner that is crimped or glued shut takes none."""
    head, _ = split_address(address)
    return (head == "joint" and not wired.is_closed(address)) or head in wired.loom.places


def dead_probes(wired: Wired) -> Iterator[Probe]:
    """Yield ohms along every leg that has a touched end, and from every touched terminal to earth.

    Legs that meet in a closed joiner are read through it, from one far end to another.
    """
    pairs = dict.fromkeys(pair for touched in _touched_legs(wired) for pair in _readable(wired, touched))
    for ends in pairs:
        near, far = sorted(ends, key=lambda at: not can_touch(wired, at))
        if can_touch(wired, near) and (can_touch(wired, far) or split_address(far)[0] == BODY):
            yield Probe(near, BODY if split_address(far)[0] == BODY else far, "ohms")
    for address in changed_addresses(wired):
        yield Probe(address, BODY, "ohms")


def _touched_legs(wired: Wired) -> Iterator[tuple[str, str]]:
    """Yield the two ends of each leg that has a touched one."""
    for wire in wired.loom.wires:
        for number in range(len(wire.ends) - 1):
            if {(wire.wire, number), (wire.wire, number + 1)} & wired.touched_ends:
                yield wire.ends[number].at, wire.ends[number + 1].at


def _readable(wired: Wired, leg: tuple[str, str]) -> Iterator[tuple[str, str]]:
    """Yield a leg as it can be read: as it is, or through the closed joiners that it ends in."""
    closed = [end for end in leg if wired.is_closed(end)]
    if not closed:
        yield leg
        return
    yield from combinations(beyond_joiner(wired, closed[0]), 2)


def live_probes(wired: Wired, setup: Setup) -> Iterator[Probe]:
    """Yield volts to earth at every touched terminal, and where the wires on them lead."""
    ends = [end.at for wire in wired.loom.wires if wire.wire in wired.touched_wires for end in wire.ends]
    far = (address for address in ends if can_touch(wired, address))
    for address in dict.fromkeys((*changed_addresses(wired), *far)):
        yield Probe(address, BODY, "volts", setup)


def across(
    wired: Wired, grid: Grid, catalogue: Catalogue, key: LoadKey, setup: Setup, why: str
) -> Probe | None:
    """Volts across a load, if both its ends can be touched: terminals, or joined to one by its own switch."""
    if key not in grid.loads or key[0] not in wired.loom.places:
        return None
    branch = grid.branches[grid.loads[key]].branch
    part = catalogue.parts[wired.loom.places[key[0]].part]
    at, to = (_terminal(grid, part, key[0], node, setup) for node in (branch.a, branch.b))
    return Probe(at, to, "volts", setup, key, why) if at and to else None


def _terminal(grid: Grid, part: Part, place: str, node: str, setup: Setup) -> str:
    """The terminal of a part that a point of it is, or is joined to by a closed contact of its own."""
    marks = {f"{place}:{mark}" for mark in part.terminals}
    if node in marks:
        return node
    for index in grid.closed(setup.position):
        branch = grid.bare[index]
        if branch.name[:2] == ("contact", place) and node in (branch.a, branch.b):
            other = branch.b if node == branch.a else branch.a
            if other in marks:
                return other
    return ""
