"""A fuse that somebody put in counts in both views of the circuit, and in what rules read from parts."""

from planner.currents.grid import compile_grid
from planner.currents.laws import Resistance
from planner.model.delta import ChangeFuse
from planner.model.loom import Loom
from planner.model.reach import fuse_ways
from planner.pipeline import open_catalogue
from planner.proof.facts import conductor_facts
from planner.reading.catalogue import read_loom

CATALOGUE = open_catalogue()
LOOM = read_loom("skarrow-8-headlamps", CATALOGUE)
AT = "dash.fuse-box:7"
CHANGED = ChangeFuse(AT, 20.0, 7.5).apply(LOOM)


def ohms(loom: Loom) -> dict[str, float]:
    grid = compile_grid(loom, CATALOGUE, CATALOGUE.standards)
    return {
        gated.branch.b: gated.branch.law.ohms
        for gated in grid.branches
        if gated.kind == "fuse" and isinstance(gated.branch.law, Resistance)
    }


def test_what_a_conductor_is_fused_with_is_what_was_put_in() -> None:
    assert conductor_facts(LOOM, CATALOGUE).at(AT).fuse_amps == 7.5
    assert conductor_facts(CHANGED, CATALOGUE).at(AT).fuse_amps == 20
    assert conductor_facts(CHANGED, CATALOGUE).at("dash.fuse-box:8").fuse_amps == 7.5


def test_the_fuses_of_a_place_are_told_with_what_was_put_in() -> None:
    ways = {way.sides[1]: way.amps for way in fuse_ways(CHANGED, CATALOGUE, "dash.fuse-box")}
    assert (ways["7"], ways["8"]) == (20, 7.5)
    assert fuse_ways(CHANGED, CATALOGUE, "nowhere") == ()


def test_a_stronger_fuse_has_less_resistance() -> None:
    before, after = ohms(LOOM), ohms(CHANGED)
    assert after[AT] < before[AT] and after["dash.fuse-box:8"] == before["dash.fuse-box:8"]
    assert after[AT] == CATALOGUE.standards.fuse_ohms(20.0).value
