"""The amps of a fuse in words: old ones are printed with the current at which they blow."""

import pytest
from small_looms import Bench, make_parts
from testing_ground import catalogue, ground

from planner.model.fitted_fuse import fuse_words, fuse_words_at
from planner.model.former_fuse import fuses_with_former
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


BOXES = make_parts("""
old: {terminals: {"1": "30", "2": "15", "5": live-fused, "6": ignition-fused},
      inside: [{fuse: {between: ["1", "5"], amps: 8}}, {fuse: {between: ["2", "6"], amps: 16}}]}
new: {terminals: {"1": "15", "2": "30", "5": ignition-fused, "6": live-fused, "6a": live-fused},
      inside: [{fuse: {between: ["1", "5"], amps: 16}}, {fuse: {between: ["2", "6"], amps: 10}},
               {contact: {join: ["6", "6a"]}}]}
""")


def test_a_fuse_is_held_against_the_one_that_its_ends_had_before_not_against_its_mark() -> None:
    feeds = {"x": {"role": "31"}}
    before = Bench(BOXES, {"box": "old"}, ["feed:x > box:5", "feed:x > box:6"], feeds)
    swapped = Bench(BOXES, {"box": "new"}, ["feed:x > box:6a", "feed:x > box:5"], feeds)
    found = fuses_with_former(before.loom, swapped.loom, before.catalogue.parts, "box")
    assert [(at, now.amps, was.amps) for at, now, was in found] == [("box:5", 16, 16), ("box:6", 10, 8)]
    assert list(fuses_with_former(before.loom, swapped.loom, before.catalogue.parts, "nowhere")) == []
    bare = Bench(BOXES, {"box": "new"}, [], feeds)
    assert list(fuses_with_former(before.loom, bare.loom, before.catalogue.parts, "box")) == []
