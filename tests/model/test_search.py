"""Parts are found by British and American words, by name first, then by what they have."""

import pytest

from planner.model.catalogue import Catalogue
from planner.model.part import Part, Role
from planner.model.search import SYNONYMS, find_parts, words_of

ROLES = {
    "53b": Role(rank=26, meaning="second speed", words=("fast brush",), source="ours", basis="invented"),
}


def part(name: str, title: str, family: str, **more: object) -> Part:
    data = {"part": name, "title": title, "family": family, "source": "bench", "terminals": {"1": {}}, **more}
    return Part.model_validate(data)


PARTS = (
    part("dynamo", "Dynamo, 22 A", "dynamo", terminals={"D+": {}, "F": {}}),
    part("regulator", "Regulator with cut-out", "regulator"),
    part("interior-lamp", "Interior lamp", "interior-lamp"),
    part("side-lamp", "Side lamp", "side-lamp"),
    part("dip-relay", "Dip relay", "dip-relay"),
    part("turn-lamp", "Turn lamp", "turn-lamp"),
    part("fuel-sender", "Fuel tank sender", "fuel-sender"),
    part("stabiliser", "Instrument stabiliser", "stabiliser"),
    part(
        "motor",
        "Wiper motor",
        "wiper-motor",
        words=("screen wiper",),
        note="Sits in rubber.",
        terminals={"53b": {"role": "53b"}, "case": {"by": "mounting"}},
        inside=[{"winding": {"between": ["53b", "case"], "watts": 50, "does": "wipe fast"}}],
    ),
)
CATALOGUE = Catalogue(ROLES, {}, {p.part: p for p in PARTS}, {}, {}, {})


def called(*words: str) -> list[str]:
    return [p.part for p in find_parts(words, CATALOGUE).called]


@pytest.mark.parametrize(
    ("american", "british"),
    [
        ("generator", "dynamo"),
        ("control box", "regulator"),
        ("dome lamp", "interior-lamp"),
        ("dome light", "interior-lamp"),
        ("parking lamp", "side-lamp"),
        ("high-low beam relay", "dip-relay"),
        ("main-dip relay", "dip-relay"),
        ("turn signal", "turn-lamp"),
        ("turn signals", "turn-lamp"),
        ("indicator", "turn-lamp"),
        ("sending unit", "fuel-sender"),
        ("instrument regulator", "stabiliser"),
    ],
)
def test_american_words_find_what_british_words_call(american: str, british: str) -> None:
    assert british in called(american)
    assert british in called(*american.split())


@pytest.mark.parametrize("group", SYNONYMS, ids=lambda group: group[0])
def test_every_word_of_a_group_finds_a_part_called_by_any_other(group: tuple[str, ...]) -> None:
    catalogue = Catalogue({}, {}, {"x": part("x", group[0], "bench")}, {}, {}, {})
    for phrase in group:
        assert [p.part for p in find_parts([phrase], catalogue).called] == ["x"]


@pytest.mark.parametrize("word", ["53B", "fast brush", "second speed", "wipe fast", "winding", "rubber"])
def test_marks_roles_and_what_is_inside_find_a_part_too(word: str) -> None:
    found = find_parts([word], CATALOGUE)
    assert [p.part for p in found.otherwise] == ["motor"]
    assert found.called == ()


def test_a_mark_with_a_sign_is_found_whole() -> None:
    assert [p.part for p in find_parts(["d+"], CATALOGUE).otherwise] == ["dynamo"]


def test_words_of_a_part_of_its_own_count_as_its_name() -> None:
    assert called("screen", "wiper") == ["motor"]


def test_what_is_just_that_comes_before_what_is_more_or_has_to_do_with_it() -> None:
    parts = (
        part("combined", "Rear lamp with turn and stop lamp", "rear-lamp"),
        part("turn-tell-tale", "Tell-tale, for a turn lamp", "warning-lamp"),
        part("led", "Lamp with diodes", "turn-lamp"),
        part("turn-lamp", "Lamp with a bulb", "turn-lamp"),
        part("side", "Turn lamp for the side", "repeater"),
    )
    catalogue = Catalogue({}, {}, {p.part: p for p in parts}, {}, {}, {})
    found = [p.part for p in find_parts(["turn", "lamp"], catalogue).called]
    assert found == ["turn-lamp", "led", "side", "combined", "turn-tell-tale"]


def test_all_words_must_be_answered() -> None:
    assert find_parts(["wiper", "lamp"], CATALOGUE).all == ()


def test_the_start_of_a_longer_word_is_enough_but_a_short_word_must_be_whole() -> None:
    assert called("wip") == ["motor"]
    assert find_parts(["5"], CATALOGUE).all == ()
    assert find_parts(["22"], CATALOGUE).called == (PARTS[0],)


def test_no_words_find_every_part_by_family() -> None:
    found = find_parts([], CATALOGUE).all
    assert len(found) == len(PARTS)
    assert [p.family for p in found] == sorted(p.family for p in PARTS)


def test_a_misspelt_word_brings_near_ones_and_no_part() -> None:
    found = find_parts(["dinamo"], CATALOGUE)
    assert found.all == ()
    assert found.near == ("dynamo",)


def test_a_word_that_the_trade_knows_and_no_part_has_is_told_with_its_other_name_and_no_near_one() -> None:
    found = find_parts(["trunk", "relay"], CATALOGUE)
    assert found.all == () == found.near
    assert ("trunk", "boot") in found.unknown


def test_where_each_word_is_known_none_is_told_to_be_missing() -> None:
    assert find_parts(["wiper", "dynamo"], CATALOGUE).unknown == ()


def test_near_words_are_not_offered_when_something_was_found() -> None:
    assert find_parts(["dynamo"], CATALOGUE).near == ()


def test_words_are_split_at_dashes_and_brackets() -> None:
    assert words_of("High-low (Beam), 12 V") == ("high", "low", "beam", "12", "v")
