"""What the lamp in series does at first power, against figures worked by hand."""

from dataclasses import replace
from functools import lru_cache

import pytest
from planned import catalogue

from planner.circuit.appearance import judge_load
from planner.currents.laws import FILAMENT_EXPONENT
from planner.model.bench_sheet import FIRST_POWER_WATTS, BenchSheet, FuseTest
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench_power import first_power
from planner.sheets.sheet import Listing


@lru_cache
def sheet(job: str) -> BenchSheet:
    return sheet_job(job, catalogue())


def fuse_of(job: str, load: str) -> tuple[FuseTest, str]:
    """The fuse that feeds a load, and how the lamp appears with that load on."""
    return next(
        (fuse, fed.lamp) for fuse in sheet(job).fuses for fed in fuse.loads if fed.text.startswith(load)
    )


def hand_worked(watts: float) -> object:
    """How a lamp in series with filaments of so many watts appears, wires left out.

    One current: W1 (V1/V)^e = W2 (V2/V)^e with V1 + V2 = V.
    """
    ratio = (watts / FIRST_POWER_WATTS) ** (1 / FILAMENT_EXPONENT)
    return judge_load("lamp", 1.0)((ratio / (1 + ratio)) ** FILAMENT_EXPONENT)


# The watts of the filaments that burn together then, by the catalogue's files.
@pytest.mark.parametrize(
    ("load", "watts"),
    [("stop lamp (left", 2 * 21), ("interior light (load-space", 2 * 5), ("dipped beam (left", 45)],
)
def test_the_lamp_appears_as_a_divider_of_filaments_says(load: str, watts: float) -> None:
    assert fuse_of("two-speed-wipers", load)[1] == hand_worked(watts)


def test_with_everything_off_the_lamp_is_dark_and_a_motor_lights_it() -> None:
    fuse, lamp = fuse_of("two-speed-wipers", "wipe fast")
    assert (fuse.lamp, lamp) == ("off", "full")


def test_what_a_relay_or_a_flasher_switches_is_not_foretold() -> None:
    assert fuse_of("two-speed-wipers", "turn lamp (left front")[1] == ""
    assert fuse_of("two-speed-wipers", "main beam (left headlamp)")[1] == ""


def test_a_feed_has_the_lamp_in_series_too() -> None:
    assert [fuse.lamp for fuse in sheet("stronger-foot-heater").fuses[-1:]] == ["off"]
    assert fuse_of("stronger-foot-heater", "warm the feet")[1] == "full"


def test_a_fuse_behind_another_is_tried_with_that_one_in() -> None:
    behind = [fuse for job in ("minibus-standard-radio",) for fuse in sheet(job).fuses if fuse.with_fuses]
    assert all(fuse.lamp and fuse.text not in fuse.with_fuses for fuse in behind)


def test_the_sheet_says_the_lamp_of_each_fuse_and_load() -> None:
    bench = sheet("two-speed-wipers")
    *_, listing = (block for block in first_power(bench) if isinstance(block, Listing))
    horn = next(item for item in listing.items if "horn" in item.body.text)
    assert "lamp dark with every switch off; then: sound the horn (horn), lamp lit;" in horn.body.text
    unknown = replace(bench, fuses=tuple(replace(f, lamp="", loads=()) for f in bench.fuses))
    *_, listing = (block for block in first_power(unknown) if isinstance(block, Listing))
    assert all("lamp dark" not in item.body.text for item in listing.items)
