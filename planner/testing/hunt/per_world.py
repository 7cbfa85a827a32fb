"""A number for each world of a vehicle, worked out for those that are asked about, once."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array

Worlds = NDArray[np.intp]


class PerWorld:
    """Numbers that some function gives of worlds; worlds may be added meanwhile."""

    def __init__(self, work: Callable[[Worlds], Array]) -> None:
        self._work = work
        self._found: Array = np.zeros(0)  # not a number: not asked yet

    def __getitem__(self, worlds: Worlds) -> Array:
        """The numbers of some worlds."""
        missing = int(worlds.max(initial=-1)) + 1 - len(self._found)
        if missing > 0:
            self._found = np.concatenate((self._found, np.full(missing, np.nan)))
        found = self._found[worlds]
        is_new = np.isnan(found)
        if is_new.any():
            found[is_new] = self._found[worlds[is_new]] = self._work(worlds[is_new])
        return found

    @property
    def asked(self) -> Worlds:
        """The worlds that were asked about."""
        return np.flatnonzero(~np.isnan(self._found))
