"""Mistakes wired into the van's loom by hand, and hunted from what is seen and a few readings.

The vehicle that answers is the loom as it was edited, not a change that the hunt knows of.
"""

from functools import lru_cache
from pathlib import Path

import pytest
from bench_person import Person
from testing_ground import catalogue

from planner.sheet_pipeline import wired
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import Vehicle

LOOM = "skarrow-8"
MOST_SYMPTOMS, MOST_READINGS = 3, 6


@lru_cache
def known(path: str = LOOM) -> Known:
    return Known(Vehicle(wired(path, catalogue()), catalogue()))


def traded(*ends: str) -> dict[str, str]:
    one, other = ends
    return {f'"{one}"': f'"{other}"', f'"{other}"': f'"{one}"'}


def edited(folder: Path, edits: dict[str, str]) -> Known:
    """The vehicle of the loom with some words exchanged in its file."""
    text = Path(catalogue().loom_files[LOOM]).read_text(encoding="utf-8")
    for number, old in enumerate(edits):
        assert text.count(old) == 1, old
        text = text.replace(old, f"<{number}>")
    for number, new in enumerate(edits.values()):
        text = text.replace(f"<{number}>", new)
    file = folder / "edited.yaml"
    file.write_text(text, encoding="utf-8")
    return Known(Vehicle(wired(str(file), catalogue()), catalogue()))


@pytest.mark.parametrize(
    ("edits", "words"),
    [
        (traded("scuttle.wiper-motor:M", "scuttle.wiper-motor:S"), "(W37) are traded"),
        (
            {'["left.headlamp:earth", "earth:front"]': '["left.headlamp:earth", "loose"]'},
            "(W85) is off earth",
        ),
        (traded("dash.fuse-box:9", "dash.fuse-box:7"), "(W77) and the blue/red wire (W81) are traded"),
    ],
    ids=["wiper run and park", "headlamp earth", "dip and main"],
)
def test_it_is_found_from_symptoms_and_a_few_readings(
    tmp_path: Path, edits: dict[str, str], words: str
) -> None:
    person = Person(edited(tmp_path, edits), should=known())
    hunt = Hunt(known())
    for symptom in person.symptoms(Person(known()))[:MOST_SYMPTOMS]:
        hunt.add(symptom)
    taken = 0
    while (asked := Report(hunt).question) is not None:
        hunt.add(person.answer(asked))
        taken += 1
    report = Report(hunt)
    assert report.verdict == "found", report.answer
    assert words in report.answer
    assert taken <= MOST_READINGS
