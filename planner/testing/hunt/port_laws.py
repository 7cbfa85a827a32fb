"""What flows through the ports of many networks at once, and how far a tangent may be trusted there."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array, filaments_at, junctions_at
from planner.currents.laws import Filament, Junction, Law

LEAST_SHARE = 0.2  # of its volts that a filament keeps from one round to the next
MOST_OPENED_V = 0.3  # what a junction is opened further from one round to the next
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

    def nearer(self, at: Array, goal: Array) -> Array:
        """The volts of the next tangents: the goal, or what lies on the way to it.

        A filament is not cooled, nor a junction opened, at once. A filament's current rises so
        steeply from 0 V that tangents would swing around it for long.
        """
        least = LEAST_SHARE * np.abs(at)
        is_cooled = (self.rated_amps > 0.0) & (np.abs(goal) < least)
        is_turned = (self.rated_amps > 0.0) & (goal * at < 0.0) & (np.abs(goal) > least)
        near = np.where(is_cooled | is_turned, np.copysign(least, goal), goal)
        most = np.maximum(at, self.drop_v) + MOST_OPENED_V
        return np.where(self.is_junction & (near > most), most, near)

    def some(self, rows: Numbers) -> "PortLaws":
        """Some of the rows."""
        found = PortLaws(0, 0)
        for name, own in vars(self).items():
            setattr(found, name, own[rows])
        return found
