"""What flows through the ports of many networks at once, and where their next tangents are laid."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import (
    Array,
    filament_volts,
    filaments_at,
    junction_volts,
    junctions_at,
    nearest,
)
from planner.currents.laws import Filament, Junction, Law

Numbers = NDArray[np.intp]


class PortLaws:
    """What flows through ports: straight and curved parts, one row a network, one column a port."""

    def __init__(self, rows: int, columns: int) -> None:
        shape = (rows, columns)
        self.siemens, self.pushed = np.zeros(shape), np.zeros(shape)
        self.rated_v, self.rated_amps = np.ones(shape), np.zeros(shape)
        self.drop_v, self.slope_ohms = np.ones(shape), np.full(shape, np.inf)
        self.is_junction = np.zeros(shape, dtype=bool)

    @classmethod
    def of(cls, laws: Sequence[Law]) -> "PortLaws":
        """One row of laws."""
        found = cls(1, len(laws))
        for column, law in enumerate(laws):
            found.put(0, column, law, 1.0)
        return found

    def put(self, row: int, column: int, law: Law, sign: float) -> None:
        """Put a law at a port; a straight one with sign -1 takes away what stands in the network."""
        if isinstance(law, Filament):
            self.rated_v[row, column], self.rated_amps[row, column] = law.rated_v, law.rated_amps
        elif isinstance(law, Junction):
            self.drop_v[row, column], self.slope_ohms[row, column] = law.drop_v, law.ohms
            self.is_junction[row, column] = True
        else:
            self.siemens[row, column] = sign * law.siemens(0.0)
            self.pushed[row, column] = sign * law.amps(0.0)

    def take_out(self, row: int, column: int, whole: "PortLaws", port: int) -> None:
        """Take away the tangent of a curved branch, by which it stands in the network."""
        self.siemens[row, column], self.pushed[row, column] = whole.siemens[0, port], whole.pushed[0, port]

    def copy(self, rows: Numbers, columns: Numbers, whole: "PortLaws", ports: Numbers) -> None:
        """Put laws of one row at some places."""
        for name, own in vars(self).items():
            own[rows, columns] = getattr(whole, name)[0, ports]

    def at(self, volts: Array) -> tuple[Array, Array]:
        """Currents and slopes."""
        amps, slopes = filaments_at(volts, self.rated_v, self.rated_amps)
        amps, slopes = amps + self.siemens * volts + self.pushed, slopes + self.siemens
        some = np.flatnonzero(self.is_junction.any(axis=0))
        if some.size:
            more, steeper = junctions_at(volts[:, some], self.drop_v[:, some], self.slope_ohms[:, some])
            amps[:, some] += np.where(self.is_junction[:, some], more, 0.0)
            slopes[:, some] += np.where(self.is_junction[:, some], steeper, 0.0)
        return amps, slopes

    def nearer(self, at: Array, goal: Array, amps: Array, slopes: Array) -> Array:
        """Where next to lay tangents, by the volts that those at some volts led to.

        ``amps`` and ``slopes`` are what ``at`` gives there. The rule is that of ``Curves.nearer``.
        """
        own = amps + slopes * (goal - at) - self.siemens * goal - self.pushed  # of the curved parts alone
        is_lamp = self.rated_amps > 0.0
        of_amps = filament_volts(own, self.rated_v, np.where(is_lamp, self.rated_amps, 1.0))
        near = np.where(is_lamp, nearest(at, goal, of_amps), goal)
        some = np.flatnonzero(self.is_junction.any(axis=0))
        if some.size:
            is_own, far = self.is_junction[:, some], goal[:, some]
            ohms = np.where(is_own, self.slope_ohms[:, some], 1.0)
            of_amps = junction_volts(own[:, some], far, self.drop_v[:, some], ohms)
            near[:, some] = np.where(is_own, nearest(at[:, some], far, of_amps), near[:, some])
        return near

    def some(self, rows: Numbers) -> "PortLaws":
        """Some of the rows."""
        found = PortLaws(0, 0)
        for name, own in vars(self).items():
            setattr(found, name, own[rows])
        return found
