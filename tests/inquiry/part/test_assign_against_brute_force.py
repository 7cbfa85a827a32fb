"""Every way to assign terminals and positions is found, and no other: against trying all of them."""

from collections.abc import Iterator
from itertools import permutations, product
from math import inf
from typing import Any

from benches import part, readings
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.assign import Way, find_ways
from planner.inquiry.part.bench_view import BenchView, bench_view
from planner.inquiry.part.symmetry import exchanges
from planner.model.part import Part
from planner.model.readings import BenchReadings, Says

MARKS = ("1", "2", "3", "4")
LABELS = ("a", "b", "c")
ALL = 10_000
Found = tuple[tuple[str, ...], tuple[int, ...]]


@st.composite
def parts(draw: st.DrawFn) -> Part:
    """A part of two to four terminals with a switch of up to three positions, perhaps a coil, a few loads."""
    marks = [*MARKS[: draw(st.integers(2, 4))], *(["case"] if draw(st.booleans()) else [])]
    pair = st.lists(st.sampled_from(marks), min_size=2, max_size=2, unique=True)
    labels = LABELS[: draw(st.integers(1, 3))]
    inside: list[dict[str, Any]] = []
    if len(labels) > 1:
        inside.append({"control": {"name": "switch", "positions": list(labels)}})
    for _ in range(draw(st.integers(0, 3))):
        closed = draw(st.lists(st.sampled_from(labels), min_size=1, unique=True))
        when = {"switch": closed} if len(labels) > 1 else {}
        inside.append({"contact": {"join": draw(pair), "when": when}})
    for number in range(draw(st.integers(0, 2))):
        ohms = draw(st.sampled_from((5.0, 5.0, 80.0, 1000.0)))
        resistor = {"resistor": {"between": draw(pair), "ohms": ohms}}
        diode = {"diode": {"between": draw(pair)}}
        coil = {"name": f"k{number}", "pulls_in_v": 7, "drops_out_v": 3}
        relay = {"coil": {"between": draw(pair), "ohms": ohms, **coil}}
        inside.append(draw(st.sampled_from((resistor, diode, relay))))
    return part(marks, inside)


@st.composite
def parts_and_readings(draw: st.DrawFn) -> tuple[Part, BenchReadings]:
    """A part and some readings, most of them true of one way to call its terminals and positions."""
    thing = draw(parts())
    view = bench_view(thing)
    wired = [mark for mark, terminal in thing.terminals.items() if terminal.by == "wire"]
    marks = list(view.marks) if draw(st.booleans()) else wired
    there = draw(st.permutations(marks))
    names = "ABCDE"[: len(there)]
    places = draw(st.permutations(range(len(view.alike))))[: draw(st.integers(1, 3))]
    rows: list[tuple[str, str, str, Says]] = []
    for position, place in enumerate(places):
        for one, other in permutations(range(len(there)), 2):
            if draw(st.booleans()):
                row = view.alike[place].ohms[view.marks.index(there[one])]
                true = _reading(row[view.marks.index(there[other])])
                says = true if draw(st.integers(0, 9)) else draw(st.sampled_from(("open", "closed", 80.0)))
                rows.append((f"p{position}", names[one], names[other], says))
    if not rows:
        rows.append(("p0", names[0], names[1], "open"))
    powered = [f"p{n}" for n, place in enumerate(places) if view.alike[place].is_powered]
    read = {row[0] for row in rows}
    return thing, readings(rows, *names, powered=[name for name in powered if name in read])


def _reading(ohms: tuple[float, float]) -> Says:
    if ohms[1] == inf:
        return "open"
    return "closed" if ohms[1] <= 2.0 else (ohms[0] + ohms[1]) / 2


def all_ways(view: BenchView, asked: Asked, most_wrong: int) -> Iterator[Found]:
    """Yield every way, by trying each."""
    bench = asked.bench
    wired = {mark for mark, terminal in view.part.terminals.items() if terminal.by == "wire"}
    groups = [
        [n for n, alike in enumerate(view.alike) if alike.is_powered is (position in bench.powered)]
        for position in bench.positions
    ]
    for places in product(*groups):
        if not view.comes_round and any(places.count(n) > len(view.alike[n].settings) for n in places):
            continue
        for marks in permutations(view.marks, len(bench.terminals)):
            at = [view.marks.index(mark) for mark in marks]
            wrong = sum(
                not q.found.agrees(view.alike[places[q.position]].ohms[at[q.red]][at[q.black]])
                for q in asked.questions
            )
            if wired <= set(marks) and wrong <= most_wrong:
                yield marks, places


def closure(view: BenchView, ways: tuple[Way, ...]) -> set[Found]:
    """The ways that are found, and all that follow from them by terminals that are alike."""
    moves = [
        {view.marks[a]: view.marks[b] for pair in exchange for a, b in (pair, pair[::-1])}
        for exchange in exchanges(view)
    ]
    known = {(way.marks, way.places) for way in ways}
    queue = list(known)
    while queue:
        marks, places = queue.pop()
        for move in moves:
            other = tuple(move.get(mark, mark) for mark in marks), places
            if other not in known:
                known.add(other)
                queue.append(other)
    return known


@settings(max_examples=250)
@given(case=parts_and_readings(), most_wrong=st.integers(0, 1))
def test_the_search_finds_what_trying_every_way_finds(
    case: tuple[Part, BenchReadings], most_wrong: int
) -> None:
    view, asked = bench_view(case[0]), Asked(case[1])
    found = find_ways(view, asked, most_wrong, most_ways=ALL)
    expected = set(all_ways(view, asked, most_wrong))
    assert found.is_complete
    assert closure(view, found.found) == expected
    assert sum(way.times for way in found.found) == len(expected)


@settings(max_examples=100)
@given(case=parts_and_readings())
def test_what_a_way_calls_wrong_is_just_what_does_not_fit(case: tuple[Part, BenchReadings]) -> None:
    view, asked = bench_view(case[0]), Asked(case[1])
    for way in find_ways(view, asked, 1).found:
        at = [view.marks.index(mark) for mark in way.marks]
        unfit = [
            q.reading
            for q in asked.questions
            if not q.found.agrees(view.alike[way.places[q.position]].ohms[at[q.red]][at[q.black]])
        ]
        assert set(way.wrong) == set(unfit)
        assert len(way.wrong) == len(unfit)


def test_a_search_that_was_stopped_says_so() -> None:
    view = bench_view(part(MARKS, [{"contact": {"join": ["1", "2"]}}, {"diode": {"between": ["3", "4"]}}]))
    sparse = Asked(readings([("p0", "A", "B", "open")], *"ABCD"))
    whole = find_ways(view, sparse, most_ways=ALL)
    assert whole.is_complete
    assert len(whole.found) > 2
    some = find_ways(view, sparse, most_ways=2)
    assert not some.is_complete
    assert some.found == whole.found[:2]
