"""How ends attach, as people write it."""

import pytest

from planner.model.wording import fitting_words
from planner.reading.fitting_words import read_fitting
from planner.reading.typed_values import NotUnderstood


@pytest.mark.parametrize(
    ("typed", "fitting"),
    [
        ("blade-6.3", "blade-6.3"),
        ("6.3 mm push-on", "blade-6.3"),
        ("Spade 4.8", "blade-4.8"),
        ("1/4 in tab", "blade-6.3"),
        ('3/16" blade', "blade-4.8"),
        ("push on terminal, .250", "blade-6.3"),
        ("M8 ring", "ring-8"),
        ("eyelet 6 mm", "ring-6"),
        ("bullet", "bullet"),
        ("bare end", "bare"),
    ],
)
def test_a_fitting_in_words_is_read_as_its_code(typed: str, fitting: str) -> None:
    assert read_fitting(typed) == fitting


@pytest.mark.parametrize(
    "fitting", ["blade-2.8", "blade-9.5", "bullet", "bare", "ring-10", "contact", "soldered"]
)
def test_the_words_for_a_fitting_are_read_as_that_fitting(fitting: str) -> None:
    assert read_fitting(fitting_words(fitting)) == fitting


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("push-on", "does not say its width"),
        ("7 mm push-on", "does not say its width"),
        ("ring", "does not say its size"),
        ("M7 ring", "does not say its size"),
        ("thing", "is no fitting"),
        ("", "is no fitting"),
    ],
)
def test_a_fitting_that_is_not_sure_is_asked(typed: str, said: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        read_fitting(typed)
    assert said in caught.value.message and caught.value.hint
