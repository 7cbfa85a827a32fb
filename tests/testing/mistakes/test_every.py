"""Every mistake of a shipped job: named once, told by colour, and the same change in a loom and in a grid."""

from typing import get_args

import pytest
from testing_ground import catalogue, ground

from planner.currents.grid import compile_grid
from planner.model.delta import Cut, Move, Step
from planner.sheet_pipeline import wired
from planner.testing.mistakes.applied import Editor, changed_grid, changed_loom
from planner.testing.mistakes.every import every_mistake
from planner.testing.mistakes.like_parts import LikeParts
from planner.testing.mistakes.mistake import Kind
from planner.testing.mistakes.priors import WEIGHTS
from planner.testing.mistakes.unfinished import Unfinished
from planner.testing.wired import Wired

JOB = "two-speed-wipers"


def test_no_two_mistakes_have_one_name_or_one_change() -> None:
    van = ground(JOB)
    listed = every_mistake(van.wired, van.grid, van.catalogue)
    assert len({m.id for m in listed}) == len(listed)
    assert len({m.changes for m in listed}) == len(listed)


def test_every_kind_is_met_on_some_shipped_job() -> None:
    met = {m.kind for name in (JOB, "two-ends-trade", "interior-lamp-without-earth", "hazard-flasher")
           for m in ground(name).mistakes.values()}  # fmt: skip
    assert met >= set(get_args(Kind)) - {"step twice"}


def test_ends_on_two_blades_behind_one_fuse_are_not_called_traded() -> None:
    traded = {
        frozenset(m.mend)
        for m in ground("stronger-heater-on-a-piggyback").mistakes.values()
        if m.kind == "ends traded"
    }
    assert traded and {"dash.fuse-box:2", "dash.fuse-box:2a"} not in traded


def test_what_a_loom_can_say_of_a_mistake_compiles_to_the_same_branches() -> None:
    van = ground(JOB)
    editor = Editor(van.wired.loom, van.grid, van.catalogue, van.catalogue.standards)
    compared = 0
    for mistake in van.mistakes.values():
        for change in mistake.changes:
            if (change.ends or change.fits) and not (change.gone or change.added):
                by_edit = changed_grid(van.grid, editor.edit(change)).as_set
                loom = changed_loom(van.wired.loom, change)
                by_loom = compile_grid(loom, van.catalogue, van.catalogue.standards).as_set
                # A zone to which nothing is earthed any more keeps its way through the body in an edit.
                assert {g for g in by_edit ^ by_loom if g.kind != "body"} == set(), mistake.id
                compared += 1
    assert compared > 500


@pytest.mark.parametrize(
    ("name", "words"),
    [
        (
            "W36.1-on-scuttle.wiper-motor:31b",
            "the yellow wire (W36) is on 31b instead of 53 on the wiper motor, scuttle",
        ),
        ("W2.1-off", "the black wire (W2) is off earth, engine bay"),
        ("dash.fuse-box/0-fuse-blown", "the fuse between B and 1 on the fuse box, under the dash is blown"),
    ],
)
def test_a_mistake_is_told_by_the_colour_of_its_wire_and_the_name_of_its_place(name: str, words: str) -> None:
    assert ground(JOB).mistakes[name].words == words


@pytest.mark.parametrize(
    ("job", "name", "words"),
    [
        (
            "led-indicators",
            "dash.turn-indicator.in-line-1-not-inserted",
            "was left out: the turquoise/red wire",
        ),
        ("dynamo-to-alternator", "C2.0-old-fitting", "(C2) has a poor joint at B+ on the alternator"),
        ("whole-van", "W19.1-bare", "which came from B on the dip relay, bulkhead, was not insulated"),
        (
            "whole-van",
            "W19.1-on-bay.dip-relay:56a",
            "(W19) is on 56a on the dip relay, bulkhead, and should hang",
        ),
        ("hazard-flasher", "W28.1-on-dash.washer-button:in", "(W28) is on 'in' on the washer button, dash"),
    ],
)
def test_a_step_that_was_left_half_done_and_an_end_on_another_part_are_mistakes(
    job: str, name: str, words: str
) -> None:
    assert words in ground(job).mistakes[name].words


def test_an_earthed_wire_that_hangs_bare_harms_nothing_and_is_no_mistake() -> None:
    assert "C5.0-bare" not in ground("dynamo-to-alternator").mistakes


def test_only_ends_that_the_work_touched_are_looked_for_on_parts_that_are_not_alike() -> None:
    van = ground("hazard-flasher")
    like = {m.id for m in LikeParts(van.wired, van.catalogue).every()}
    elsewhere = [m for m in van.mistakes.values() if m.kind == "wrong part" and m.id not in like]
    ends = {(end.wire, end.end) for m in elsewhere for change in m.changes for end in change.ends}
    assert ends and ends <= van.wired.touched_ends


