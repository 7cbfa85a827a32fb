"""Switch factors, tabs and drop limits by small tables."""

import pytest

from planner.model.contacts import (
    SwitchFactor,
    TabCurrent,
    TabScope,
    rating_factor,
    tab_most_mm2,
    tab_test_amps,
)
from planner.model.drops import DropLimit, circuit_limit, section_limit
from planner.problems import InputError

CREDIT = ("a source", "confirmed (x)")
FACTORS = (
    SwitchFactor(28, "inductive (relay, solenoid)", 4, *CREDIT),
    SwitchFactor(12, "inductive (relay, solenoid)", 2, *CREDIT),
)
TABS = (
    TabCurrent(("4.8", "6.3"), 1.3, 10, *CREDIT),
    TabCurrent(("4.8", "6.3"), 0.5, 4, *CREDIT),
    TabCurrent(("2.8",), 0.5, 3, *CREDIT),
)
STARTER = "starter main cable"
LIMITS = (
    DropLimit("headlamps", None, 0.6, None, "whole circuit", "handbook", "memory"),
    DropLimit(STARTER, 12, 0.5, None, "positive line only", *CREDIT),
    DropLimit(STARTER, 24, 1.0, None, "positive line only", *CREDIT),
    DropLimit("general lighting and other non-critical circuits", None, None, 10, "feed and return", *CREDIT),
    DropLimit("feed wire or cable", 12, 0.2, None, "per section, loaded", *CREDIT),
)


@pytest.mark.parametrize(("volts", "found"), [(6, 2), (14, 2), (14.1, 4), (24, 4)])
def test_up_to_14_volts_the_lower_factors_hold(volts, found):
    assert rating_factor(FACTORS, "inductive", volts).value == found


def test_a_load_that_is_not_listed_is_said_to_lack():
    with pytest.raises(InputError, match=r"standards/switch-derating.csv: holds no row for lamp at 12 V"):
        rating_factor(FACTORS, "lamp", 12)


@pytest.mark.parametrize(
    ("fitting", "mm2", "amps"),
    [
        ("blade-6.3", 0.3, 4),
        ("blade-6.3", 1.29, 4),
        ("blade-4.8", 1.3, 10),
        ("blade-6.3", 6, 10),
        ("blade-2.8", 6, 3),
        ("blade-9.5", 1, None),
        ("6.3", 1, None),
        ("stud-6", 1, None),
    ],
)
def test_a_tab_is_tested_with_the_next_thinner_conductor(fitting, mm2, amps):
    found = tab_test_amps(TABS, fitting, mm2)
    assert (found and found.value) == amps


@pytest.mark.parametrize(
    ("fitting", "most"), [("blade-9.5", 6), ("blade-2.8", 2.5), ("stud-6", None), ("9.5", None)]
)
def test_a_tab_takes_the_thickest_conductor_that_it_is_made_for(fitting, most):
    scopes = (TabScope(("2.8", "9.5"), 2.5, *CREDIT), TabScope(("9.5",), 6, *CREDIT))
    found = tab_most_mm2(scopes, fitting)
    assert (found and found.value) == most


@pytest.mark.parametrize(
    ("circuit", "volts", "found"),
    [("headlamp", 12, 0.6), ("headlamp", 24, 0.6), ("starter main", 14.4, 0.5), ("starter main", 24, 1.0)],
)
def test_a_limit_is_that_of_the_system(circuit, volts, found):
    assert circuit_limit(LIMITS, circuit, volts).value == found


def test_what_a_limit_covers_is_said():
    assert circuit_limit(LIMITS, "headlamp", 12).source == "handbook, whole circuit"
    assert circuit_limit(LIMITS, "starter main", 12).source == "a source, positive line only"


def test_six_volts_may_lose_half_and_a_percentage_is_of_the_volts():
    assert circuit_limit(LIMITS, "headlamp", 6).value == 0.3
    assert "halved, as none is published for 6 V" in circuit_limit(LIMITS, "starter main", 6).source
    assert circuit_limit(LIMITS, "general", 6).value == pytest.approx(0.6)
    assert circuit_limit(LIMITS, "general", 12).value == pytest.approx(1.2)


def test_a_section_has_a_limit_of_its_own():
    assert section_limit(LIMITS, "feed").value == 0.2
    with pytest.raises(InputError, match="holds no row for switch or solenoid contact"):
        section_limit(LIMITS, "contact")


@pytest.mark.parametrize("number", [0, -12])
def test_volts_and_areas_that_are_none_are_refused(number):
    for ask in (
        lambda: rating_factor(FACTORS, "inductive", number),
        lambda: tab_test_amps(TABS, "blade-6.3", number),
        lambda: circuit_limit(LIMITS, "headlamp", number),
    ):
        with pytest.raises(ValueError, match="must be a number above 0"):
            ask()
