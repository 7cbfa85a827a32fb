"""Every shipped job as somebody's own: table written, filled in as the pattern measures, read, planned."""

from pathlib import Path

import pytest
from filled_survey import COLOUR, METER, as_the_pattern, blank_rows, read_answers, survey_of
from planned import JOBS, catalogue, planned

from planner.currents.currents import Currents
from planner.engine.packs import installed_rules
from planner.inquiry.survey.answering import take_answers
from planner.inquiry.survey.kept import past_ammeters
from planner.model.delta import Fit
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import Question
from planner.model.survey_lines import Answers
from planner.pipeline import settle
from planner.proof.facts import conductor_facts
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job
from planner.sheets.build.survey_table import HEADINGS
from planner.sheets.render.own_folder import write_own
from planner.sheets.render.spreadsheet import write_table
from planner.telling.steps import work_list

# What a step does; how a wire is made may differ: a finished lead on another's bench is not one's own.
MOST_PLACES = 30
SAME = ("wire", "from", "to", "at", "part")
# Jobs whose steps are others, and what was cut off that makes them so.
OTHERWISE = {
    "brighter-headlamps": "what lies before the fuses is cut off: nobody sees that the old switch does not "
    "stand the lamps, and no relay is fitted",
    "headlamps-with-two-relays": "the same: the relays stay without a wire, and the plan says so",
    "forestry-electronic-ignition": "the fuse box is cut off, and the new feed comes from the wire before it",
    "minibus-electronic-ignition": "everything that the key switches is cut off, and no feed is found",
    "hazard-flasher": "what lies before the fuse box is cut off with the volts lost there: one turn lamp of "
    "the trailer is left a tenth of a volt short, and its wire is laid thicker; on the whole van all are, "
    "which no one wire mends",
    "hazard-flasher-insulated-panel": "the same",
    "trailer-socket-converter": "the spare fuse feeds nothing yet: no row of the table names it",
    "fan-in-a-bundle": "the wires that lie with the fan's own are cut off: nobody sees that they warm it",
}


Work = list[tuple[str, tuple[str, ...]]]


def shipped(job: str) -> Work:
    return [(s.do, tuple(str(s.fields.get(key)) for key in SAME)) for s in planned(job).steps]


def work(job: Job, loom: Loom) -> Work:
    """The steps of the plan; amps and volts are left out of large looms, where they bring no step."""
    prover = Prover(loom, catalogue(), job)
    currents = None if len(loom.places) > MOST_PLACES else Currents(prover)
    choice = settle(job, loom, catalogue(), installed_rules(), prover, currents)
    steps = work_list(job, loom, catalogue(), choice.chosen.candidate, prover.facts).steps()
    return [(s.do, tuple(str(s.fields.get(key)) for key in SAME)) for s in steps]


@pytest.mark.parametrize("job", JOBS)
def test_a_table_filled_in_as_the_pattern_gives_the_steps_of_the_shipped_job(
    job: str, tmp_path: Path
) -> None:
    survey = survey_of(job)
    vehicle, rows = blank_rows(survey)
    for row, line in zip(rows, survey.asked, strict=True):
        row[COLOUR], row[METER] = as_the_pattern(survey, line)
    table = tmp_path / "filled.csv"
    write_table(table, HEADINGS, [*vehicle, *rows])
    answers, problems = read_answers(survey, table)
    assert problems == ()
    surveyed = take_answers(survey, answers, catalogue())
    assert surveyed.overruled == () and surveyed.open == 0 and surveyed.loom.doubts == ()
    folder = tmp_path / "own"
    file = write_own(folder, surveyed.job, surveyed.loom, lambda made: read_job(made, catalogue()))
    own_job, own_loom = read_job(file, catalogue())
    assert (own_job, own_loom) == (surveyed.job, surveyed.loom)
    assert (work(own_job, own_loom) == shipped(job)) is (job not in OTHERWISE)


@pytest.mark.parametrize("job", JOBS)
def test_each_conductor_at_a_swapped_part_is_in_the_pattern_what_it_is_in_the_whole_loom(job: str) -> None:
    survey = survey_of(job)
    whole, cut = (
        conductor_facts(past_ammeters(loom, catalogue()), catalogue())
        for loom in (survey.template.whole, survey.loom)
    )
    for place in survey.template.swapped:
        for _, _, mark in survey.loom.ends_of_place(place):
            address = f"{place}:{mark}"
            one, other = whole.at(address), cut.at(address)
            assert (one.live, one.earthed) == (other.live, other.earthed), address


@pytest.mark.parametrize("job", JOBS)
def test_nothing_is_all_clear_from_blanks(job: str) -> None:
    """Whatever is planned leans on something that nobody has measured, and the plan asks for it.

    Where it only puts a part in its place, no wire to it, it asks nothing, and what was wanted is missing.
    """
    survey = survey_of(job)
    blank = take_answers(survey, Answers({}), catalogue())
    prover = Prover(blank.loom, catalogue(), blank.job)
    choice = settle(blank.job, blank.loom, catalogue(), installed_rules(), prover)
    only_fits = all(isinstance(step.operation, Fit) for step in choice.chosen.candidate.steps)
    assert any(isinstance(note, Question) for note in choice.notes) is not only_fits
    assert not only_fits or choice.chosen.has_faults


def test_what_is_otherwise_is_said_of_shipped_jobs() -> None:
    assert set(OTHERWISE) <= set(JOBS)
