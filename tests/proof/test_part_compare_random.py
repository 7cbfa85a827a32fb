"""Random switches: they compare as alike just where the circuit sees no difference."""

from itertools import permutations
from typing import Any

from comparisons import SHORTFALLS, pairs, rows
from hypothesis import given, settings
from hypothesis import strategies as st
from small_looms import ROLES, Bench, make_part, read

from planner.model.part import Part
from planner.proof.part_compare import compare_parts

MARKS = {"a": "30", "b": "58", "c": "54"}
DETENTS = ("off", "low", "high")


@st.composite
def switches(draw: st.DrawFn) -> Part:
    """A switch with three terminals and any contacts, under any marks."""
    marks = draw(st.sampled_from(list(permutations("xyz"))))
    named = dict(zip(MARKS, marks, strict=True))
    joins = st.sampled_from([("a", "b"), ("a", "c"), ("b", "c"), ("a", "b", "c")])
    contact = st.tuples(joins, st.sets(st.sampled_from(DETENTS), min_size=1))
    contacts = draw(st.lists(contact, max_size=3))
    inside: list[Any] = [{"control": {"name": "knob", "positions": list(DETENTS)}}]
    inside += [
        {"contact": {"join": [named[m] for m in join], "when": {"knob": sorted(when)}}}
        for join, when in contacts
    ]
    return make_part("switch", {"terminals": {named[m]: MARKS[m] for m in MARKS}, "inside": inside})


PROBE = make_part(
    "probe",
    read(
        '{terminals: {"58": "58", "31": "31"}, inside: [{lamp: {between: ["58", "31"], watts: 5, does: x}}]}'
    ),
)


def seen(part: Part) -> dict[tuple[str, str, str], str]:
    """How a lamp on one terminal appears with the feed on another, by role, in each position."""
    mark = {t.role: m for m, t in part.terminals.items()}
    found = {}
    for fed, probed in permutations(MARKS.values(), 2):
        bench = Bench(
            {"switch": part, "probe": PROBE},
            {"s": "switch", "p": "probe"},
            [f"feed:live > s:{mark[fed]}", f"s:{mark[probed]} > p:58", "p:31 > earth"],
            {"live": {"role": "30"}},
        )
        for knob in DETENTS:
            found[fed, probed, knob] = bench.shows_in("p/x", {"s/knob": knob})
    return found


@settings(max_examples=60)
@given(switches(), switches())
def test_switches_are_alike_just_where_the_circuit_sees_no_difference(one: Part, other: Part) -> None:
    comparison = compare_parts(one, other, ROLES)
    are_alike = not rows(comparison, *SHORTFALLS)
    assert are_alike == (seen(one) == seen(other))
    assert pairs(comparison) == {
        m: n for m, t in one.terminals.items() for n, u in other.terminals.items() if t.role == u.role
    }


@settings(max_examples=60)
@given(switches())
def test_any_switch_is_a_drop_in_for_itself(part: Part) -> None:
    assert compare_parts(part, part, ROLES).verdict == "drop-in"


@settings(max_examples=60)
@given(switches(), switches())
def test_kept_joints_are_the_same_either_way_round(one: Part, other: Part) -> None:
    there, back = compare_parts(one, other, ROLES), compare_parts(other, one, ROLES)
    assert bool(rows(there, "lost", "changed")) == bool(rows(back, "unintended", "changed"))
    assert (there.verdict == "drop-in") == (back.verdict == "drop-in")
