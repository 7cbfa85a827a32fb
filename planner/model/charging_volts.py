"""What a voltmeter across the battery says with the engine at a fast idle: one answer for every page.

Common practice, no source; the manual of generator or regulator outranks it.
"""

from dataclasses import dataclass

# Of a 12 V vehicle: a regulator holds about 14.2 V. More than the highest boils the battery; a sound one that
# nothing charges may still read up to the resting volts for a while after it was charged.
_RESTING, _LOW, _HIGH = 13.0 / 12, 13.6 / 12, 14.8 / 12


@dataclass(frozen=True, slots=True)
class ChargingVolts:
    """Up to ``resting`` it does not charge, from ``low`` to ``high`` it does, above that it does too much."""

    resting: float
    low: float
    high: float


def charging_volts(supply_volts: float) -> ChargingVolts:
    """The limits for a vehicle of some volts, as a meter shows them."""
    return ChargingVolts(*(round(share * supply_volts, 1) for share in (_RESTING, _LOW, _HIGH)))
