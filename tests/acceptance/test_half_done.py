"""Stopping halfway: what is done stays, the rest is the same; what turned out otherwise replaces its own."""

from pathlib import Path

import pytest
from planned import benched, catalogue, worked

from planner.model.bench_sheet import BenchSheet
from planner.model.ticks import Tick
from planner.problems import FilePlace, InputError
from planner.reading.ticks import read_ticks
from planner.sheet_pipeline import sheet_job
from planner.workshop.halfway.halfway import half_done, ticked_ids
from planner.workshop.papers.replay import replay

HERE = FilePlace("done.txt", 1, 1)
WIPERS = "two-speed-wipers"


def ticked(job: str, *numbers: int) -> BenchSheet:
    sheet = benched(job)
    ids = ticked_ids(sheet, [Tick(str(n), HERE) for n in numbers])
    return half_done(sheet, ids, sheet)


def with_file(tmp_path: Path, text: str) -> BenchSheet:
    """The sheet of the wipers with a file of ticks."""
    (tmp_path / "done.txt").write_text(text)
    return sheet_job(WIPERS, catalogue(), read_ticks(tmp_path / "done.txt"))


def test_what_is_done_is_ticked_and_the_rest_keeps_its_numbers() -> None:
    sheet = ticked("whole-van", 1, 2, 3)
    assert sheet.done == (1, 2, 3) and sheet.warnings == () and sheet.taken_back == ()
    assert sheet.plan == benched("whole-van").plan and sheet.visits == benched("whole-van").visits


def test_a_step_is_ticked_by_its_id_as_well() -> None:
    sheet = benched(WIPERS)
    assert ticked_ids(sheet, [Tick(sheet.step(4).id, HERE)]) == ticked_ids(sheet, [Tick("4", HERE)])


def test_a_step_that_is_ticked_before_what_comes_first_is_told() -> None:
    (warning,) = ticked(WIPERS, 1, 2, 9).warnings
    assert warning.startswith("Step 9 is ticked, but step 8 is not, and comes first (frees the place)")


def test_a_number_that_no_step_has_is_an_error_at_its_place() -> None:
    with pytest.raises(InputError, match=r"done.txt:1:1: this plan has no step 99\n"):
        ticked(WIPERS, 99)


