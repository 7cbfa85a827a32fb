"""Element laws: the current through a branch as a function of the volts across it, and its slope.

Every law rises with the voltage, so that a network of them has one operating point and no other.
Voltages are from the branch's first node to its second, currents flow the same way inside it.
"""

from dataclasses import dataclass
from math import exp, log1p
from typing import Protocol

# I ~ V^0.55: Standard Handbook for Electrical Engineers, 11th ed., as cited by an encyclopedia (confirmed).
FILAMENT_EXPONENT = 0.55
# A cold filament has about 1/12 to 1/15 of its hot resistance: gas-filled lamps, from memory.
COLD_SHARE = 1 / 13
# How softly a junction begins to conduct, in volts: two to three thermal voltages of a real one, from memory.
SOFT_V = 0.05
# Reverse leakage of a rectifier: 1 uA at 10 V, within the 5 uA that data sheets allow; from memory.
LEAK_SIEMENS = 1e-7
SHARP_BELOW_V = 0.3  # a junction with less drop stands for a cut-out's contact: it opens sharply at no volts


class Law(Protocol):
    """What a branch does."""

    @property
    def is_linear(self) -> bool:
        """Whether current and volts are proportional, apart from an offset."""
        ...

    def amps(self, volts: float) -> float:
        """Current in A at some volts across."""
        ...

    def siemens(self, volts: float) -> float:
        """Slope of the current at some volts across, in A/V."""
        ...


@dataclass(frozen=True, slots=True)
class Resistance:
    """Ohm's law; 0 ohms is an exact joint."""

    ohms: float
    is_linear = True

    def amps(self, volts: float) -> float:
        """Current in A."""
        return volts / self.ohms

    def siemens(self, _: float) -> float:
        """Conductance in S."""
        return 1.0 / self.ohms


@dataclass(frozen=True, slots=True)
class Emf:
    """A source behind its own resistance; ``volts`` is what its first node has over its second, unloaded."""

    volts: float
    ohms: float
    is_linear = True

    def amps(self, volts: float) -> float:
        """Current in A; negative while it delivers."""
        return (volts - self.volts) / self.ohms

    def siemens(self, _: float) -> float:
        """Conductance in S."""
        return 1.0 / self.ohms


@dataclass(frozen=True, slots=True)
class Filament:
    """A filament lamp: its resistance rises with its heat, but never falls below the cold one."""

    rated_v: float
    rated_amps: float
    is_linear = False

    @property
    def hot_ohms(self) -> float:
        """Resistance at the rated point."""
        return self.rated_v / self.rated_amps

    @property
    def cold_ohms(self) -> float:
        """Resistance without current, as an ohmmeter reads it."""
        return self.hot_ohms * COLD_SHARE

    @property
    def floor_v(self) -> float:
        """Volts below which it stays cold."""
        return self.rated_v * float(COLD_SHARE ** (1 / (1 - FILAMENT_EXPONENT)))

    def amps(self, volts: float) -> float:
        """Current in A."""
        size = abs(volts)
        if size <= self.floor_v:
            return volts / self.cold_ohms
        amps = self.rated_amps * float((size / self.rated_v) ** FILAMENT_EXPONENT)
        return amps if volts > 0 else -amps

    def siemens(self, volts: float) -> float:
        """Slope in S."""
        size = abs(volts)
        if size <= self.floor_v:
            return 1.0 / self.cold_ohms
        return FILAMENT_EXPONENT * self.rated_amps / self.rated_v * float(
            (size / self.rated_v) ** (FILAMENT_EXPONENT - 1)
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Junction:
    """A diode or LED with what is in series with it: conducts from its first node to its second.

    Far above ``drop_v`` it is a resistance behind a drop, below it only a little leaks. At 0 V nothing flows:
    a junction is no source, so what the soft knee would give there is taken off everywhere.
    """

    drop_v: float
    ohms: float
    is_linear = False

    def amps(self, volts: float) -> float:
        """Current in A."""
        over = volts - self.drop_v
        leak = LEAK_SIEMENS * volts
        if self.drop_v < SHARP_BELOW_V:
            return leak + max(over, 0.0) / self.ohms
        return leak + (_knee_v(over) - _knee_v(-self.drop_v)) / self.ohms

    def siemens(self, volts: float) -> float:
        """Slope in S."""
        over = volts - self.drop_v
        if self.drop_v < SHARP_BELOW_V:
            return LEAK_SIEMENS + (1.0 / self.ohms if over > 0.0 else 0.0)
        x = over / SOFT_V
        share = 1.0 if x > 40.0 else 1.0 / (1.0 + exp(-x)) if x > -700.0 else 0.0
        return LEAK_SIEMENS + share / self.ohms


def _knee_v(over: float) -> float:
    """Volts left for the resistance: ``over`` far above 0, none far below, softly in between."""
    x = over / SOFT_V
    return over if x > 40.0 else SOFT_V * log1p(exp(x)) if x > -700.0 else 0.0
