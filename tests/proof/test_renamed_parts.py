"""A part whose controls are called otherwise is proven by what they mean and do, never falsely alike."""

from collections.abc import Iterator, Mapping
from itertools import product
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from small_looms import Bench, make_part, make_parts
from tiny import LIVE, outcomes

from planner.model.delta import copy_loom
from planner.model.job import Job
from planner.model.old_names import called_as, meanings_as
from planner.model.part import Part
from planner.model.reach import joined_inside
from planner.model.same_variables import match_variables
from planner.proof.prove import Proof, Prover

LAMPS = make_parts(
    """
    side-lamp:
      terminals: {"58": "58", "31": mounting}
      inside: [{lamp: {between: ["58", "31"], watts: 5, does: side lamp, duty: tail}}]
    head-lamp:
      terminals: {"56": "56", "31": mounting}
      inside: [{lamp: {between: ["56", "31"], watts: 45, does: head lamp, duty: head}}]
    """
)
OUTPUTS = {"58": "side", "56": "head"}
TERMINALS = {"30": "30", "58": "58", "56": "56"}


def switch(name: str, *inside: Any) -> Part:
    return make_part(name, {"terminals": TERMINALS, "inside": inside})


def lighting(control: str, *positions: str) -> Part:
    """A switch of off, side and head by these labels and meanings: ``label`` or ``label: meaning``."""
    labels = [text.partition(": ")[0] for text in positions]
    said = [{label: text.partition(": ")[2] or label} for label, text in zip(labels, positions, strict=True)]
    by_meaning = {next(iter(p.values())): next(iter(p)) for p in said}
    side, head = by_meaning["side"], by_meaning["head"]
    return switch(
        f"{control}-{len(labels)}",
        {"control": {"name": control, "positions": said}},
        {"contact": {"join": ["30", "58"], "when": {control: [side, head]}}},
        {"contact": {"join": ["30", "56"], "when": {control: head}}},
    )


OLD = lighting("lighting", "off", "side", "head")


def swapped(old: Part, new: Part, called: Mapping[str, str] | None = None, **job: Any) -> Proof:
    """The proof of a new switch in place of an old one, every end on the terminal of its role.

    ``called`` is what its variables go by, if not as they are matched.
    """
    parts = {**LAMPS, old.part: old, new.part: new}
    bench = Bench(
        parts,
        {"dash": old.part, "side": "side-lamp", "head": "head-lamp"},
        ["feed:live > dash:30", "dash:58 > side:58", "dash:56 > head:56"],
        LIVE,
    )
    asked = Job.model_validate(
        {"job": "small", "loom": "small", "swaps": [{"at": "dash", "fit": new.part}], **job}
    )
    place = (
        bench.loom.places["dash"]
        .model_copy(update={"part": new.part})
        .calling(called_as(old, new) if called is None else called, meanings_as(old, new))
    )
    after = copy_loom(bench.loom, places={**bench.loom.places, "dash": place})
    return Prover(bench.loom, bench.catalogue, asked).prove(after)


def test_another_name_and_other_labels_of_equal_meaning_change_nothing() -> None:
    proof = swapped(OLD, lighting("lamps", "0: off", "I: side", "II: head"))
    assert proof.faults == ()
    assert {f.outcome for f in proof.findings} == {"kept"}
    assert outcomes(proof, "head/head lamp")["kept", "full", "full"] == [{"dash/lighting": "II"}]


def test_equal_labels_with_exchanged_meanings_are_other_positions() -> None:
    """The knob says 1 and 2 as before, and what they mean is exchanged: by meaning nothing is lost."""
    old = lighting("lighting", "off", "1: side", "2: head")
    assert swapped(old, lighting("lighting", "off", "2: side", "1: head")).faults == ()


def test_the_order_of_positions_says_nothing() -> None:
    assert swapped(OLD, lighting("lamps", "off", "head", "side")).faults == ()


def test_a_further_position_is_compared_with_what_is_near_it_as_ever() -> None:
    new = lighting("lamps", "off", "side", "head", "parking")
    assert [(f.kind, f.hazard) for f in swapped(OLD, new).faults] == [("hazard", "dead-position")]


def test_two_switches_of_other_names_are_told_apart_by_what_they_feed() -> None:
    def two(one: str, other: str) -> Part:
        return switch(
            f"{one}-{other}",
            {"control": {"name": one, "positions": ["off", "on"]}},
            {"control": {"name": other, "positions": ["off", "on"]}},
            {"contact": {"join": ["30", "58"], "when": {"s" if "s" in (one, other) else "x": "on"}}},
            {"contact": {"join": ["30", "56"], "when": {"h" if "h" in (one, other) else "y": "on"}}},
        )

    assert swapped(two("s", "h"), two("x", "y")).faults == ()
    assert swapped(two("s", "h"), two("y", "x")).faults == ()


def test_a_position_under_another_label_that_does_the_same_is_kept() -> None:
    old = switch(
        "one",
        {"control": {"name": "lighting", "positions": ["off", "on"]}},
        {"contact": {"join": ["30", "56"], "when": {"lighting": "on"}}},
    )
    new = switch(
        "two",
        {"control": {"name": "lighting", "positions": ["off", "half", "whole"]}},
        {"contact": {"join": ["30", "58"], "when": {"lighting": "half"}}},
        {"contact": {"join": ["30", "56"], "when": {"lighting": "whole"}}},
    )
    assert [f.what for f in swapped(old, new).faults if f.kind == "lost"] == []