@pytest.mark.parametrize(
    ("vehicle", "pair"),
    [
        ("ternholm-nine", "C9.0-traded-C11.0"),  # 'out' of two like switches
        ("merrowby-26", "L18.1-traded-L19.1"),  # two senders far apart, on wires from one place
        ("skarrow-8", "W55.1-traded-W56.1"),  # turn lamps, left and right
        ("skarrow-8", "W55.1-traded-W89.1"),  # turn and side lamp, side by side, one wire each
        ("vessing-m14", "M38.3-traded-M42.1"),  # turn and stop lamp, side by side
        ("hazard-flasher", "W55.1-traded-W56.1"),  # which the work left alone
    ],
)
def test_two_like_parts_may_have_been_taken_for_one_another(vehicle: str, pair: str) -> None:
    mistake = ground(vehicle).mistakes[pair]
    assert mistake.kind == "wrong part"
    assert mistake.weight == WEIGHTS["wrong part"][0]


@pytest.mark.parametrize(
    ("vehicle", "pair"),
    [
        ("ternholm-nine", ("fan-switch:out", "wiper-switch:in")),  # another mark of a like switch
        ("vessing-m14", ("oil-switch", "fuel-sender")),  # a blade does not go on a screw
        ("skarrow-8", ("left.headlamp:earth", "right.headlamp:earth")),  # which changes nothing
        ("skarrow-8", ("left.front:lamp", "left.rear:lamp")),  # nobody takes front for rear
    ],
)
def test_what_is_not_alike_or_far_apart_is_not_taken_for_it(vehicle: str, pair: tuple[str, str]) -> None:
    ground_of = ground(vehicle)
    found = [m.mend for m in LikeParts(ground_of.wired, ground_of.catalogue).every()]
    assert found
    assert not [m for m in found if all(any(each in at for at in m) for each in pair)]


def test_like_parts_are_few_beside_all_other_mistakes() -> None:
    for vehicle in ("skarrow-8", "vessing-m14", "drosk-500"):
        known = ground(vehicle)
        assert len(list(LikeParts(known.wired, known.catalogue).every())) < 0.06 * len(known.mistakes)


def test_a_cut_conductor_whose_ends_were_not_joined_is_open_there() -> None:
    van = ground("hazard-flasher")
    wire = next(wire for wire in van.wired.loom.wires if len(wire.ends) > 2)
    cut = Cut(wire.wire, 1, wire.ends[1].at, "joint:cut")
    loom = cut.apply(van.wired.loom)
    as_built = Wired("cut", loom, van.wired.loom, (Step(cut, van.wired.steps[0].why),))
    grid = compile_grid(loom, van.catalogue, van.catalogue.standards)
    (mistake,) = Unfinished(as_built, grid, van.catalogue).every()
    assert "was cut off" in mistake.words
    editor = Editor(loom, grid, van.catalogue, van.catalogue.standards)
    assert editor.edit(mistake.changes[0]).gone == set(editor.named("wire", wire.wire, "1"))


def test_a_made_wire_is_called_by_its_number_on_the_work_list() -> None:
    forgotten = [m.words for m in ground(JOB).mistakes.values() if m.kind == "step forgotten"]
    assert any("the yellow/red wire (N1)" in words for words in forgotten)


def test_what_the_work_touched_is_likelier_than_what_it_left_alone() -> None:
    mistakes = ground(JOB).mistakes
    assert mistakes["W36.1-off"].weight > mistakes["W3.1-off"].weight


def test_a_loom_that_nobody_worked_on_has_no_step_to_forget() -> None:
    van = wired("skarrow-8-trailer", catalogue())
    grid = compile_grid(van.loom, catalogue(), catalogue().standards)
    kinds = {m.kind for m in every_mistake(van, grid, catalogue())}
    assert kinds and not kinds & {"step forgotten", "step twice", "old part"}


def test_an_end_of_a_new_wire_is_made_where_it_goes_and_not_forgotten_elsewhere() -> None:
    van = ground("electric-fan")
    assert van.wired.before is not None
    old = van.wired.before.wire_index
    wires = {name.partition(".")[0] for name in van.mistakes if name.endswith("-not-moved")}
    assert wires <= set(old), "a wire that the plan adds has no terminal that it was on before"
    moved = {s.operation.wire for s in van.wired.steps if isinstance(s.operation, Move)}
    assert moved - set(old), "the plan itself puts one elsewhere on its way"
