"""Feeds at the edge of a loom in one line."""

from typing import Any

import pytest

from planner.model.loom import Feed
from planner.reading.feed_lines import feed_line, read_feed_line
from planner.reading.typed_values import NotUnderstood

VARIABLES = {
    "ignition": ("off", "acc", "on", "start"),
    "dash.switch/lighting": ("off", "side", "Head"),
    "brake pedal": ("released", "pressed"),
}
LIT = {"dash.switch/lighting": ["side", "Head"]}
RUNNING = {"ignition": ["on", "start"]}


@pytest.mark.parametrize(
    ("line", "feed"),
    [
        ("always live", {"role": "30"}),
        ("Always live, fuse 8 A", {"role": "live-fused", "fuse_amps": "8"}),
        ("always live fuse 8 A", {"role": "live-fused", "fuse_amps": "8"}),
        ("permanently hot, 7.5 amps fuse, seen", {"role": "live-fused", "fuse_amps": "7.5", "known": "seen"}),
        ("always live, no fuse, measured", {"role": "30", "known": "measured"}),
        ("live with ignition", {"role": "15", "when": RUNNING}),
        (
            "hot with the key on, fused with 15 A",
            {"role": "ignition-fused", "when": RUNNING, "fuse_amps": "15"},
        ),
        ("live with ignition at on", {"role": "15", "when": {"ignition": ["on"]}}),
        ("live with accessories", {"role": "75", "when": {"ignition": ["acc", "on"]}}),
        ("live with lights, fuse 8 A", {"role": "58", "when": LIT, "fuse_amps": "8"}),
        ("live with lights at head", {"role": "58", "when": {"dash.switch/lighting": ["Head"]}}),
        ("live with brakes", {"role": "54", "when": {"brake pedal": ["pressed"]}}),
    ],
)
def test_a_feed_in_one_line_is_what_the_loom_would_say(line: str, feed: dict[str, Any]) -> None:
    assert read_feed_line(line, VARIABLES) == feed
    said = feed_line(Feed.model_validate(feed), VARIABLES)
    assert said is not None and read_feed_line(said, VARIABLES) == feed


@pytest.mark.parametrize(
    ("line", "said", "hint"),
    [
        ("live", "is no feed in one line", "always live"),
        ("live with the moon", "is no feed in one line", "role and when"),
        ("live with ignition at run", "'run' is no value of it", "off, acc, on, start"),
        ("always live, fuse", "'fuse' is not understood", "fuse 8 A"),
        ("always live, fuse 8 A, fuse 5 A", "'fuse 5 a' is not understood", "fuse 8 A"),
        ("always live, fuse 1,500 A", "'fuse 1' is not understood", "fuse 8 A"),
    ],
)
def test_a_line_that_is_not_sure_is_asked(line: str, said: str, hint: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        read_feed_line(line, VARIABLES)
    assert said in caught.value.message and hint in caught.value.hint


def test_a_loom_without_the_condition_is_told_how_to_say_it() -> None:
    with pytest.raises(NotUnderstood) as caught:
        read_feed_line("live with ignition", {})
    assert "no condition called 'ignition'" in caught.value.message
    assert caught.value.hint == 'conditions: {ignition: ["off", "on"]} in the loom'


def test_a_condition_that_may_mean_two_switches_is_asked() -> None:
    with pytest.raises(NotUnderstood, match="may mean 2 things"):
        read_feed_line("live with lights", {"a.x/lights": ("off", "on"), "b.y/lights": ("off", "on")})


def test_a_feed_that_no_line_says_has_none() -> None:
    assert feed_line(Feed(role="58L", when={"lighting": ("side",)}), VARIABLES) is None
    assert feed_line(Feed(role="30", ohms=0.1), VARIABLES) is None
