"""Whatever is answered, it is understood or asked back, and what comes of it is a loom that can be read."""

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from filled_survey import reader_of, survey_of
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from planned import catalogue

from planner.inquiry.survey.answering import take_answers
from planner.inquiry.survey.prepare import Survey
from planner.model.survey_lines import Answer, Answers
from planner.reading.catalogue import read_job
from planner.reading.typed_values import NotUnderstood
from planner.reading.wire_readings import read_at_wire
from planner.sheets.render.own_folder import write_own

JOBS = (
    "two-speed-wipers",
    "two-ends-trade",
    "led-rear-lamps-and-flasher",
    "fuse-box-mirrored",
    "horn-and-push",
)
SAID = (
    "12 V always", "12 V with ignition", "12 V with lights", "12 V with the boot open", "0 ohms to body",
    "nothing", "0 ohms to body with door open", "1.5 ohms to body", "30 ohms to body", "9000 ohms to body",
)  # fmt: skip
COLOURS = ("BK", "GN/RD", "GNYE", "YE")
FITTINGS = (None, "blade-6.3", "ring-5", "bullet")


def answers_to(survey: Survey) -> st.SearchStrategy[Answers]:
    """Answers to some lines, true or not; beeps lead to any terminal."""
    parts, places = catalogue().parts, survey.loom.places
    terminals = [f"{at}:{mark}" for at, there in places.items() for mark in parts[there.part].terminals]
    said = st.sampled_from((*SAID, *(f"beeps to {at}" for at in terminals)))
    reading = said.map(lambda text: read_at_wire(text, survey.loom, catalogue()))
    answer = st.builds(
        Answer,
        colour=st.sampled_from(COLOURS),
        reading=st.none() | reading,
        fitting=st.sampled_from(FITTINGS),
        mm2=st.sampled_from((None, 0.75, 6.0)),
    )
    keys = [line.key for line in survey.asked if line.kind != "mounting"]
    keys += [(place, mark, number + 1) for place, mark, number in keys]
    bare = st.just(Answer(no_wire=True)) | st.just(Answer())
    return st.dictionaries(st.sampled_from(keys), answer | bare, max_size=12).map(Answers)


@pytest.mark.parametrize("job", JOBS)
@settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_what_comes_of_any_answers_can_be_read(job: str, data: st.DataObject) -> None:
    survey = survey_of(job)
    surveyed = take_answers(survey, data.draw(answers_to(survey)), catalogue())
    with TemporaryDirectory() as folder:
        file = write_own(
            Path(folder) / "own", surveyed.job, surveyed.loom, lambda made: read_job(made, catalogue())
        )
        assert read_job(file, catalogue()) == (surveyed.job, surveyed.loom)
    names = [wire.wire for wire in surveyed.loom.wires]
    assert len(names) == len(set(names))


@settings(max_examples=100)
@given(
    text=st.text(max_size=60)
    | st.from_regex(r"(about )?\d{1,5}[.,]?\d? ?(V|ohms?) ?[a-z ]{0,20}", fullmatch=True)
)
def test_any_text_is_understood_or_asked_back_with_what_would_do(text: str) -> None:
    reader = reader_of(survey_of("two-speed-wipers"))
    for read in (reader.meter, reader.colour):
        try:
            read(text)
        except NotUnderstood as error:
            assert error.message and error.hint
