"""What people write down when they read a meter."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.reading.meter_words import CLOSED, NOT_TAKEN, OPEN, read_between
from planner.reading.typed_values import NotUnderstood


@pytest.mark.parametrize(
    ("text", "ohms"),
    [
        ("0.2", 0.2),
        ("0,2 ohm", 0.2),
        ("0.2ohm", 0.2),
        ("3.5 Ohms", 3.5),
        ("3.5 Ω", 3.5),
        ("3.5 Ω", 3.5),
        ("75R", 75.0),
        ("1.2k", 1200.0),
        ("1.2 kohm", 1200.0),
        ("1.2KΩ", 1200.0),
        ("1k2", 1200.0),
        ("3R5", 3.5),
        ("120 mΩ", 0.12),
        ("0", 0.0),
        (".3", 0.3),
    ],
)
def test_ohms_are_read_however_they_are_written(text: str, ohms: float) -> None:
    assert read_between(text) == pytest.approx(ohms)


@pytest.mark.parametrize("text", ["", " ", "?", "not taken", "N/A"])
def test_what_was_not_taken_is_nothing(text: str) -> None:
    assert read_between(text) is None


@pytest.mark.parametrize("text", ["beeps", "Beep", "closed", "x", "yes", "0.00 V"])
def test_a_beep_is_a_way_through(text: str) -> None:
    assert read_between(text) == "closed"


@pytest.mark.parametrize("text", ["open", "OL", "O.L", "0L", "∞", "no beep", "1.5 MΩ", "2M", "20 megohm"])
def test_what_is_off_the_scale_or_only_leaks_is_open(text: str) -> None:
    assert read_between(text) == "open"


@pytest.mark.parametrize("text", ["0.6 V", "550mV", "0,55 volts"])
def test_volts_on_the_diode_range_are_a_junction(text: str) -> None:
    assert read_between(text) == "drop"


@pytest.mark.parametrize(
    "text",
    ["-", "—", "-1", "about 3", "12 V", "3..5", "3.5 A", "1,500", "1e3", "nan", ">2k", "2.5 kW", "=1+1"],
)
def test_what_may_mean_anything_is_asked_and_not_guessed(text: str) -> None:
    with pytest.raises(NotUnderstood) as error:
        read_between(text)
    assert error.value.message
    assert error.value.hint


def test_no_word_means_two_things() -> None:
    assert not CLOSED & OPEN
    assert not (CLOSED | OPEN) & NOT_TAKEN


@given(st.text(max_size=20))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        says = read_between(text)
    except NotUnderstood:
        return
    assert says in (None, "open", "closed", "drop") or (isinstance(says, float) and 0 <= says < 1e6)