def test_a_control_split_in_two_is_a_loss_until_somebody_says_what_is_what() -> None:
    new = switch(
        "split",
        {"control": {"name": "side lamps", "positions": ["off", "side"]}},
        {"control": {"name": "headlamps", "positions": ["off", "head"]}},
        {"contact": {"join": ["30", "58"], "when": {"side lamps": "side"}}},
        {"contact": {"join": ["30", "56"], "when": {"headlamps": "head"}}},
    )
    assert {(f.kind, f.what) for f in swapped(OLD, new).faults} >= {("lost", "head lamp")}


def test_a_wish_may_name_the_control_and_its_positions_as_either_part_does() -> None:
    new = lighting("lamps", "0: off", "I: side", "II: head")
    for when in ({"lighting": "side"}, {"dash/lamps": "I"}, {"lamps": "side"}, {"dash/lighting": "I"}):
        wants = [{"what": "head lamp", "is": "full", "when": when}]
        assert [(f.kind, f.what, f.share) for f in swapped(OLD, new, wants=wants).faults] == [
            ("missing", "head lamp", 1.0)
        ], when


LABELS = ("off", "on", "1", "2")
POSITIONS = st.lists(
    st.tuples(st.sampled_from(LABELS), st.sampled_from(("off", "side", "head"))),
    min_size=2, max_size=3, unique_by=lambda p: p[0],
)  # fmt: skip


@st.composite
def switches(draw: st.DrawFn, name: str) -> Part:
    """A switch of one or two controls that joins its outputs in any positions."""
    names = draw(st.sampled_from((("a",), ("b",), ("a", "b"), ("b", "c"), ("c", "a"))))
    controls = {control: draw(POSITIONS) for control in names}
    inside: list[Any] = [
        {"control": {"name": control, "positions": [{label: meaning} for label, meaning in said]}}
        for control, said in controls.items()
    ]
    for output in OUTPUTS:
        when = {
            control: draw(st.lists(st.sampled_from([label for label, _ in said]), min_size=1, unique=True))
            for control, said in controls.items()
            if draw(st.booleans())
        }
        inside.append({"contact": {"join": ["30", output], "when": when}})
    return switch(name, *inside)


def lit(part: Part, setting: dict[str, str]) -> set[str]:
    return set(joined_inside(part, "30", setting)) & set(OUTPUTS)


Names = Mapping[str, str]  # of a control of the old part: that of the new


def alike(old: Part, new: Part, names: Names, name: str, label: str) -> list[str]:
    """The positions of the new part that mean what one of the old part's does, else are labelled so."""
    if name not in names:
        return [""] if label == old.variables[name][0] else []
    meaning = {p.label: p.meaning for p in old.controls[name].positions}[label]
    there = new.controls[names[name]].positions
    by_meaning = [p.label for p in there if p.meaning == meaning]
    ours = {p.meaning for p in old.controls[name].positions}
    unpaired = [p for p in there if p.meaning not in ours]
    return by_meaning or [p.label for p in unpaired if meaning == p.label or label == p.meaning]


def counterparts(old: Part, new: Part, names: Names, setting: dict[str, str]) -> list[dict[str, str]]:
    """Every setting of the new part that means what one of the old part does, what only it has at rest."""
    choices = {name: [labels[0]] for name, labels in new.variables.items()}
    choices |= {names[n]: alike(old, new, names, n, label) for n, label in setting.items() if n in names}
    return [dict(zip(choices, row, strict=True)) for row in product(*choices.values())]


def anywhere(
    new: Part, names: Names, gone: list[str], there: list[dict[str, str]]
) -> Iterator[dict[str, str]]:
    """Some settings of the new part with what stands for the controls in ``gone`` moved anywhere."""
    free = [names[name] for name in gone if name in names]
    for setting in there:
        for labels in product(*(new.variables[name] for name in free)):
            yield setting | dict(zip(free, labels, strict=True))


def assert_nothing_is_lost(old: Part, new: Part, names: Names) -> None:
    """Work both parts by hand, position by position, under a match."""
    for row in product(*old.variables.values()):
        setting = dict(zip(old.variables, row, strict=True))
        on = lit(old, setting)
        gone = [n for n, label in setting.items() if not alike(old, new, names, n, label)]
        known = {n: label for n, label in setting.items() if n not in gone}
        there = counterparts(old, new, names, known)
        if not gone:
            assert any(on <= lit(new, other) for other in there), (setting, there)
            continue
        # What is on in a position that is gone is on whatever the control does, or under another label.
        whatever = [
            dict(zip(gone, others, strict=True)) for others in product(*(old.variables[n] for n in gone))
        ]
        is_always_on = all(on <= lit(old, setting | others) for others in whatever)
        assert is_always_on or any(on <= lit(new, other) for other in anywhere(new, names, gone, there)), gone


@settings(max_examples=100)
@given(switches("old"), switches("new"))
def test_what_is_proven_to_be_no_loss_is_none_in_any_position(old: Part, new: Part) -> None:
    if not swapped(old, new).faults:
        assert_nothing_is_lost(old, new, match_variables(old, new).names)


@settings(max_examples=100)
@given(switches("old"), switches("new"), st.data())
def test_a_wrong_match_never_hides_a_loss(old: Part, new: Part, data: st.DataObject) -> None:
    """Whatever control is taken for whichever: no loss is what the new part does under just that match."""
    pairs = list(zip(old.controls, data.draw(st.permutations(list(new.controls))), strict=False))
    names = dict(pairs[: data.draw(st.integers(0, len(pairs)))])
    called = {there: name for name, there in names.items()}
    called |= {name: f"{name} of the new part" for name in new.controls if name not in called}
    if not swapped(old, new, called).faults:
        assert_nothing_is_lost(old, new, names)
