"""Parts are narrowed down by family, years, role and volts, each alone and all together."""

import pytest
from planned import catalogue

from planner.model.narrowing import Narrowing, overlap, years_of, years_words
from planner.model.search import find_parts


@pytest.mark.parametrize(
    ("said", "years"),
    [
        ("any", (0, 9999)),
        ("1965", (1965, 1965)),
        ("1961-1966", (1961, 1966)),
        ("1961-", (1961, 9999)),
        ("-1966", (0, 1966)),
    ],
)
def test_years_are_read_as_they_are_written(said, years):
    assert years_of(said) == years
    assert said == "any" or years_words(years) == said


@pytest.mark.parametrize("said", ["", "-", "66", "19655", "1961-66", "1961 - 1966", "now", "1961-1966-1970"])
def test_what_is_no_year_is_refused_with_what_is_expected(said):
    with pytest.raises(ValueError, match="expected a year or years such as 1965"):
        years_of(said)


def test_years_the_wrong_way_round_are_refused():
    with pytest.raises(ValueError, match="first year comes after the last"):
        years_of("1966-1961")


@pytest.mark.parametrize(
    ("one", "other", "have_one_in_common"),
    [
        ("1961-1966", "1966", True),
        ("1961-1966", "1967-", False),
        ("-1960", "1961-", False),
        ("any", "1950", True),
    ],
)
def test_spans_of_years_overlap_if_they_have_a_year_in_common(one, other, have_one_in_common):
    assert overlap(years_of(one), years_of(other)) is have_one_in_common
    assert overlap(years_of(other), years_of(one)) is have_one_in_common


def _found(*words: str, **narrowed: object) -> set[str]:
    found = find_parts(words, catalogue(), Narrowing(**narrowed))  # type: ignore[arg-type]
    return {part.part for part in found.all}


def test_each_narrowing_keeps_just_the_parts_that_are_so():
    parts = catalogue().parts.values()
    assert _found(family="relay") == {p.part for p in parts if p.family == "relay"} != set()
    assert _found(volts=24.0) == {p.part for p in parts if p.volts == 24} != set()
    assert (
        _found(role="53a")
        == {p.part for p in parts if "53a" in {t.role for t in p.terminals.values()}}
        != set()
    )


def test_parts_of_a_year_are_those_made_then_and_those_of_any_year():
    of_1965 = _found("wiper", "switch", years=(1965, 1965))
    assert "wiper-switch-one-speed" in of_1965 and "wiper-switch-two-speed" not in of_1965
    assert "relay-changeover-a" in _found(years=(1965, 1965))


def test_narrowings_add_to_the_words_and_to_one_another():
    assert _found("relay", family="relay", volts=24.0) == {"plough-lamp-relay-24v"}
    assert _found("horn", family="relay", volts=24.0) == set()


def test_what_is_asked_is_said_in_words():
    assert Narrowing("relay", (1961, 9999), "87", 6.0).words == (
        "family relay, years 1961-, a terminal of role 87, 6 V"
    )
    assert Narrowing().words == ""
