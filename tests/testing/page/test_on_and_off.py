"""A load that is off is read where the reading tells something, else not at all."""

import pytest
from metered import metered, readings

from planner.testing.page.judging import judge


@pytest.mark.parametrize(
    "job", ["two-speed-motor-only", "hazard-flasher", "horn-and-push", "launch-two-speed-wiper"]
)
def test_what_reads_the_same_whatever_is_wrong_is_no_test(job: str) -> None:
    van = metered(job)
    off = [test for test in van.page.tests if test.why.endswith("must be off")]
    edits = [edit for _, edit in van.ground.exposer.edits(list(van.slips.values()))]
    fails = dict.fromkeys((test.id for test in off), 0)
    for own in readings(van, edits, off):
        for test, value in zip(off, own, strict=True):
            fails[test.id] += judge(test, "", value).verdict != "good"
    assert all(fails.values()), fails


def test_a_wiper_is_read_off_with_the_ignition_on() -> None:
    tests = [t for t in metered("two-speed-motor-only").page.tests if t.why.endswith("must be off")]
    assert [dict(test.settings) for test in tests] == [{"dash.ignition-switch/ignition": "on"}]
    assert any("traded" in wrong.words for wrong in tests[0].wrong)


def test_what_is_gained_on_an_old_part_is_read_and_a_delay_has_to_let_go() -> None:
    tests = metered("minibus-courtesy-delay").page.tests
    on, off = [t for t in tests if t.at == "cab.interior-lamp:B" and t.to == "cab.interior-lamp:D"]
    assert on.low > 11.0 and "right after a door was opened and shut" in on.set_words
    assert off.high < 0.5 and "long after a door was shut" in off.set_words and on.n < off.n


def test_a_flash_that_is_gained_is_read_at_the_old_headlamp() -> None:
    (flash,) = [t for t in metered("dip-relay-four-to-five").page.tests if t.at == "left.headlamp:56a"]
    assert "hold the dip lever at pulled" in flash.set_words and flash.low > 9.0
    assert flash.why.startswith("the flash of the headlamps: ")


def test_what_is_gained_while_the_engine_cranks_waits_for_its_page() -> None:
    tests = metered("key-switch-and-starter-push").page.tests
    assert not any("the engine turns" in test.set_words for test in tests)


@pytest.mark.parametrize(
    ("job", "at", "volts", "old"),
    [
        ("forestry-horn-relay-of-12-volts", "nose.horn:H", 6.0, "the old horn relay is still fitted"),
        ("minibus-led-tail-lamps", "dash.bulb-lamp:58", 0.0, ""),
    ],
)
def test_a_relay_that_gets_too_little_may_pull_in_all_the_same(
    job: str, at: str, volts: float, old: str
) -> None:
    """A fuller battery, or lamps that draw more: what is foretold dead works, and no wire is wrong then."""
    page = metered(job).page
    (test,) = [test for test in page.tests if test.at == at and "was" in test.why]
    (said,) = judge(test, "", volts).says
    assert "pulls in" in said.words and "no wire is wrong" in said.words and old in said.words
    assert not old or not any(old in words for words in page.untested)
