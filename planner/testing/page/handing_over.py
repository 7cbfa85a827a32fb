"""Readings of the meter page as observations, for the hunt to go on from."""

from collections.abc import Iterator

from planner.model.loom import Supply
from planner.model.meter_log import MeterLog
from planner.model.observations import OPEN_OHMS, Observation


def observations(log: MeterLog, supply: Supply) -> Iterator[Observation]:
    """Yield what was read: ohms with the fuses out, volts from the red tip, what a test lamp showed.

    A lamp on a dead circuit has a battery of its own; where a flasher beats, a hunt computes the light half.
    """
    sign = 1.0 if supply.earthed == "negative" else -1.0
    for taken in log.taken:
        test, read = taken.test, taken.read
        if test.at_levels and taken.verdict == "good":
            continue  # a hunt asks at which level it was read
        if read == "flashes":
            yield Observation("lamp", test.at, "lit", test.settings, test.to)
        elif test.stage == "live" and isinstance(read, str):
            yield Observation("lamp", test.at, read, test.settings, test.to)
        elif test.stage == "live":
            yield Observation("volts", test.at, sign * float(read), test.settings, test.to)
        elif isinstance(read, str):
            yield Observation("lamp", test.at, read, (), test.to, has_fuses_out=True)
        else:
            ohms = min(float(read), OPEN_OHMS)
            yield Observation("ohms", test.at, ohms, (), test.to, has_fuses_out=True)
