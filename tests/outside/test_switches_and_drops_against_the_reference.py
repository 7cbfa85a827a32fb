"""Switches against FAA AC 43.13-1B, drops against handbook, ABYC and trade limits, lamps against UN R37."""

import pytest


@pytest.mark.parametrize(("volts", "system"), [(6, "12"), (12, "12"), (14, "12"), (24, "28"), (28, "28")])
def test_every_switch_factor_is_met(standards, reference, volts, system):
    """FAA AC 43.13-1B table 11-4; confirmed (official circular)."""
    rows = [row for row in reference("switch-derating") if row["system_v"] == system]
    assert len(rows) == 4
    for row in rows:
        found = standards.switch_factor(row["load"].split(" ")[0], volts)
        assert (found.value, found.basis) == (float(row["factor"]), row["basis"])


def test_example_c2_four_amps_of_lamps_want_a_switch_for_twenty(standards):
    """FAA AC 43.13-1B table 11-4; rule confirmed (page), product computed."""
    assert 4 * standards.switch_factor("lamp", 12).value == 20


WHOLE = "whole circuit"
POSITIVE = "positive line only"
SOURCES = [
    ("lamp below 15 W", "lighting, lamps below 15 W", WHOLE),
    ("lamp above 15 W", "lighting, lamps above 15 W", WHOLE),
    ("headlamp", "headlamps", WHOLE),
    ("charging", "charging line, alternator B+ to battery", POSITIVE),
    ("starter main", "starter main cable", POSITIVE),
    ("starter control", "starter control line, single-winding solenoid", WHOLE),
    ("control line", "other control lines, switch to relay or horn", WHOLE),
]


@pytest.mark.parametrize("volts", [12, 24])
@pytest.mark.parametrize(("circuit", "row_name", "scope"), SOURCES)
def test_a_circuit_may_lose_what_its_row_says(standards, reference, circuit, row_name, scope, volts):
    """Whole circuits: automotive handbook, memory. Positive lines: trade journal 2017, confirmed (1 page)."""
    (row,) = (
        r
        for r in reference("drops")
        if (r["circuit"], r["scope"]) == (row_name, scope) and r["system_v"] in ("any", str(volts))
    )
    found = standards.drop_limit(circuit, volts)
    assert (found.value, found.basis) == (float(row["limit_v"]), row["basis"])
    assert scope in found.source
    assert found.is_from_memory == (scope == WHOLE)


# The confirmed limit of the positive line belonging to each limit of a whole circuit.
POSITIVE_LINES = [
    ("lamp below 15 W", "lighting feed, light switch (30) to lamps below 15 W"),
    ("lamp above 15 W", "lighting feed, light switch (30) to lamps above 15 W"),
    ("headlamp", "lighting feed, light switch (30) to headlamps"),
    ("starter control", "starter control line to terminal 50, single-winding solenoid"),
    ("control line", "other control lines, switch to relay or horn"),
]


@pytest.mark.parametrize("volts", [12, 24])
@pytest.mark.parametrize(("circuit", "row_name"), POSITIVE_LINES)
def test_a_whole_circuit_may_lose_more_than_its_positive_line(standards, reference, circuit, row_name, volts):
    """The remembered column beside the confirmed one: trade journal 2017, confirmed (1 page)."""
    (line,) = (
        float(r["limit_v"])
        for r in reference("drops")
        if (r["circuit"], r["scope"]) == (row_name, POSITIVE) and r["system_v"] in ("any", str(volts))
    )
    assert line < standards.drop_limit(circuit, volts).value <= line + 1.0


@pytest.mark.parametrize(("volts", "limit"), [(6, 0.6), (12, 1.2), (24, 2.4)])
def test_anything_else_may_lose_a_tenth(standards, volts, limit):
    """ABYC E-11, general lighting and other non-critical circuits, feed and return; confirmed (2 pages)."""
    found = standards.drop_limit("general", volts)
    assert found.value == pytest.approx(limit)
    assert found.basis == "confirmed (2 secondary pages)"


@pytest.mark.parametrize(("section", "limit"), [("earth", 0.1), ("feed", 0.2), ("contact", 0.3)])
def test_a_section_may_lose_what_the_trade_guideline_says(standards, section, limit):
    """Trade test guideline (figures usually credited to SAE); confirmed (1 trade page)."""
    found = standards.section_drop_limit(section)
    assert (found.value, found.basis) == (limit, "confirmed (1 trade page)")
