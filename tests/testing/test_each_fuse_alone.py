"""What the lamp in series does at first power, against figures worked by hand."""

from dataclasses import replace
from functools import lru_cache

import pytest
from inspected import inspected
from planned import catalogue
from small_looms import Bench, make_parts

from planner.circuit.appearance import judge_load
from planner.currents.laws import FILAMENT_EXPONENT
from planner.model.bench_sheet import FIRST_POWER_WATTS, BenchSheet, FedLoad, FuseTest
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.build.bench_power import first_power
from planner.sheets.render.markdown import as_markdown
from planner.sheets.sheet import Listing
from planner.testing.first_power import read_in_time, with_lamp
from planner.testing.fuse_ways import FuseWays


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
    [
        ("stop lamp (left", 2 * 21),
        ("interior light (load-space", 2 * 5),
        ("dipped beam (left", 45),
        ("main beam (right", 45),
    ],
)
def test_the_lamp_appears_as_a_divider_of_filaments_says(load: str, watts: float) -> None:
    assert fuse_of("two-speed-wipers", load)[1] == hand_worked(watts)


def test_with_everything_off_the_lamp_is_dark_and_a_motor_lights_it() -> None:
    fuse, lamp = fuse_of("two-speed-wipers", "wipe fast")
    assert (fuse.lamp, lamp) == ("off", "full")


def test_what_a_flasher_switches_is_not_foretold_nor_a_starter() -> None:
    assert fuse_of("two-speed-wipers", "turn lamp (left front")[1] == ""
    assert fuse_of("minibus-standard-radio", "crank the engine (starter)")[1] == ""


def test_what_a_relay_lets_on_is_foretold_for_the_case_that_it_pulls_in() -> None:
    behind = "cool the radiator (radiator fan) if the relay for the radiator fan pulls in"
    assert fuse_of("electric-fan", behind)[1] == "full"


def test_where_a_relay_lets_a_load_on_the_fuse_of_its_coil_is_in_as_well() -> None:
    assert fuse_of("changeover-relay-layout", "driving lamp (left")[0].with_fuses == ("the feed main beam",)
    assert fuse_of("electric-fan", "cool the radiator")[0].with_fuses == (
        "2 on the fuse box, under the dash",
    )
    assert fuse_of("electric-fan", "warm the feet")[0].with_fuses == ()


def test_a_relay_that_has_nothing_to_do_with_a_load_adds_no_fuse_and_hides_no_lamp() -> None:
    """The reed of the bulb check is in the tail lamps' way: fan, hazards and head lamps do without it."""
    fuses = sheet("minibus-standard-radio").fuses
    assert {fuse.with_fuses for fuse in fuses} == {()}
    assert fuse_of("minibus-standard-radio", "main beam (left")[1] == "full"


def test_a_fuse_that_the_loom_does_not_show_is_asked_for_where_a_load_needs_it() -> None:
    """The relays of the converter pull by the flasher, whose fuse lies before the edge of the loom."""
    bench = sheet("trailer-socket-converter")
    said = {fuse.at: fuse.unshown for fuse in bench.fuses if fuse.unshown}
    assert said == {"feed:spare-fuse": ("the feed left", "the feed right")}
    *_, listing = (block for block in first_power(bench) if isinstance(block, Listing))
    told = [item.body.text for item in listing.items if "this loom does not show it" in item.body.text]
    assert len(told) == 1 and "whatever fuse lies before the feed left and the feed right" in told[0]


def test_what_hangs_on_a_fuse_that_the_loom_does_not_show_is_not_said_to_be_past_all() -> None:
    last = sheet("feed-of-unknown-nature").fuses[-1]
    assert "a fuse that this loom does not show" in last.text
    assert "past" in sheet("two-speed-wipers").fuses[-1].text


def test_a_stepping_relay_that_may_stand_otherwise_is_named() -> None:
    """Behind the lamp it gets too few volts to be stepped on, and a new one comes on either step."""
    texts = [fed.text for fuse in sheet("two-speed-wipers").fuses for fed in fuse.loads]
    assert "dipped beam (left headlamp) if the dip relay is at dipped" in texts
    assert "main beam (left headlamp) if the dip relay is at main" in texts
    assert "sound the horn (horn)" in texts


def test_a_feed_has_the_lamp_in_series_too() -> None:
    assert [fuse.lamp for fuse in sheet("stronger-foot-heater").fuses[-1:]] == ["off"]
    assert fuse_of("stronger-foot-heater", "warm the feet")[1] == "full"


PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    fuse: {terminals: {in: "", out: ""}, inside: [{fuse: {between: [in, out], amps: 10}}]}
    lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 21, does: shine}}]}
    switch: {terminals: {a: "", b: ""},
             inside: [{control: {name: way, positions: ["off", "on"]}},
                      {contact: {join: [a, b], when: {way: "on"}}}]}
    relay: {terminals: {"30": "30", "87": "87", "86": "86", "85": "85"},
            inside: [{coil: {between: ["86", "85"], ohms: 80, pulls_in_v: 7, drops_out_v: 3, name: armature}},
                     {contact: {join: ["30", "87"], when: {armature: pulled}}}]}
    """
)


def test_a_fuse_behind_another_is_tried_with_that_one_in() -> None:
    """Two fuses in series and a lamp that is always on: the one in front alone feeds nothing."""
    bench = Bench(
        PARTS,
        {"bat": "battery", "front": "fuse", "behind": "fuse", "p": "lamp"},
        ["bat:+ > front:in", "bat:- > earth:z", "front:out > behind:in", "behind:out > p:a", "p:b > earth:z"],
    )
    seen = inspected(bench)
    fed = (FedLoad(("p", "shine"), "shine (p)"),)
    tests = (FuseTest("front:out", "front", 10.0, ()), FuseTest("behind:out", "behind", 10.0, fed))
    front, behind = with_lamp(seen, tests)
    assert (front.lamp, front.with_fuses) == ("off", ())
    assert (behind.lamp, behind.with_fuses) == (hand_worked(21), ("front",))
    assert [load.lamp for load in behind.loads] == [hand_worked(21)]


def test_of_two_relays_side_by_side_the_coil_of_one_is_fed_so_that_its_load_comes_on() -> None:
    """Either is enough, so neither is missed alone: yet without both their fuses the load stays off."""
    bench = Bench(
        PARTS,
        {"bat": "battery", "main": "fuse", "coils": "fuse", "s": "switch", "r1": "relay", "r2": "relay",
         "p": "lamp"},
        ["bat:+ > main:in > coils:in", "bat:- > earth:z", "main:out > r1:30 > r2:30", "coils:out > s:a",
         "s:b > r1:86 > r2:86", "r1:85 > r2:85 > earth:z", "r1:87 > r2:87 > p:a", "p:b > earth:z"],
    )  # fmt: skip
    test = FuseTest("main:out", "main", 10.0, (FedLoad(("p", "shine"), "shine (p)"),))
    assert FuseWays(inspected(bench)).needed(test) == {"main:out", "coils:out"}


def test_with_two_batteries_as_well_a_pole_is_read_when_its_fuse_first_goes_in() -> None:
    """No one lamp carries all there, so nothing is foretold; what is read first is in time all the same."""
    bench = Bench(
        PARTS,
        {"bat": "battery", "second": "battery", "front": "fuse", "behind": "fuse", "p": "lamp", "q": "lamp"},
        ["bat:+ > front:in", "bat:- > earth:z", "second:- > earth:z", "second:+ > q:a", "q:b > earth:z",
         "front:out > behind:in", "behind:out > p:a", "p:b > earth:z"],
    )  # fmt: skip
    fed = (FedLoad(("p", "shine"), "shine (p)"),)
    early = FuseTest("behind:out", "behind", 10.0, fed)
    late = FuseTest("front:out", "front", 10.0, (), read_first=("plus at p",))
    told = with_lamp(inspected(bench), (early, late))
    assert [test.lamp for test in told] == ["", ""]
    assert [test.read_first for test in told] == [("front: plus at p",), ()]


def test_closed_points_do_not_light_the_lamp_for_what_is_tried_beside_them() -> None:
    """A warning lamp of 2.2 W leaves one of 21 W dark.

    Only the coil itself, 44 W at 12 V and so 3.3 ohm, is tried with closed points: some 7.5 V are left for
    the lamp, 1.35 A of 1.75, by hand.
    """
    shown = {load.key[1]: load.lamp for fuse in sheet("dynamo-to-alternator").fuses for load in fuse.loads}
    assert shown == {"charge warning lamp": "off", "ignition spark": "dim"}


def test_a_stabiliser_takes_no_more_than_its_gauge() -> None:
    """Some 0.15 A through a gauge and its sender leave a lamp of 21 W dark, and so do 12 V without one."""
    assert fuse_of("gauge-stabiliser-lost", "fuel gauge")[1] == "off"
    assert fuse_of("fuel-gauge-and-sender", "fuel gauge")[1] == "off"


def test_with_the_key_on_and_the_engine_cold_its_warning_lamps_are_lit_together() -> None:
    lamps = {fuse_of("two-speed-wipers", load)[1] for load in ("oil warning lamp", "charge warning lamp")}
    assert lamps == {"glows"}


def test_an_ammeter_has_not_to_answer_for_it_shows_the_others() -> None:
    fitted = [place for place, part in sheet("sports-coil").after.places.items() if "ammeter" in part.part]
    asked = {load.key[0] for fuse in sheet("sports-coil").fuses for load in fuse.loads}
    assert fitted and asked and asked.isdisjoint(fitted)


def test_a_load_that_the_work_leaves_dead_has_not_to_answer() -> None:
    bench = sheet("minibus-inhibitor")
    lost = {(line.at, line.what) for line in bench.plan.behaviours if line.outcome == "lost"}
    asked = {load.key for fuse in bench.fuses for load in fuse.loads}
    assert any(what == "reversing lamp" for _, what in lost) and not lost & asked
    assert any(what == "crank the engine" for _, what in asked)


@pytest.mark.parametrize(
    ("job", "fuse", "load"),
    [
        ("three-terminal-flasher", "feed:ignition", ("left.rear", "turn lamp")),  # behind a flasher
        ("door-warning-lamp", "dash.fuse-box:2", ("dash.door-lamp", "door warning lamp")),  # and a diode
        ("horn-and-relay", "dash.fuse-box:2", ("dash.instruments", "turn indicator lamp")),
    ],
)
def test_a_load_behind_a_flasher_or_a_diode_stands_at_its_fuse(
    job: str, fuse: str, load: tuple[str, str]
) -> None:
    at = [test.at for test in sheet(job).fuses if load in {fed.key for fed in test.loads}]
    assert at == [fuse]


def test_what_two_fuses_feed_or_none_is_still_at_no_single_fuse() -> None:
    rest = {fed.key for test in sheet("horn-and-relay").fuses if not test.at for fed in test.loads}
    assert rest == {
        ("bay.starter", "crank the engine"),
        ("bay.coil", "ignition spark"),
        ("dash.instruments", "instrument lighting"),
    }


@pytest.mark.parametrize(
    ("job", "silent", "answers"),
    [
        ("hauler-to-12-volts", ("rear.work", "headlamp"), ("nose.left", "headlamp")),
        ("forestry-horn-relay-of-12-volts", ("nose.horn", "sound the horn"), ("rear.left", "tail lamp")),
        ("tractor-to-12-volts", ("cab.wiper", "wipe slowly"), ("nose.horn", "sound the horn")),  # left off
    ],
)
def test_what_is_lost_by_its_volts_or_left_off_has_not_to_answer(
    job: str, silent: tuple[str, str], answers: tuple[str, str]
) -> None:
    asked = {load.key for fuse in sheet(job).fuses for load in fuse.loads}
    assert silent not in asked and answers in asked


@pytest.mark.parametrize(("job", "dark"), [("hauler-to-12-volts", "work lamp"), ("led-indicators", "")])
def test_a_new_part_that_stays_dead_is_bought_later(job: str, dark: str) -> None:
    said = as_markdown(bench_sheet(sheet(job))).partition("## Cautions")[0]
    assert bool(dark) == ("these stay dead" in said)
    assert not dark or f"buy what goes in there once the loss above is settled: {dark}." in said


def test_the_sheet_says_the_lamp_of_each_fuse_and_load() -> None:
    bench = sheet("two-speed-wipers")
    *_, listing = (block for block in first_power(bench) if isinstance(block, Listing))
    horn = next(item for item in listing.items if any("horn" in line.text for line in item.below))
    assert horn.body.text.endswith("lamp dark with every switch off; then:")
    assert "- sound the horn (horn), lamp lit" in [line.text for line in horn.below]
    unknown = replace(bench, fuses=tuple(replace(f, lamp="", loads=()) for f in bench.fuses))
    *_, listing = (block for block in first_power(unknown) if isinstance(block, Listing))
    assert all("lamp dark" not in item.body.text for item in listing.items)


@pytest.mark.parametrize("job", ["hazard-flasher", "hazard-switch-of-all-poles"])
def test_what_one_fuse_feeds_in_one_setting_and_another_in_another_is_said_at_both(job: str) -> None:
    """With the hazard switch on fuse 1 feeds the turn lamps, with the key and the lever fuse 2 does."""
    said = {
        fuse.at: [load.text for load in fuse.loads if load.text.startswith("turn lamp (left front")]
        for fuse in sheet(job).fuses
    }
    feeding = {at.rpartition(":")[2]: " ".join(texts) for at, texts in said.items() if texts}
    assert sorted(feeding) == ["1", "2"]
    assert "hazard switch" in feeding["1"] and "ignition switch on" in feeding["2"]
    assert "turn switch" in feeding["2"] and "fuel" not in feeding["2"]


def test_what_is_read_first_is_read_when_its_fuse_first_goes_in() -> None:
    first = FuseTest("box:1", "Fuse 1", 8.0, ())
    second = FuseTest("box:2", "Fuse 2", 8.0, (), read_first=("plus at the radio",))
    unfused = FuseTest("", "through no fuse", 0.0, (), read_first=("plus at the clock",))
    tests = [first, second, unfused]
    early = read_in_time(tests, [{"box:1", "box:2"}, {"box:2"}, set()])
    assert [test.read_first for test in early] == [
        ("Fuse 2: plus at the radio",), (), ("plus at the clock",)
    ]  # fmt: skip
    assert read_in_time(tests, [{"box:1"}, {"box:2"}, set()]) == tests