def test_all_steps_that_a_plan_has_not_are_one_error(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        with_file(tmp_path, "1\n70-99\n101\nfit p\n5\n")
    (problem,) = caught.value.problems
    assert (problem.place.line, problem.message) == (2, "this plan has no steps 70 to 99, 101, 'fit p'")


def test_materials_and_labels_are_those_of_the_steps_that_are_left() -> None:
    whole, half = benched("whole-van"), ticked("whole-van", *range(1, 21))
    assert all(step > 20 for line in half.materials for step in line.steps)
    assert all(label.step > 20 for label in half.labels) and all(wire.step > 20 for wire in half.making)
    counts = {line.what: line.amount for line in half.materials}
    assert counts["push-on terminal, 6.3 mm, for 2.5 mm2 (AWG 12)"] == 2  # of N5, made at step 31
    assert "push-on terminal, 6.3 mm, for 1.5 mm2 (AWG 14)" not in counts  # of N2, N3, N4: done
    assert counts["insulating sleeve for a terminal"] == 7 and counts["label strip"] == len(half.labels)
    assert len(half.labels) < len(whole.labels)


def test_a_sheet_of_which_all_is_done_needs_nothing() -> None:
    done = ticked(WIPERS, *(step.n for step in benched(WIPERS).plan.steps))
    assert (done.materials, done.labels, done.making, done.cutting) == ((), (), (), ())


def test_whatever_is_done_first_the_rest_leads_to_the_same_vehicle() -> None:
    """Half of the steps, then the others in their order: the vehicle is the one that was proven."""
    work = worked("whole-van")
    done = replay(work.work, work.ordered)
    half = done[: len(done) // 2]
    loom = half[-1].after
    for one in done[len(half) :]:
        for operation in one.operations:
            loom = operation.apply(loom)
    assert loom == done[-1].after


def test_a_part_that_turned_out_different_keeps_what_both_plans_do(tmp_path: Path) -> None:
    """The motor is the old kind after all: the switch stays as it is, the second speed's lead comes out."""
    sheet = with_file(tmp_path, "1-9\npart scuttle.wiper-motor wiper-motor-one-speed\n")
    texts = [sheet.step(n).text for n in sheet.done]
    assert texts[0].startswith("Take out the wiper switch") and len(texts) == 6
    back = [line.text for line in sheet.taken_back]
    assert back[0].startswith("Take out the wiper motor") and back[-1].endswith("(N1) out of the vehicle")
    left = [step.do for step in sheet.plan.steps if step.n not in sheet.done]
    assert left == ["cover"]


def test_a_broken_terminal_and_a_cut_wire_are_mended_and_the_plan_is_the_same(tmp_path: Path) -> None:
    sheet = with_file(tmp_path, "1-4\nbroken W37 scuttle.wiper-motor:S\ncut W36\n")
    lay, crimp = sheet.mends  # the switch, at which the cut wire ends, comes before the motor
    assert lay == (
        "Wire found cut: the yellow wire (W36), now one end on 53 on the wiper switch, dash, the other on M "
        "on the wiper motor, scuttle: lay it anew, yellow 1.5 mm2 (AWG 14) 0.9 m (3 ft), with a 6.3 mm "
        "push-on terminal for 53 on the wiper switch, dash and a 6.3 mm push-on terminal for 53 on the "
        "wiper motor, scuttle"
    )
    assert crimp == (
        "Broken terminal: the yellow/black wire (W37), now on S on the wiper motor, scuttle, had a 6.3 mm "
        "push-on terminal: crimp a 6.3 mm push-on terminal on it, for 31b on the wiper motor, scuttle; if it "
        "no longer reaches, lengthen it"
    )
    assert [s.text for s in sheet.plan.steps] == [s.text for s in benched(WIPERS).plan.steps]


def test_what_is_found_is_told_as_one_comes_by_with_what_is_there_now(tmp_path: Path) -> None:
    """The motor's place is the second; what sits nowhere that one still goes to comes last."""
    ends = ("W34 scuttle.wiper-motor:P", "W14 dash.ignition-switch:IG", "W33 dash.wiper-switch:B")
    text = "".join(f"broken {end}\n" for end in ends)
    one, two, three = with_file(tmp_path, f"1\n{text}").mends
    assert "the orange/black wire (W33), now off its terminal, had a 6.3 mm push-on terminal: crimp" in one
    assert "(W34), now on P on the wiper motor, scuttle" in two and "for 53a on the wiper motor" in two
    assert "(W14), now on IG on the ignition switch, dash" in three


def test_another_part_is_told_with_what_was_planned(tmp_path: Path) -> None:
    sheet = with_file(tmp_path, "1-9\npart scuttle.wiper-motor wiper-motor-one-speed\ncut N1\n")
    assert sheet.warnings[0] == (
        "wiper motor, scuttle: wiper motor, early, one speed, self-parking, earthed through its body is "
        "there in place of wiper motor, late, two speeds, self-parking, earthed by a wire; the steps below "
        "are for it"
    )
    assert sheet.mends == ("N1: these steps do without it",)


def test_everything_that_is_wrong_in_a_file_is_told_at_once_line_by_line(tmp_path: Path) -> None:
    wrong = "cut W999\n99\npart bay.horn horn-late\nbroken W36 dash.switch:Z\n"
    with pytest.raises(InputError) as caught:
        with_file(tmp_path, wrong)
    assert [problem.place.line for problem in caught.value.problems] == [1, 2, 3, 4]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("cut W999", "this vehicle has no wire 'W999'"),
        ("broken W36 dash.switch:Z", "W36 has no end at 'dash.switch:Z'"),
        ("part bay.horn horn-late", "this job fits nothing at 'bay.horn'"),
        ("part scuttle.wiper-motor no-such-part", "no part has the id 'no-such-part'"),
        (
            "part scuttle.wiper-motor temperature-sender-287-22",
            "part 'temperature-sender-287-22' depends on 'water', which this loom's conditions do not have",
        ),
    ],
)
def test_what_cannot_have_turned_out_so_is_told_with_its_line(tmp_path: Path, line: str, words: str) -> None:
    with pytest.raises(InputError, match=f"done.txt:2:1: {words}"):
        with_file(tmp_path, f"1\n{line}\n")


def test_what_a_step_that_is_left_mends_anyway_is_not_mended_besides(tmp_path: Path) -> None:
    (tmp_path / "done.txt").write_text("1-2\ncut C2\nbroken C3 engine.dynamo:D+\n")
    job = "dynamo-to-alternator"
    laid, crimped = sheet_job(job, catalogue(), read_ticks(tmp_path / "done.txt")).mends
    assert crimped.endswith("step 3 crimps a 6.3 mm push-on terminal on anyway")
    assert laid.endswith("step 5 lays it anew anyway")
    (tmp_path / "done.txt").write_text("1-5\ncut C2\n")
    (anew,) = sheet_job(job, catalogue(), read_ticks(tmp_path / "done.txt")).mends
    assert ": lay it anew, red/brown 10 mm2" in anew
