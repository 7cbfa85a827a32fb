"""The curved element laws for many elements and many operating points at once; ``laws`` says what they are.

Arrays have one row for each element and one column for each operating point.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.currents.laws import (
    COLD_SHARE,
    FILAMENT_EXPONENT,
    LEAK_SIEMENS,
    SHARP_BELOW_V,
    SOFT_V,
    Filament,
    Junction,
    Law,
)

Array = NDArray[np.float64]


class Curves:
    """Filaments first, then junctions: ``order`` says which law stands in which row."""

    def __init__(self, laws: Sequence[Law]) -> None:
        lamps = [i for i, law in enumerate(laws) if isinstance(law, Filament)]
        junctions = [i for i, law in enumerate(laws) if isinstance(law, Junction)]
        self.order = [*lamps, *junctions]
        self.lamps = len(lamps)
        filaments = [law for law in laws if isinstance(law, Filament)]
        self.rated_v = _column([law.rated_v for law in filaments])
        self.rated_amps = _column([law.rated_amps for law in filaments])
        self.floor_v = _column([law.floor_v for law in filaments])
        self.cold_siemens = self.rated_amps / (self.rated_v * COLD_SHARE)
        diodes = [law for law in laws if isinstance(law, Junction)]
        self.drop_v = _column([law.drop_v for law in diodes])
        self.ohms = _column([law.ohms for law in diodes])
        self.is_sharp = self.drop_v < SHARP_BELOW_V
        self.knee_at_0 = np.where(self.is_sharp, 0.0, _knee_v(-self.drop_v))

    def first_guess(self) -> Array:
        """Volts at which the first slopes are taken: the rated point, or just conducting."""
        return np.concatenate((self.rated_v, self.drop_v + 0.1))

    def at(self, volts: Array) -> tuple[Array, Array]:
        """Currents and slopes at some volts across."""
        amps, slopes = np.empty_like(volts), np.empty_like(volts)
        self._light(volts[: self.lamps], amps[: self.lamps], slopes[: self.lamps])
        self._join(volts[self.lamps :], amps[self.lamps :], slopes[self.lamps :])
        return amps, slopes

    def _light(self, volts: Array, amps: Array, slopes: Array) -> None:
        size = np.abs(volts)
        is_cold = size <= self.floor_v
        hot = self.rated_amps * (np.maximum(size, self.floor_v) / self.rated_v) ** FILAMENT_EXPONENT
        amps[:] = np.where(is_cold, self.cold_siemens * volts, np.copysign(hot, volts))
        slopes[:] = np.where(
            is_cold, self.cold_siemens, FILAMENT_EXPONENT * hot / np.maximum(size, self.floor_v)
        )

    def _join(self, volts: Array, amps: Array, slopes: Array) -> None:
        over = volts - self.drop_v
        knee = np.where(self.is_sharp, np.maximum(over, 0.0), _knee_v(over))
        share = np.where(self.is_sharp, over > 0.0, 1.0 / (1.0 + np.exp(-np.clip(over / SOFT_V, -700, 40))))
        amps[:] = LEAK_SIEMENS * volts + (knee - self.knee_at_0) / self.ohms
        slopes[:] = LEAK_SIEMENS + share / self.ohms


def _column(values: Sequence[float]) -> Array:
    return np.array(values, dtype=float).reshape(-1, 1)


def _knee_v(over: Array) -> Array:
    """Volts left for the resistance: ``over`` far above 0, none far below, softly in between."""
    return np.maximum(over, 0.0) + SOFT_V * np.log1p(np.exp(-np.abs(over) / SOFT_V))
