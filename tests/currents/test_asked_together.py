"""What is searched for together is what is found question by question."""

import importlib
import random

import pytest
from generated_looms import catalogue
from random_looms import draw

from planner import pipeline
from planner.currents import seek
from planner.currents.grid import compile_grid
from planner.currents.positions import Positions
from planner.currents.survey import survey
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.proof.behaviour import View
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job

TABLES = catalogue().standards
ALL, NONE = 1, 10**9  # from so many questions on they are searched for together


importlib.import_module("numpy")  # without it nothing is searched for together


def positions_of(loom: Loom, some_catalogue: Catalogue, view: View) -> list[object]:
    """The positions that a survey finds worth solving, in its order."""
    grid = compile_grid(loom, some_catalogue, TABLES)
    return [dict(sample.assignment) for sample in survey(grid, Positions(view)).samples]


@pytest.mark.parametrize("seed", range(60))
def test_together_the_same_positions_are_found(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = draw(seed)
    metres = random.Random(seed)
    wires = tuple(
        wire.model_copy(update={"metres": (metres.choice([0.5, 3.0, 9.0]),)}) for wire in bench.loom.wires
    )
    loom = bench.loom.model_copy(update={"wires": wires})
    monkeypatch.setattr(seek, "FEW", ALL)
    together = positions_of(loom, bench.catalogue, bench.view)
    monkeypatch.setattr(seek, "FEW", NONE)
    assert together == positions_of(loom, bench.catalogue, bench.view)


@pytest.mark.parametrize("name", ["two-speed-wipers", "whole-van", "dynamo-to-alternator"])
def test_together_the_same_positions_of_a_vehicle_are_found(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    shipped = pipeline.open_catalogue()
    job, loom = read_job(name, shipped)
    view = Prover(loom, shipped, job).before
    monkeypatch.setattr(seek, "FEW", ALL)
    together = positions_of(loom, shipped, view)
    monkeypatch.setattr(seek, "FEW", NONE)
    assert together == positions_of(loom, shipped, view)
    assert len(together) > 1
