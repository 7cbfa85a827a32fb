"""Mistakes wired into the van's loom by hand, and hunted from what is seen and a few readings.

The vehicle that answers is the loom as it was edited, not a change that the hunt knows of.
"""

from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest
from testing_ground import catalogue

from planner.model.observations import LOOKS, Observation, Settings
from planner.sheet_pipeline import wired
from planner.testing.hunt.agreeing import load_key, look_chances
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.question import Question
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import NOTHING, Vehicle

LOOM = "skarrow-8"
SOUND = np.array([NOTHING])
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


def look(vehicle: Known, setting: Settings, at: str) -> str:
    return LOOKS[int(look_chances(vehicle.outlook, setting, load_key(at), SOUND)[0].argmax())]


def symptoms(vehicle: Known) -> list[Observation]:
    """What looks otherwise than it should, the controls tried one after another; each load once."""
    found: dict[str, Observation] = {}
    standing = known().standing
    for setting in standing.settings:
        for at in map("/".join, standing.working):
            if at not in found and (now := look(vehicle, setting, at)) != look(known(), setting, at):
                found[at] = Observation("looks", at, now, setting)
    return list(found.values())


def answer(vehicle: Known, asked: Question) -> Observation:
    says: float | str
    if asked.kind == "looks":
        says = look(vehicle, asked.setting, asked.at)
    elif asked.kind == "sits":
        wire, _, number = asked.at.rpartition(".")
        says = vehicle.vehicle.wired.loom.find(wire).ends[int(number)].at
    elif asked.kind == "volts":
        says = round(float(vehicle.outlook.volts(asked.setting, asked.at, asked.to, SOUND)[0]), 1)
    else:
        says = round(float(vehicle.outlook.dead.ohms(asked.at, asked.to, SOUND)[0]), 1)
    return Observation(asked.kind, asked.at, says, asked.setting, asked.to)


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
    vehicle = edited(tmp_path, edits)
    hunt = Hunt(known())
    for symptom in symptoms(vehicle)[:MOST_SYMPTOMS]:
        hunt.add(symptom)
    taken = 0
    while (asked := Report(hunt).question) is not None:
        hunt.add(answer(vehicle, asked))
        taken += 1
    report = Report(hunt)
    assert report.verdict == "found", report.answer
    assert words in report.answer
    assert taken <= MOST_READINGS
