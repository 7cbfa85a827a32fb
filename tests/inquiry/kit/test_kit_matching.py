"""Leads of a kit and the wires of a loom: what tells them apart, and what does not."""

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.inquiry.kit.for_job import as_stock, why_not
from planner.inquiry.kit.matching import KitMatch, match_kit
from planner.model.kit import KitLead
from planner.model.loom import End, Loom, Wire

PUSH = ("blade-6.3", "blade-6.3")


def wire(name: str, colour: str = "BK", metres: float = 0.5, ends: tuple[str | None, ...] = PUSH) -> Wire:
    return Wire(
        wire=name,
        colour=(colour,),
        mm2=(1.5,),
        metres=(metres,),
        ends=tuple(End(at="loose", fitting=fitting) for fitting in ends),
    )


def lead(name: str, colour: str = "BK", metres: float = 0.5, ends: tuple[str, ...] = PUSH, **more) -> KitLead:
    said = {"mm2": None, "count": 1, "row": ord(name[0]), **more}
    return KitLead(name, tuple(colour.split(" or ")), metres, ends, **said)


def match(leads: list[KitLead], *wires: Wire) -> KitMatch:
    loom = Loom.model_validate({"loom": "x", "supply": {"volts": 12, "earthed": "negative"}})
    return match_kit(leads, loom.model_copy(update={"wires": wires}), {})


def told(found: KitMatch) -> list[tuple[str, str, bool]]:
    return [
        (" ".join(lead.name for lead in g.leads), " ".join(w.wire for w in g.wires), g.is_settled)
        for g in found.groups
    ]


def test_colour_length_and_ends_tell_leads_apart() -> None:
    three = ("blade-6.3",) * 3
    found = match(
        [
            lead("A", metres=0.92),
            lead("B", "RD"),
            lead("C", ends=("blade", "ring")),
            lead("D", metres=1.5, ends=three),
        ],
        wire("W1", "RD"),
        wire("W2", metres=0.9),
        wire("W3", ends=("ring-8", "blade-4.8")),
        wire("W4", metres=0.75, ends=three),
    )
    assert told(found) == [("A", "W2", True), ("B", "W1", True), ("C", "W3", True), ("D", "W4", True)]
    assert (found.left_over, found.missing) == ((), ())


def test_what_nothing_tells_apart_is_said_and_not_chosen() -> None:
    found = match(
        [lead("A", metres=0.50), lead("B", metres=0.52)], wire("W1", metres=0.5), wire("W2", metres=0.52)
    )
    assert told(found) == [("A B", "W1 W2", False)]
    over = match([lead("A"), lead("B")], wire("W1"))
    assert told(over) == [("A B", "W1", False)]


def test_of_leads_that_are_alike_any_may_go_anywhere() -> None:
    assert told(match([lead("A", count=2)], wire("W1"), wire("W2"))) == [("A A", "W1 W2", True)]
    assert told(match([lead("A", count=3)], wire("W1"), wire("W2"))) == [("A A A", "W1 W2", False)]


def test_lengths_that_differ_by_more_than_a_tape_measures_decide() -> None:
    found = match(
        [lead("A", metres=0.60), lead("B", metres=0.50)], wire("W1", metres=0.5), wire("W2", metres=0.6)
    )
    assert told(found) == [("A", "W2", True), ("B", "W1", True)]


def test_a_lead_of_doubtful_colour_may_be_either() -> None:
    assert told(match([lead("A", "BN or RD")], wire("W1", "RD"))) == [("A", "W1", True)]


@pytest.mark.parametrize(
    "other",
    [
        lead("A", "RD"),
        lead("A", metres=0.7),
        lead("A", ends=("blade-6.3", "ring-8")),
        lead("A", ends=("blade-4.8", "blade-4.8")),
        lead("A", ends=(*PUSH, "blade-6.3")),
        lead("A", mm2=2.5),
    ],
)
def test_a_lead_that_is_no_wire_is_left_over_and_the_wire_is_missing(other: KitLead) -> None:
    found = match([other], wire("W1"))
    assert (found.groups, found.left_over) == ((), (other,))
    assert [missing.wire for missing in found.missing] == ["W1"]


LEADS = st.lists(
    st.tuples(st.sampled_from(["BK", "RD", "BK or RD"]), st.sampled_from([0.4, 0.45, 0.5, 0.52])), max_size=4
)
WIRES = st.lists(st.tuples(st.sampled_from(["BK", "RD"]), st.sampled_from([0.4, 0.5, 0.55])), max_size=4)


@settings(max_examples=150)
@given(LEADS, WIRES)
def test_a_matching_is_the_best_of_all_and_tells_every_other_that_is_as_good(
    leads: list[tuple[str, float]], wires: list[tuple[str, float]]
) -> None:
    kit = [lead(chr(65 + n), colour, metres) for n, (colour, metres) in enumerate(leads)]
    found = match(kit, *(wire(f"W{n}", colour, metres) for n, (colour, metres) in enumerate(wires)))

    def cost(row: int, column: int | None) -> float | None:
        if column is None:
            return 0.0
        off = abs(leads[row][1] - wires[column][1])
        may_be = wires[column][0] in leads[row][0].split(" or ") and off <= max(0.1, 0.25 * wires[column][1])
        return max(0, round(1000 * (off - 0.03))) if may_be else None

    ways = {}
    for chosen in permutations([*range(len(wires)), *[None] * len(leads)], len(leads)):
        costs = [cost(row, column) for row, column in enumerate(chosen)]
        if None not in costs:
            ways[chosen] = (sum(column is None for column in chosen), sum(costs))
    best = [way for way, weight in ways.items() if weight == min(ways.values())]
    of_lead = {name.name: {way[row] for way in best} for row, name in enumerate(kit)}
    assert {left.name for left in found.left_over} == {
        n for n, columns in of_lead.items() if columns == {None}
    }
    for group in found.groups:
        possible = set[int | None]().union(*(of_lead[each.name] for each in group.leads)) - {None}
        assert {f"W{column}" for column in possible} == {each.wire for each in group.wires}
        assert group.is_settled == (len(group.leads) == 1 and len(possible) == 1)


def test_only_what_is_known_for_sure_is_stock_for_a_plan() -> None:
    sure = lead("A", mm2=1.5, count=2)
    assert [(s.colour, s.mm2, s.metres, s.fittings, s.count) for s in as_stock([sure])] == [
        ("BK", 1.5, 0.5, PUSH, 2)
    ]
    for unsure, words in (
        (lead("A"), "its size is not given"),
        (lead("A", "BN or RD", mm2=1.5), "its colour is not sure"),
        (lead("A", ends=("blade", "bullet"), mm2=1.5), "the size of its ends is not given"),
        (lead("A", ends=("bullet",) * 3, mm2=1.5), "it has 3 ends"),
    ):
        assert as_stock([unsure]) == () and words in (why_not(unsure) or "")
