"""Swaps are found by what people call them."""

import pytest
from planned import catalogue

from planner.model.swap_search import find_swaps, near_words, nearest_swaps
from planner.reading.catalogue import read_jobs

JOBS = read_jobs(catalogue())


def found(text: str) -> tuple[str, ...]:
    return find_swaps([text], JOBS, catalogue())


@pytest.mark.parametrize(
    ("text", "job"),
    [
        ("two-speed wipers", "two-speed-wipers"),
        ("TWO SPEED WIPERS", "two-speed-wipers"),
        ("motor only two-speed", "two-speed-motor-only"),
        ("hazard flasher", "hazard-flasher"),
        ("reproduction dome light", "interior-lamp-without-earth"),
        ("ballast coil", "ballast-coil"),
        ("mirrored fuse box", "fuse-box-mirrored"),
        ("trailer socket 13", "trailer-socket-13"),
        ("dip relay five to four", "dip-relay-five-to-four"),
        ("auto reproduction dome light", "interior-lamp-without-earth"),
    ],
)
def test_plain_words_find_the_swap(text: str, job: str) -> None:
    assert found(text) == (job,)


def test_words_of_the_parts_count_where_no_title_has_them() -> None:
    assert "ballast-coil" not in found("mounting screw")
    assert "hazard-flasher" in found("mounting screw")


def test_words_that_several_answer_to_find_them_all() -> None:
    assert {"fuse-box-mirrored", "fuse-box-without-tap"} <= set(found("fuse box"))


def test_words_that_nothing_answers_to_find_nothing_but_what_is_near() -> None:
    assert found("carburettor") == ()
    assert "wiper" in near_words(["wippers"], JOBS)


@pytest.mark.parametrize(
    ("text", "jobs"),
    [
        (
            "my dynamo is to be replaced by an alternator",
            {"dynamo-to-alternator", "dynamo-to-small-alternator"},
        ),
        (
            "new headlights",
            {"brighter-headlamps", "headlamps-of-the-old-watts", "headlamps-with-two-relays"},
        ),
    ],
)
def test_what_says_nothing_about_a_swap_does_not_hide_it(text: str, jobs: set[str]) -> None:
    assert set(found(text)) == jobs


def test_where_no_swap_answers_to_all_words_the_nearest_are_told_and_rare_words_count_more() -> None:
    assert found("tow bar electrics 13 pin") == ()
    assert nearest_swaps(["tow bar electrics 13 pin"], JOBS, catalogue())[0] == "trailer-socket-13"
    near = nearest_swaps(["LED rear lights on the roof"], JOBS, catalogue())
    assert {"led-rear-lamps", "led-rear-lamps-and-flasher"} <= set(near)
    assert nearest_swaps(["carburettor"], JOBS, catalogue()) == ()
    assert nearest_swaps(["the to of"], JOBS, catalogue()) == ()
