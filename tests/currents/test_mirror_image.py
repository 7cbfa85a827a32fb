"""A positive-earth vehicle is the mirror image of a negative-earth one, in every volt and ampere.

Every shipped loom is computed with the other pole earthed, its diodes and LEDs turned round; and with all its
volts doubled, when everything in it doubles that is ohmic or a filament.
"""

import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache

import pytest

from planner.currents.checks.inspection import Inspection
from planner.currents.grid import compile_grid
from planner.currents.inspect import strains
from planner.currents.positions import Positions
from planner.currents.solver import Branch, Point, solve
from planner.currents.survey import survey
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.elements import (
    AnyElement,
    Coil,
    Diode,
    Gauge,
    Lamp,
    Led,
    Resistor,
    Source,
    Stabiliser,
    Winding,
)
from planner.model.job import Job
from planner.model.loom import Loom, Supply
from planner.model.part import Part
from planner.model.strain import Strain
from planner.pipeline import open_catalogue
from planner.proof.prove import Prover
from planner.reading.catalogue import read_loom

SEED, POSITIONS = 35, 25
WHOLE_VAN = "skarrow-8"
POLES = ("reversed", "polarity")  # what has a direction of its own is not mirrored with the loom


@lru_cache
def shipped() -> Catalogue:
    """The shipped catalogue, read once."""
    return open_catalogue()


LOOMS = sorted(shipped().loom_files)


def changed(change: Callable[[AnyElement, Part], AnyElement], volts: float = 1.0) -> Catalogue:
    """The shipped catalogue with every element changed, and every part rated ``volts`` times as high."""
    parts = {
        name: part.model_copy(
            update={
                "inside": tuple(change(element, part) for element in part.inside),
                "volts": part.volts * volts,
            }
        )
        for name, part in shipped().parts.items()
    }
    return replace(shipped(), parts=parts)


def turned_round(element: AnyElement, _: Part) -> AnyElement:
    """A diode or LED the other way round; anything else, cut-outs too, as it is."""
    if isinstance(element, Diode) and element.is_cut_out:
        return element
    return (
        element.model_copy(update={"between": element.between[::-1]})
        if isinstance(element, Diode | Led)
        else element
    )


@lru_cache
def mirrored_catalogue() -> Catalogue:
    return changed(turned_round)


def mirrored(loom: Loom) -> Loom:
    other = "positive" if loom.supply.earthed == "negative" else "negative"
    return copy_loom(loom, supply=loom.supply.model_copy(update={"earthed": other}))


def points(loom: Loom, catalogue: Catalogue) -> Iterator[tuple[list[Branch], Point]]:
    """Closed branches and operating points: everything at rest, then positions drawn, always the same."""
    net = Prover(loom, catalogue, Job(job="none", loom=loom.loom)).before.net
    grid = compile_grid(loom, catalogue, shipped().standards)
    chance = random.Random(SEED)
    for number in range(POSITIONS):
        position = {
            name: chance.choice(variable.values) if number else variable.values[0]
            for name, variable in net.variables.items()
        }
        closed = [grid.branches[index].branch for index in grid.closed(position)]
        yield closed, solve(closed, grid.zero)


def flows(point: Point) -> bool:
    return any(abs(amps) > 0.1 for amps in point.amps)


@pytest.mark.parametrize("name", LOOMS)
def test_every_volt_and_ampere_is_mirrored(name: str) -> None:
    loom = read_loom(name, shipped())
    flowing = 0
    pairs = zip(points(loom, shipped()), points(mirrored(loom), mirrored_catalogue()), strict=True)
    for (branches, there), (turned, here) in pairs:
        assert here.volts.keys() == there.volts.keys()
        for node, volts in there.volts.items():
            assert here.volts[node] == pytest.approx(-volts, abs=1e-7), node
        for branch, other, amps, more in zip(branches, turned, there.amps, here.amps, strict=True):
            sign = -1.0 if branch.a == other.a else 1.0  # a diode was turned with its name
            assert more == pytest.approx(sign * amps, abs=1e-6), branch.name
        flowing += flows(there)
    assert flowing > 1


def inspected(loom: Loom, catalogue: Catalogue) -> list[Strain]:
    prover = Prover(loom, catalogue, Job(job="none", loom=loom.loom))
    grid = compile_grid(loom, catalogue, shipped().standards)
    seen = survey(grid, Positions(prover.before))
    return [
        strain
        for strain in strains(Inspection(seen, loom, catalogue, shipped().standards))
        if strain.kind not in POLES
    ]


@pytest.mark.parametrize("name", [name for name in LOOMS if name != WHOLE_VAN])
def test_every_check_finds_the_same_with_the_same_way_from_the_live_pole(name: str) -> None:
    """Which fuse stands before which wire, most of all: the current of a load comes from earth there."""
    loom = read_loom(name, shipped())
    there, here = inspected(loom, shipped()), inspected(mirrored(loom), mirrored_catalogue())

    def told(strain: Strain) -> tuple[object, ...]:
        return (*strain.identity, round(strain.value, 5), round(strain.limit, 5), strain.path, strain.note)

    assert sorted(map(str, map(told, here))) == sorted(map(str, map(told, there)))
    assert len(there) > 3


# -- 6, 12 and 24 V ------------------------------------------------------------------------------------------


def scaled(factor: float) -> Catalogue:
    """Parts for so many times the volts with the same ohms: the watts go with the square."""

    def scale(element: AnyElement, part: Part) -> AnyElement:
        volts = getattr(element, "volts", None)
        if isinstance(element, Lamp | Winding):
            more: dict[str, object] = {"watts": element.watts * factor**2}
            return element.model_copy(update=more | ({"volts": volts * factor} if volts else {}))
        if isinstance(element, Source):
            given = element.open_v * factor if element.open_v else None
            return element.model_copy(
                update={"volts": element.volts * factor, "open_v": given, "ohms": element.ohms or 0.02}
            )
        assert isinstance(element, Diode | Led | Coil | Gauge | Resistor) or not hasattr(element, "watts")
        return element

    return changed(scale, factor)


def has_junctions(loom: Loom) -> bool:
    """Whether a diode, LED or stabiliser is in it: what they take or hold is the same at all volts."""
    parts = (shipped().parts[place.part] for place in loom.places.values())
    return any(isinstance(element, Diode | Led | Stabiliser) for part in parts for element in part.inside)


@pytest.mark.parametrize("volts", [6.0, 12.0, 24.0])
@pytest.mark.parametrize("name", [name for name in LOOMS if not has_junctions(read_loom(name, shipped()))])
def test_at_other_volts_everything_goes_in_proportion(name: str, volts: float) -> None:
    loom = read_loom(name, shipped())
    factor = volts / loom.supply.volts
    other = copy_loom(loom, supply=Supply(volts=volts, earthed=loom.supply.earthed))
    flowing = 0
    for (_, there), (_, here) in zip(points(loom, scaled(1.0)), points(other, scaled(factor)), strict=True):
        for node, at in there.volts.items():
            assert here.volts[node] == pytest.approx(factor * at, abs=1e-6), node
        for amps, more in zip(there.amps, here.amps, strict=True):
            assert more == pytest.approx(factor * amps, abs=1e-5)
        flowing += flows(there)
    assert flowing > 1


def test_looms_of_three_supplies_and_both_poles_are_among_the_shipped() -> None:
    supplies = {(loom.supply.volts, loom.supply.earthed) for loom in (read_loom(n, shipped()) for n in LOOMS)}
    assert {(6.0, "positive"), (12.0, "positive"), (12.0, "negative"), (24.0, "negative")} <= supplies
