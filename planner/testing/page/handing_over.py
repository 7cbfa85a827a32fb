"""Readings of the meter page as observations, for the hunt to go on from."""

from collections.abc import Iterator

from planner.currents.grid import BODY
from planner.model.loom import Supply
from planner.model.meter_log import MeterLog
from planner.model.observations import Observation


def observations(log: MeterLog, supply: Supply) -> Iterator[Observation]:
    """Yield the live readings: volts from the red tip, and what a test lamp showed.

    Ohms are not handed over: here they are read with the fuses out, in a hunt with the fuses in.
    """
    sign = 1.0 if supply.earthed == "negative" else -1.0
    for taken in log.taken:
        test = taken.test
        if test.stage == "live":
            to = "" if test.to == BODY else test.to
            if isinstance(taken.read, str):
                yield Observation("lamp", test.at, taken.read, test.settings, to)
            else:
                yield Observation("volts", test.at, sign * taken.read, test.settings, to)
