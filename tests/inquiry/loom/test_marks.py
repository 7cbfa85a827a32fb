"""Marks of a person's list that were taken for the part's own are told with what they are there."""

from pathlib import Path

import pytest

from planner.commands import main
from planner.inquiry.loom.account import LoomAccount
from planner.inquiry.loom.explain import explain
from planner.pipeline import open_catalogue
from planner.reading.catalogue import read_loom

SWITCH = "{part: wiper-switch-one-speed, zone: dash"


def _explained(folder: Path, switch: str = SWITCH, mark: str = "M") -> LoomAccount:
    assert main(["start", str(folder)]) == 0
    loom, wires = folder / "loom.yaml", folder / "wires.csv"
    loom.write_text(loom.read_text().replace(SWITCH, switch))
    wires.write_text(wires.read_text().replace("wiper switch / M", f"wiper switch / {mark}"))
    catalogue = open_catalogue()
    return explain(read_loom(loom, catalogue), catalogue)


def _marks(found: LoomAccount) -> dict[str, str]:
    return {line.at: line.text for line in found.findings if line.kind == "marks"}


def test_each_mark_of_a_list_is_told_with_its_purpose(tmp_path: Path) -> None:
    said = _marks(_explained(tmp_path / "van"))
    assert said["dash.wiper-switch"].endswith(": B is ignition feed, M is wiper run, S is park return")
    assert set(said) == {"dash.wiper-switch", "scuttle.wiper-motor"}


def test_a_mark_of_which_the_place_says_what_it_means_is_not_told(tmp_path: Path) -> None:
    said = _marks(_explained(tmp_path / "van", SWITCH + ", marks: {RUN: M}", "RUN"))
    assert said["dash.wiper-switch"].endswith(": B is ignition feed, S is park return")


@pytest.mark.parametrize("name", ["skarrow-8", "merrowby-26"])
def test_a_loom_without_a_list_has_none(name: str) -> None:
    catalogue = open_catalogue()
    assert _marks(explain(read_loom(name, catalogue), catalogue)) == {}
