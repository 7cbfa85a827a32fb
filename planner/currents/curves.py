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

FLOOR_SHARE = COLD_SHARE ** (1 / (1 - FILAMENT_EXPONENT))  # of its rated volts: a filament stays cold below
LEAST_V = 1e-15  # less at the resistance of a junction is lack of digits
KNEE_BELOW = 5  # times SOFT_V below its drop a junction begins to conduct: less than a hundredth


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
        diodes = [law for law in laws if isinstance(law, Junction)]
        self.drop_v = _column([law.drop_v for law in diodes])
        self.ohms = _column([law.ohms for law in diodes])

    def first_guess(self) -> Array:
        """Volts at which the first chords end: the rated point, just conducting, or a sharp junction open."""
        is_sharp = self.drop_v < SHARP_BELOW_V
        return np.concatenate((self.rated_v, np.where(is_sharp, -1.0, self.drop_v + 0.1)))

    def at(self, volts: Array) -> tuple[Array, Array]:
        """Currents and slopes at some volts across."""
        lit, joined = (
            filaments_at(volts[: self.lamps], self.rated_v, self.rated_amps),
            junctions_at(volts[self.lamps :], self.drop_v, self.ohms),
        )
        return np.concatenate((lit[0], joined[0])), np.concatenate((lit[1], joined[1]))

    def nearer(self, before: Array, volts: Array, amps: Array) -> Array:
        """Where next to lay a tangent: at the volts or the amps that the one before led to, by the volts.

        Whichever is nearer to where that one was laid: a tangent goes astray far from its curve.
        """
        of_amps = np.concatenate((
            filament_volts(amps[: self.lamps], self.rated_v, self.rated_amps),
            junction_volts(amps[self.lamps :], volts[self.lamps :], self.drop_v, self.ohms),
        ))  # fmt: skip
        return nearest(before, volts, of_amps)


def nearest(before: Array, volts: Array, of_amps: Array) -> Array:
    """Of two volts for the next tangents those nearer to where the last ones were laid."""
    return np.where(np.abs(of_amps - before) < np.abs(volts - before), of_amps, volts)


def filaments_at(volts: Array, rated_v: Array, rated_amps: Array) -> tuple[Array, Array]:
    """Currents and slopes of filaments, each with its own rating: ``laws.Filament``."""
    size, floor_v = np.abs(volts), rated_v * FLOOR_SHARE
    is_cold = size <= floor_v
    cold_siemens = rated_amps / (rated_v * COLD_SHARE)
    warm = np.maximum(size, floor_v)
    hot = rated_amps * (warm / rated_v) ** FILAMENT_EXPONENT
    amps = np.where(is_cold, cold_siemens * volts, np.copysign(hot, volts))
    return amps, np.where(is_cold, cold_siemens, FILAMENT_EXPONENT * hot / warm)


def filament_volts(amps: Array, rated_v: Array, rated_amps: Array) -> Array:
    """Volts across filaments at some currents."""
    cold = amps * (rated_v * COLD_SHARE / rated_amps)
    hot = rated_v * (np.abs(amps) / rated_amps) ** (1 / FILAMENT_EXPONENT)
    return np.where(np.abs(cold) <= rated_v * FLOOR_SHARE, cold, np.copysign(hot, amps))


def junctions_at(volts: Array, drop_v: Array, ohms: Array) -> tuple[Array, Array]:
    """Currents and slopes of junctions, each with its own drop: ``laws.Junction``."""
    over, is_sharp = volts - drop_v, drop_v < SHARP_BELOW_V
    knee = np.where(is_sharp, np.maximum(over, 0.0), _knee_v(over))
    at_0 = np.where(is_sharp, 0.0, _knee_v(-drop_v))
    share = np.where(is_sharp, over > 0.0, 1.0 / (1.0 + np.exp(-np.clip(over / SOFT_V, -700, 40))))
    return LEAK_SIEMENS * volts + (knee - at_0) / ohms, LEAK_SIEMENS + share / ohms


def junction_volts(amps: Array, volts: Array, drop_v: Array, ohms: Array) -> Array:
    """Volts across junctions at some currents, of which what leaks is taken to be as at ``volts``.

    Where they hardly conduct, currents tell nothing, and ``volts`` stay.
    """
    is_sharp = drop_v < SHARP_BELOW_V
    knee = (amps - LEAK_SIEMENS * volts) * ohms + np.where(is_sharp, 0.0, _knee_v(-drop_v))
    x = np.maximum(knee, LEAST_V) / SOFT_V
    over = np.where(is_sharp, knee, SOFT_V * (x + np.log(-np.expm1(-x))))
    least = np.minimum(volts, drop_v - KNEE_BELOW * SOFT_V)
    return np.where(knee > LEAST_V, np.maximum(drop_v + over, least), volts)


def _column(values: Sequence[float]) -> Array:
    return np.array(values, dtype=float).reshape(-1, 1)


def _knee_v(over: Array) -> Array:
    """Volts left for the resistance: ``over`` far above 0, none far below, softly in between."""
    return np.maximum(over, 0.0) + SOFT_V * np.log1p(np.exp(-np.abs(over) / SOFT_V))
