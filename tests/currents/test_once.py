"""What checks make again after an edit is what they make of the edited loom from nothing."""

import random
from collections.abc import Sequence

import pytest
from generated_looms import catalogue
from random_looms import draw

from planner import pipeline
from planner.currents.checks.inspection import Inspection
from planner.currents.checks.once import Once
from planner.currents.currents import Currents
from planner.currents.grid import compile_grid
from planner.currents.inspect import strains
from planner.currents.positions import Positions
from planner.currents.survey import survey
from planner.model.delta import copy_loom
from planner.model.loom import Loom, Zone
from planner.model.strain import Strain
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job

TABLES = catalogue().standards
EDITS = 6
AT_JOINERS = ("W12", "W11", "W62", "W2")  # of the shipped van: where one is longer, a joiner lies elsewhere


def agree(taken: Sequence[Strain], anew: Sequence[Strain]) -> None:
    """Everything is told alike; values may be off by what a kept operating point may be."""

    def told(strain: Strain) -> tuple[object, ...]:
        return (strain.kind, strain.at, strain.leg or 0, strain.loads, strain.ends, strain.loaded)

    for one, other in zip(sorted(taken, key=told), sorted(anew, key=told), strict=True):
        assert told(one) == told(other)
        assert (one.position, one.path, one.momentary) == (other.position, other.path, other.momentary)
        assert (one.limit, one.source, one.basis) == (other.limit, other.source, other.basis)
        assert one.value == pytest.approx(other.value, abs=1e-4)


def edited(loom: Loom, chance: random.Random) -> Loom:
    """A loom with one wire of other length or size."""
    old = chance.choice(loom.wires)
    change = chance.choice([
        {"metres": (chance.choice([0.2, 1.0, 4.0]),)},
        {"mm2": (chance.choice([0.5, 1.5, 6.0]),)},
    ])  # fmt: skip
    new = old.model_copy(update=change)
    return copy_loom(loom, wires=tuple(new if wire is old else wire for wire in loom.wires))


def spread_out(loom: Loom, chance: random.Random) -> Loom:
    """A loom with its places spread over a cool zone and a hot one."""
    zones = {"z": Zone(), "y": Zone(hot=True)}
    places = {
        name: place.model_copy(update={"zone": chance.choice(["z", "y"])})
        for name, place in loom.places.items()
    }
    return copy_loom(loom, zones=zones, places=places)


@pytest.mark.parametrize("seed", range(40))
def test_edit_after_edit_checks_tell_what_they_tell_from_nothing(seed: int) -> None:
    chance = random.Random(seed)
    bench = draw(seed)
    loom = spread_out(bench.loom, chance)
    view, found, like = bench.view, None, None
    for _ in range(EDITS):
        grid = compile_grid(loom, bench.catalogue, TABLES)
        positions = Positions(view, found)
        found = positions.found
        seen = Inspection(
            survey(grid, positions, like.survey if like else None), loom, bench.catalogue, TABLES, like
        )
        anew = Inspection(survey(grid, Positions(view)), loom, bench.catalogue, TABLES)
        agree(strains(seen), strains(anew))
        like, loom = seen, edited(loom, chance)


@pytest.mark.parametrize("name", AT_JOINERS)
def test_a_longer_wire_of_the_van_is_told_as_from_nothing(name: str) -> None:
    shipped = pipeline.open_catalogue()
    job, before = read_job(pipeline.DEMONSTRATION, shipped)
    wire = before.find(name)
    longer = wire.model_copy(update={"metres": (wire.metres[0] + 0.5, *wire.metres[1:])})
    loom = copy_loom(before, wires=tuple(longer if w is wire else w for w in before.wires))
    prover = Prover(before, shipped, job)
    after_edit = Currents(prover)
    first = after_edit.strains(before)
    taken = after_edit.strains(loom)
    agree(taken, Currents(prover).strains(loom))
    kept = {id(strain) for strain in first} & {id(strain) for strain in taken}
    assert kept or name == "W2"  # the battery's own wire carries everything


def test_what_reads_the_same_is_not_made_again() -> None:
    record = object()
    first = Once()
    assert first("thing", (record, 1.5), lambda: ["made"]) == ("made",)
    after = Once(first)
    assert after("thing", (record, 3.0 / 2.0), lambda: ["again"]) == ("made",)
    assert after("other thing", (record, 1.5), lambda: ["again"]) == ("again",)


@pytest.mark.parametrize("reads", [(), (1.5,), (object(), 1.5)])
def test_what_reads_anything_else_is_made_again(reads: tuple[object, ...]) -> None:
    first = Once()
    first("thing", (first, 1.5), lambda: ["made"])
    assert Once(first)("thing", reads, lambda: ["again"]) == ("again",)
