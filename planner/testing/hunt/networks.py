"""The sound network of one vehicle in any state: inverted once, or seen from a state that was."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.currents.grid import Grid
from planner.testing.hunt.ports import Ports

FEW = 24  # worlds in one state: for so many it is seen from another state; for more it is inverted
MOST_OTHERWISE = 24  # branches by which the two states may differ: each is an unknown more in every world


class Seen(NamedTuple):
    """The sound network in one state: ports of an inverted one, and the branches that are otherwise there.

    ``place`` is where each branch of the grid stands in the ports, ``gone`` and ``added`` are branches of the
    grid that are there in the one state and not in the other.
    """

    ports: Ports
    place: Mapping[int, int]
    gone: frozenset[int]
    added: tuple[int, ...]

    @property
    def is_own(self) -> bool:
        """Whether the ports are those of the state itself."""
        return not self.gone and not self.added


class Networks:
    """The inverted networks of one vehicle, shared by all positions of its controls."""

    def __init__(self, nodes: dict[str, int], grid: Grid) -> None:
        self._nodes, self._grid = nodes, grid
        self._inverted: list[Seen] = []
        self._closed = np.zeros((0, len(grid.branches)), dtype=bool)  # a row for each of them

    def of(self, closed: Sequence[int], count: int) -> Seen:
        """The network with some branches of the grid, for so many worlds in it."""
        own = np.zeros(len(self._grid.branches), dtype=bool)
        own[list(closed)] = True
        otherwise = self._closed ^ own
        sizes = otherwise.sum(axis=1)
        near = int(sizes.argmin()) if len(sizes) else 0
        if not len(sizes) or (sizes[near] and (count > FEW or sizes[near] > MOST_OTHERWISE)):
            return self._invert(closed, own)
        seen = self._inverted[near]
        gone, added = (np.flatnonzero(otherwise[near] & each).tolist() for each in (~own, own))
        return Seen(seen.ports, seen.place, frozenset(gone), tuple(added))

    def _invert(self, closed: Sequence[int], own: NDArray[np.bool_]) -> Seen:
        branches = [self._grid.branches[index].branch for index in closed]
        ports = Ports(self._nodes, branches, self._grid.zero, is_held=True)
        seen = Seen(ports, {index: n for n, index in enumerate(closed)}, frozenset(), ())
        self._inverted.append(seen)
        self._closed = np.concatenate((self._closed, own[None]))
        return seen
