"""Readings that no part could give are found, with the others that say so; what a part gives never is."""

from itertools import permutations
from math import inf

from benches import asked, readings
from hypothesis import given, settings
from hypothesis import strategies as st
from test_assign_against_brute_force import parts

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.bench_view import bench_view
from planner.inquiry.part.contradictions import contradictions, suspects
from planner.model.part import Part
from planner.model.readings import Says


def test_a_to_c_cannot_be_open_where_a_to_b_and_b_to_c_are_joined() -> None:
    bench = asked([("on", "A", "B", "closed"), ("on", "B", "C", 0.2), ("on", "A", "C", "open")])
    (found,) = contradictions(bench)
    assert found.reading.pair == ("A", "C")
    assert [reading.pair for reading in found.way] == [("A", "B"), ("B", "C")]
    assert {reading.pair for reading in suspects(bench, [found])} == {("A", "B"), ("B", "C"), ("A", "C")}


def test_in_another_position_it_may_be_open() -> None:
    rows: list[tuple[str, str, str, Says]] = [("on", "A", "B", "closed"), ("on", "B", "C", "closed")]
    assert contradictions(asked([*rows, ("off", "A", "C", "open")])) == ()


def test_ohms_that_are_more_than_a_way_around_has_contradict_it() -> None:
    rows: list[tuple[str, str, str, Says]] = [("on", "A", "B", 5.0), ("on", "B", "C", 5.0)]
    assert contradictions(asked([*rows, ("on", "A", "C", 10.2)])) == ()
    (found,) = contradictions(asked([*rows, ("on", "A", "C", 30.0)]))
    assert found.reading.says == 30.0


def test_a_diode_that_was_read_both_ways_is_no_contradiction() -> None:
    assert contradictions(asked([("rest", "A", "B", "closed"), ("rest", "B", "A", "open")])) == ()


def test_one_reading_written_down_twice_and_differently_contradicts_itself() -> None:
    bench = asked([("on", "A", "B", "closed"), ("on", "A", "B", "open")])
    assert [c.reading.says for c in contradictions(bench)] == ["open"]


def test_only_what_alone_resolves_everything_is_suspected() -> None:
    bench = asked(
        [
            ("on", "A", "B", "closed"),
            ("on", "B", "C", "closed"),
            ("on", "A", "C", "open"),
            ("off", "A", "B", "closed"),
            ("off", "A", "B", "open"),
        ]
    )
    assert len(contradictions(bench)) == 2
    assert suspects(bench, contradictions(bench)) == ()


@settings(max_examples=100)
@given(thing=parts(), data=st.data())
def test_what_any_part_gives_is_free_of_contradiction(thing: Part, data: st.DataObject) -> None:
    view = bench_view(thing)
    rows: list[tuple[str, str, str, Says]] = []
    for place, alike in enumerate(view.alike):
        for one, other in permutations(range(len(view.marks)), 2):
            least, most = alike.ohms[one][other]
            # A junction is left out: whether it conducts depends on the meter's range.
            if data.draw(st.booleans()) and (most < inf or least == inf):
                says: Says = "open" if least == inf else "closed" if most <= 2 else (least + most) / 2
                rows.append((f"p{place}", view.marks[one], view.marks[other], says))
    junctions = any(element.element == "diode" for element in thing.inside)
    if rows and not junctions:
        assert contradictions(Asked(readings(rows))) == ()
