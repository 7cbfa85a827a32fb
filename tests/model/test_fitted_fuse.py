"""The amps of a fuse in words: old ones are printed with the current at which they blow."""

import pytest
from testing_ground import catalogue, ground

from planner.model.fitted_fuse import fuse_words, fuse_words_at
from planner.model.fuses import Marked


@pytest.mark.parametrize(
    ("amps", "marked", "said"), [(35, "blowing", "35 A blowing"), (7.5, "continuous", "7.5 A")]
)
def test_what_is_printed_is_said_with_what_it_means(amps: float, marked: Marked, said: str) -> None:
    assert fuse_words(amps, marked) == said


def test_of_a_fuse_in_a_loom_its_part_says_what_is_printed() -> None:
    loom, parts = ground("horn-and-relay").wired.loom, catalogue().parts
    assert fuse_words_at(loom, parts, "dash.fuse-box:1", 35.0) == "35 A blowing"
    assert fuse_words_at(loom, parts, "dash.nothing:1", 35.0) == "35 A"


def test_one_that_somebody_put_in_is_of_today() -> None:
    loom, parts = ground("horn-and-relay").wired.loom, catalogue().parts
    other = loom.model_copy(update={"fuses": {"dash.fuse-box:1": 15.0}})
    assert fuse_words_at(other, parts, "dash.fuse-box:1", 15.0) == "15 A"
