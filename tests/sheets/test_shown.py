"""What of a text can be shown in any form: nothing invisible, nothing that turns or breaks other text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.sheets.render.shown import shown


@pytest.mark.parametrize("hidden", ["\x00", "\x1b", "\x85", "\u202e", "\u2066", "\u200b", "\ufeff", "\n"])
def test_what_nobody_sees_is_a_blank(hidden: str) -> None:
    assert shown(f"a{hidden}b") == "a b"


def test_half_a_character_is_told_by_a_mark() -> None:
    assert shown("a\ud800b") == "a\N{REPLACEMENT CHARACTER}b"


@given(st.text())
def test_what_is_shown_can_be_written_and_stays_as_it_is(text: str) -> None:
    once = shown(text)
    assert once.encode("utf-8").decode("utf-8") == once and shown(once) == once


def test_words_of_any_language_stay() -> None:
    assert shown("שלום, мотор, 電線, Kühler ½") == "שלום, мотор, 電線, Kühler ½"
