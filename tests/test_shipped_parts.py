"""What every shipped part says of itself, and that none is there as padding."""

import json
from pathlib import Path

import pytest
from planned import JOBS, catalogue

from planner.model.part import Part
from planner.reading.catalogue import read_job, read_loom

PARTS = catalogue().parts
GOLDEN = Path(__file__).parent / "acceptance" / "golden"


def fitted() -> set[str]:
    """Every part that a shipped loom has, or that a shipped job or its plan fits."""
    looms = [read_loom(name, catalogue()) for name in catalogue().loom_files]
    jobs = [read_job(name, catalogue())[0] for name in JOBS]
    plans = [json.loads(file.read_text(encoding="utf-8")) for file in sorted(GOLDEN.glob("*.json"))]
    return (
        {place.part for loom in looms for place in loom.places.values()}
        | {swap.fit for job in jobs for swap in job.swaps}
        | {step["part"] for plan in plans for step in plan["steps"] if "part" in step}
    )


def test_there_are_about_as_many_families_as_the_trade_has_kinds() -> None:
    """Finer kinds, a fuel gauge and an oil gauge, are told apart by what they do, not by more families."""
    assert 30 <= len({part.family for part in PARTS.values()}) <= 40


def wired(part: Part) -> list[str]:
    return [mark for mark, terminal in part.terminals.items() if terminal.by == "wire"]


@pytest.mark.parametrize("name", sorted(PARTS))
def test_a_part_says_how_it_is_held(name: str) -> None:
    assert PARTS[name].mounts is not None


@pytest.mark.parametrize("name", sorted(PARTS))
def test_a_part_of_more_than_one_terminal_can_be_sketched_from_its_wiring_side(name: str) -> None:
    marks = wired(PARTS[name])
    faces = [PARTS[name].terminals[mark].face for mark in marks]
    assert len(marks) < 2 or None not in faces
    assert len(set(faces)) == len(faces)


@pytest.mark.parametrize("name", sorted(PARTS))
def test_what_earths_a_part_by_its_mounting_says_with_which_screw(name: str) -> None:
    screws = [terminal for terminal in PARTS[name].terminals.values() if terminal.by == "mounting"]
    assert all(terminal.fitting.startswith("stud-") for terminal in screws)


def test_a_part_is_in_a_loom_or_a_job_or_says_what_it_is_here_for() -> None:
    """So nothing is there as padding; and what a vehicle or a job needs, needs no other reason."""
    used = fitted()
    assert sorted(p.part for p in PARTS.values() if p.part not in used and p.here_for is None) == []
    assert sorted(p.part for p in PARTS.values() if p.part in used and p.here_for is not None) == []
    assert len(set(PARTS) - used) < len(PARTS) / 5
