"""Readings that swing with a flasher: told with both halves of the beat, and what a test lamp does there."""

import pytest
from metered import metered

from planner.model.meter_log import MeterLog
from planner.model.meter_page import MeterTest
from planner.reading.meter_answers import read_answer
from planner.reading.typed_values import NotUnderstood
from planner.sheets.build.meter_words import good_words, lamp_words, lines_words
from planner.testing.page.handing_over import observations
from planner.testing.page.judging import judge


def live(job: str, address: str) -> list[MeterTest]:
    return [
        test for test in metered(job).page.tests if test.stage == "live" and address in (test.at, test.to)
    ]


@pytest.mark.parametrize(
    ("job", "address"),
    [
        ("hazard-flasher", "dash.flasher:L"),  # behind its own flasher
        ("led-rear-lamps", "left.rear:lamp"),
        ("trailer-socket-13", "rear.trailer-socket:1"),  # behind one beyond the loom's edge
    ],
)
def test_behind_a_flasher_a_reading_swings(job: str, address: str) -> None:
    (test,) = [test for test in live(job, address) if test.expected > 1.0]
    assert test.dark is not None and abs(test.dark) < 0.3 and test.lamp == "flashes"
    assert good_words(test).startswith("swings with the flasher: ") and "nothing while" in good_words(test)
    assert lamp_words(test) == "test lamp: flashes"
    assert list(lines_words(test))[-1].startswith("steady: ")


@pytest.mark.parametrize(
    ("job", "address", "words"),
    [
        (
            "led-indicators-own-earth",
            "left.front:lamp",
            "the one planned with (electronic, from 0.02 A on) beats on the 0.73 A here",
        ),
        (
            "two-ends-trade",
            "column.turn-switch:2",
            "the one planned with (thermal, from 2.6 A on) beats on the 3.5 A here",
        ),
        ("trailer-socket-13", "rear.trailer-socket:1", "beyond this loom does not beat"),
    ],
)
def test_a_reading_that_stays_steady_asks_first_which_flasher_is_fitted(
    job: str, address: str, words: str
) -> None:
    steady = [test.steady for test in live(job, address) if test.dark is not None]
    assert any(words in own for own in steady)
    numbers = [test.n for test in metered(job).page.tests if test.steady]
    again = [t.steady for t in metered(job).page.tests if t.steady and t.n != numbers[0]]
    assert all(f"as for test {numbers[0]}" in own or words not in own for own in again)


def test_a_lamp_behind_a_flasher_is_looked_at_while_it_is_read() -> None:
    told = [
        test for test in metered("led-indicators-own-earth").page.tests if test.why.startswith("'turn lamp'")
    ]
    assert len(told) == 4 and all(test.why.endswith("and flashes: look at it as well") for test in told)


@pytest.mark.parametrize("side", ["L", "R"])
def test_a_diode_the_wrong_way_round_is_named_where_all_should_block(side: str) -> None:
    lamp = {"L": "left.front:lamp", "R": "right.front:lamp"}[side]
    (test,) = [t for t in metered("led-indicators").page.tests if t.stage == "dead" and lamp in (t.at, t.to)]
    own = [w.words for w in test.wrong if w.high > 1e4]
    assert own and all(w.startswith(f"the diode, 6 A at {side} on") and "wrong way round" in w for w in own)


@pytest.mark.parametrize(
    ("job", "address"),
    [
        ("three-terminal-flasher", "dash.flasher:49"),  # in front of the flasher
        ("trailer-socket-13", "rear.trailer-socket:6"),  # the stop lamps
        ("two-speed-wipers", "scuttle.wiper-motor:53"),
    ],
)
def test_elsewhere_a_reading_is_steady(job: str, address: str) -> None:
    tests = live(job, address)
    assert tests and all(test.dark is None and test.lamp != "flashes" for test in tests)
    assert not any("swings" in good_words(test) for test in tests)


def test_a_lamp_that_stays_lit_does_not_flash() -> None:
    (test,) = [test for test in live("hazard-flasher", "dash.flasher:L") if test.expected > 1.0]
    read = read_answer("Flashes", test, 12.0)
    assert read == "flashes" and judge(test, "flashes", read).verdict == "good"
    assert judge(test, "lit", "lit").verdict == "wrong"
    taken = judge(test, "flashes", read)
    log = MeterLog("job", "title", (taken,), ())
    (seen,) = observations(log, metered("hazard-flasher").ground.wired.loom.supply)
    assert seen.says == "lit"  # in the light half of the beat, which a hunt computes


def test_where_nothing_swings_no_lamp_flashes() -> None:
    (test,) = live("three-terminal-flasher", "dash.flasher:49")
    with pytest.raises(NotUnderstood, match="steady"):
        read_answer("flashes", test, 12.0)


@pytest.mark.parametrize(("job", "swings"), [("hazard-flasher", True), ("two-speed-wipers", False)])
def test_how_to_read_what_swings_is_said_where_something_does(job: str, swings: bool) -> None:
    assert any("swings" in note for note in metered(job).page.notes) is swings


def test_what_only_leaks_through_diodes_reads_nothing_on_some_meters() -> None:
    (test,) = [t for t in live("led-indicators-own-earth", "dash.turn-indicator:R") if t.expected > 1.0]
    turned = [w for w in test.wrong if "the turn indicator, dash is connected the wrong way round" in w.words]
    assert any(w.low <= 0.0 <= w.high for w in turned) and any(w.low > 1.0 for w in turned)
