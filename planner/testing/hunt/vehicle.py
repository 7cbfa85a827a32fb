"""One vehicle with everything that can be wrong with it: worlds, each a network of its own."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.circuit.compile import compile_network
from planner.circuit.network import Network
from planner.currents.curves import Array
from planner.currents.grid import Grid, compile_grid
from planner.model.catalogue import Catalogue
from planner.model.delta import EndRef
from planner.testing.hunt.networks import Networks
from planner.testing.mistakes.applied import Edit, Editor
from planner.testing.mistakes.every import every_mistake
from planner.testing.mistakes.mistake import Change, Mistake
from planner.testing.wired import Wired

NOTHING = 0  # the world in which all is as it should be
NOTHING_WEIGHT = 1.0  # who hunts has seen something, so this only stands for a reading that misled


@dataclass(frozen=True, slots=True)
class World:
    """One way the vehicle may be: the mistakes in it, the change each makes, and its weight beforehand."""

    mistakes: tuple[int, ...]
    changes: tuple[Change, ...]
    edit: Edit
    weight: float


class Vehicle:
    """A vehicle as it should be, its mistakes, and the worlds that they make.

    World 0 is the sound vehicle; then come the single mistakes, one world for each of their changes. Worlds
    with two mistakes are added while a hunt goes on.
    """

    def __init__(self, wired: Wired, catalogue: Catalogue) -> None:
        self.wired, self.catalogue = wired, catalogue
        self.grid: Grid = compile_grid(wired.loom, catalogue, catalogue.standards)
        self.net: Network = compile_network(wired.loom, catalogue)
        self.mistakes: Sequence[Mistake] = every_mistake(wired, self.grid, catalogue)
        self.editor = Editor(wired.loom, self.grid, catalogue, catalogue.standards)
        self.total = sum(mistake.weight for mistake in self.mistakes)
        self.worlds: list[World] = [World((), (), Edit(frozenset(), ()), NOTHING_WEIGHT)]
        for number, mistake in enumerate(self.mistakes):
            for change in mistake.changes:
                share = mistake.weight / len(mistake.changes)
                self.worlds.append(World((number,), (change,), self._edit(change), share))
        self.singles = len(self.worlds)
        self._weights = np.zeros(0)
        self._answers, self._numbers = np.zeros(0, dtype=int), dict[tuple[int, ...], int]()
        self._sized = np.zeros(0, dtype=bool)
        self._elsewhere: dict[EndRef, list[tuple[int, str]]] = {}
        self._placed = 0  # worlds whose ends stand in it
        self._pairs: dict[tuple[int, int], int | None] = {}
        self._made_of: dict[int, tuple[int, int]] = {}  # by a world of two, its single worlds

    @cached_property
    def nodes(self) -> dict[str, int]:
        """A number for every node that any world has."""
        found: dict[str, int] = {}
        edits = (gated for world in self.worlds for gated in world.edit.added)
        for gated in (*self.grid.branches, *edits):
            for node in (gated.branch.a, gated.branch.b):
                found.setdefault(node, len(found))
        return found

    @cached_property
    def networks(self) -> Networks:
        """The sound network in the states that were asked for."""
        return Networks(self.nodes, self.grid)

    @property
    def weights(self) -> Array:
        """The weight of each world beforehand."""
        more = [world.weight for world in self.worlds[len(self._weights) :]]
        self._weights = np.concatenate((self._weights, more)) if more else self._weights
        return self._weights

    @property
    def answers(self) -> NDArray[np.intp]:
        """A number for each world; worlds of the same mistakes have the same."""
        more = [
            self._numbers.setdefault(w.mistakes, len(self._numbers))
            for w in self.worlds[len(self._answers) :]
        ]
        self._answers = np.concatenate((self._answers, np.array(more, dtype=int))) if more else self._answers
        return self._answers

    @property
    def is_sized(self) -> NDArray[np.bool_]:
        """Which worlds have a mistake of some size that nobody knows: a joint of so many ohms."""
        more = [any(c.words for c in world.changes) for world in self.worlds[len(self._sized) :]]
        self._sized = np.concatenate((self._sized, more)) if more else self._sized
        return self._sized

    def _edit(self, change: Change) -> Edit:
        """A change as branches, without those that end in the air: no current flows there."""
        edit = self.editor.edit(change)
        ends = [node for gated in edit.added for node in (gated.branch.a, gated.branch.b)]
        airy = {node for node in ends if node.startswith("end:") and ends.count(node) == 1}
        airy -= self.grid_nodes
        added = tuple(g for g in edit.added if not {g.branch.a, g.branch.b} & airy)
        return Edit(edit.gone, added)

    @cached_property
    def grid_nodes(self) -> frozenset[str]:
        """The nodes of the sound vehicle."""
        return frozenset(n for g in self.grid.branches for n in (g.branch.a, g.branch.b))

    def pair(self, one: int, other: int) -> int | None:
        """The world in which two single worlds are true at once; None if they cannot be."""
        key = (min(one, other), max(one, other))
        if key not in self._pairs:
            world = self._pairs[key] = self._made(*(self.worlds[n] for n in key))
            if world is not None:
                self._made_of[world] = key
        return self._pairs[key]

    def made_of(self, world: int) -> tuple[int, ...]:
        """The single worlds that are true at once in a world."""
        return self._made_of.get(world, (world,))

    def _made(self, one: World, other: World) -> int | None:
        changes = (*one.changes, *other.changes)
        if not one.changes or not other.changes or _touched(one.changes) & _touched(other.changes):
            return None
        both = Change(
            ends=tuple(end for change in changes for end in change.ends),
            gone=tuple(name for change in changes for name in change.gone),
            added=tuple(gated for change in changes for gated in change.added),
            fits=tuple(fit for change in changes for fit in change.fits),
        )
        edit = self._edit(both)
        if any(node not in self.nodes for gated in edit.added for node in (gated.branch.a, gated.branch.b)):
            return None
        weight = one.weight * other.weight / self.total
        self.worlds.append(World((*one.mistakes, *other.mistakes), changes, edit, weight))
        return len(self.worlds) - 1

    def elsewhere(self, wire: str, end: int) -> list[tuple[int, str]]:
        """The worlds in which an end of a wire is elsewhere, each with the address, or "loose"."""
        for world in range(self._placed, len(self.worlds)):
            for change in self.worlds[world].changes:
                for moved in change.ends:
                    self._elsewhere.setdefault((moved.wire, moved.end), []).append((world, moved.at))
                for name in change.gone:
                    if name[0] == "wire" and len(name) == 2:  # a wire that was not made at all
                        for number in range(len(self.wired.loom.find(name[1]).ends)):
                            self._elsewhere.setdefault((name[1], number), []).append((world, "loose"))
        self._placed = len(self.worlds)
        return self._elsewhere.get((wire, end), [])

    def words(self, world: int) -> str:
        """What is wrong in a world, as people say it."""
        own = self.worlds[world]
        said = [
            self.mistakes[number].words + (f" ({change.words})" if change.words else "")
            for number, change in zip(own.mistakes, own.changes, strict=True)
        ]
        return "; and ".join(said) or "nothing is wrong"

    def mistake_words(self, mistakes: tuple[int, ...]) -> str:
        """What some mistakes are, as people say it, whatever their size."""
        return "; and ".join(self.mistakes[number].words for number in mistakes) or "nothing is wrong"


def _touched(changes: Sequence[Change]) -> set[str]:
    """What changes have to do with: two that share one of these are not made at once."""
    wires = {end.wire for change in changes for end in change.ends}
    wires |= {name[1] for change in changes for name in change.gone if name[0] == "wire"}
    others = {"/".join(name) for change in changes for name in change.gone if name[0] != "wire"}
    return wires | others | {place for change in changes for place, _ in change.fits}
