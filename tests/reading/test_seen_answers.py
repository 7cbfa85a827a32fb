"""Answers to one question of a hunt, as people type them."""

import pytest

from planner.pipeline import open_catalogue
from planner.reading.catalogue import read_loom
from planner.reading.seen_answers import read_seen_answer
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood


@pytest.fixture(scope="module")
def words() -> SeenWords:
    catalogue = open_catalogue()
    return SeenWords(read_loom("skarrow-8", catalogue), catalogue)


@pytest.mark.parametrize(
    ("kind", "at", "text", "read"),
    [
        ("fuse", "dash.fuse-box:3", "Blown.", ("fuse", "yes")),
        ("fuse", "dash.fuse-box:3", "no", ("fuse", "no")),
        ("warm", "W36", "hot", ("warm", "yes")),
        ("warm", "W36", "stays cold", ("warm", "no")),
        ("lamp", "bay.battery:+", "lit", ("lamp", "lit")),
        ("lamp", "bay.battery:+", "12,4 V", ("volts", 12.4)),
        ("volts", "bay.battery:+", "dark", ("lamp", "dark")),
        ("sits", "W36.1", "unplugged", ("sits", "loose")),
        ("sits", "W36.1", "M on the wiper switch", ("sits", "dash.wiper-switch:M")),
    ],
)
def test_an_answer_is_read_as_what_it_is(
    words: SeenWords, kind: object, at: str, text: str, read: object
) -> None:
    assert read_seen_answer(text, kind, at, words) == read  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "hint"), [("fuse", "blown or sound"), ("warm", "warm or cold"), ("lamp", "lit, dim or dark")]
)
def test_what_says_nothing_is_told_what_would(words: SeenWords, kind: object, hint: str) -> None:
    with pytest.raises(NotUnderstood) as error:
        read_seen_answer("purple", kind, "bay.battery:+", words)  # type: ignore[arg-type]
    assert hint in error.value.hint
