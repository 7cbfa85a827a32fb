"""A job that may cut originals: the end of a chain is cut off, its legs are joined, and the sheet says so."""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from planned import catalogue

from planner.model.bench_sheet import BenchSheet
from planner.model.ticks import Tick
from planner.problems import FilePlace
from planner.sheet_pipeline import sheet_job
from planner.workshop.halfway.halfway import half_done, ticked_ids

# Tying back costs so much here that cutting is cheaper: both are ways for the same end.
JOB = """
job: cuts
loom: skarrow-8
swaps: [{at: bay.dip-relay, fit: dip-relay-four}]
allow_cutting: %s
minutes: {cover: 30}
"""


@cache
def bench(may_cut: str = "true") -> BenchSheet:
    with TemporaryDirectory() as folder:
        file = Path(folder, "job.yaml")
        file.write_text(JOB % may_cut)
        return sheet_job(file, catalogue())


def test_it_is_cut_only_where_the_job_allows_it() -> None:
    assert [step.do for step in bench().plan.steps].count("cut") == 1
    assert "cut" not in [step.do for step in bench("false").plan.steps]


def test_what_lies_beyond_the_cut_works_as_it_does_where_the_end_is_tied_back() -> None:
    outcomes = [
        {(line.what, line.at, line.outcome) for line in bench(may).plan.behaviours}
        for may in ("true", "false")
    ]
    assert outcomes[0] == outcomes[1] and not [h for h in bench().plan.hazards if not h.was_before]
    assert bench().plan.verdict == bench("false").plan.verdict


def test_every_leg_keeps_its_length_and_colour() -> None:
    before, after = (loom.find("W19") for loom in (bench().before, bench().after))
    assert (after.metres, after.colour, after.mm2) == (before.metres, before.colour, before.mm2)
    assert after.ends[1].at == "joint:bay.dip-relay.B"


def test_it_is_cut_as_soon_as_it_is_off_for_it_is_live() -> None:
    assert [step.do for step in bench().plan.steps][:3] == ["remove", "cut", "fit"]
    cut = bench().plan.steps[1]
    assert cut.text.startswith(
        "Cut the terminal off the red/yellow wire (W19) that was on B on the dip relay"
    )
    assert "join its two wires" in cut.text and not cut.reversible


def test_it_needs_a_joiner_and_its_label_says_where_it_is() -> None:
    (joiner,) = [line for line in bench().materials if line.kind == "joiner"]
    assert (joiner.amount, joiner.steps) == (1, (2,)) and "for 2 wires" in joiner.what
    (label,) = [label for label in bench().labels if label.wire == "W19"]
    assert label.text == "W19 red/yellow: the joiner at B on the dip relay, bulkhead"


def test_the_papers_and_the_way_back_say_what_does_not_come_back() -> None:
    (undo,) = [line for line in bench().undo if line.step == 2]
    assert (
        "one terminal on both of its wires again" in undo.text and "the old terminal is gone" in undo.cannot
    )
    assert [line for line in bench().fittings_changed if "is cut off, its two wires are joined" in line]
    assert [line for line in bench().links_added if line.startswith("joiner in the red/yellow wire (W19)")]


def test_halfway_behind_the_cut_no_joiner_is_needed_any_more() -> None:
    ids = ticked_ids(bench(), [Tick(str(n), FilePlace("done.txt", 1, 1)) for n in (1, 2)])
    half = half_done(bench(), ids, bench())
    assert half.warnings == () and not [line for line in half.materials if line.kind == "joiner"]


def test_the_card_of_the_part_names_the_joiner() -> None:
    (card,) = bench().plan.cards
    assert [row.goes_to for row in card.rows if row.wire == "W19"] == [
        "the joiner at B on the dip relay, bulkhead"
    ]
