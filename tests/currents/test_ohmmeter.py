"""What an ohmmeter reads with the battery off: networks, each kind of element, and a dead test of a loom."""

from itertools import combinations
from math import inf

import pytest
from generated_looms import catalogue
from small_looms import Bench, make_parts

from planner.currents.grid import Conditions, Grid, compile_grid
from planner.currents.ohmmeter import cold_ohms
from planner.model.job import Job
from planner.proof.prove import Prover
from planner.reading.catalogue import read_loom

TABLES = catalogue().standards
PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 21, does: stop}}]}
    led: {terminals: {a: "", b: ""}, inside: [{led: {between: [a, b], watts: 6, does: x}}]}
    diode: {terminals: {a: "", b: ""}, inside: [{diode: {between: [a, b], amps: 5}}]}
    cut-out: {terminals: {a: "", b: ""}, inside: [{diode: {between: [a, b], drop_v: 0}}]}
    coil:
      terminals: {a: "", b: ""}
      inside: [{coil: {between: [a, b], ohms: 80, pulls_in_v: 7, drops_out_v: 3, name: armature}}]
    motor:
      terminals: {a: "", b: ""}
      inside: [{winding: {between: [a, b], watts: 48, does: wipe, stalled_amps: 20}}]
    switch:
      terminals: {a: "", b: ""}
      inside:
        - control: {name: knob, positions: ["off", "on"]}
        - contact: {join: [a, b], when: {knob: "on"}, ohms: 0.5}
    """
)


def grid_of(part: str, conditions: Conditions | None = None) -> Grid:
    bench = Bench(PARTS, {"p": part}, [])
    return compile_grid(bench.loom, bench.catalogue, TABLES, conditions)


def network(*resistors: tuple[str, str, float]) -> Grid:
    """Resistors between terminals of one part, with no wire."""
    marks = sorted({end for a, b, _ in resistors for end in (a, b)})
    inside = "".join(f"- resistor: {{between: [{a}, {b}], ohms: {ohms}}}\n  " for a, b, ohms in resistors)
    terminals = ", ".join(f'{mark}: ""' for mark in marks)
    parts = make_parts(f"net:\n  terminals: {{{terminals}}}\n  inside:\n  {inside}")
    bench = Bench(parts, {"p": "net"}, [])
    return compile_grid(bench.loom, bench.catalogue, TABLES)


# -- resistor networks -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("r1", "r2", "r3", "balance"), [(590, 972, 78.6, 129.5), (630, 972, 42.6, 65.7), (685, 972, 78.6, 111.5)]
)
def test_what_bridges_a_balanced_wheatstone_bridge_is_not_read(
    r1: float, r2: float, r3: float, balance: float
) -> None:
    """University physics textbook problems: inputs confirmed (problem pages), results computed."""
    rx = r2 * r3 / r1
    assert rx == pytest.approx(balance, abs=0.05)
    arms = (("P", "a", r1), ("P", "b", r2), ("a", "G", r3), ("b", "G", rx))
    sides = 1 / (1 / (r1 + r3) + 1 / (r2 + rx))
    for bridge in (0.01, 10.0, 1e6):
        assert cold_ohms(network(*arms, ("a", "b", bridge)), {}, "p:P", "p:G") == pytest.approx(sides)
    off = network(("P", "a", r1), ("P", "b", r2), ("a", "G", r3), ("b", "G", 2 * rx), ("a", "b", 0.01))
    ends = 1 / (1 / r1 + 1 / r2) + 1 / (1 / r3 + 1 / (2 * rx))  # as good as tied
    assert cold_ohms(off, {}, "p:P", "p:G") == pytest.approx(ends, rel=1e-4)


@pytest.mark.parametrize(("steps", "share"), [(1, 7 / 12), (2, 3 / 4), (3, 5 / 6)])
def test_a_cube_of_equal_resistors_reads_as_its_symmetry_says(steps: int, share: float) -> None:
    """Between the ends of an edge, of a face's diagonal and of the body's: computed from symmetry."""
    corners = [f"c{n:03b}" for n in range(8)]
    edges = [(a, b, 12.0) for a, b in combinations(corners, 2) if sum(map(str.__ne__, a, b)) == 1]
    far = "c" + "1" * steps + "0" * (3 - steps)
    assert len(edges) == 12
    assert cold_ohms(network(*edges), {}, "p:c000", f"p:{far}") == pytest.approx(12.0 * share)


def test_the_tips_may_be_exchanged_on_resistors() -> None:
    grid = network(("a", "b", 3.0), ("b", "c", 5.0), ("a", "c", 7.0))
    assert cold_ohms(grid, {}, "p:a", "p:c") == pytest.approx(8 * 7 / 15)
    assert cold_ohms(grid, {}, "p:c", "p:a") == pytest.approx(8 * 7 / 15)


@pytest.mark.parametrize("ohms", [1e-6, 0.01, 1e7])
def test_very_small_and_very_large_resistances_are_read_exactly(ohms: float) -> None:
    assert cold_ohms(network(("a", "b", ohms)), {}, "p:a", "p:b") == pytest.approx(ohms, rel=1e-9)


def test_tips_on_one_node_read_nothing_and_tips_on_parts_apart_read_open() -> None:
    grid = network(("a", "b", 3.0), ("b", "c", 3.0), ("c", "a", 3.0), ("d", "e", 1.0), ("e", "d", 2.0))
    assert cold_ohms(grid, {}, "p:a", "p:a") == 0.0
    assert cold_ohms(grid, {}, "p:a", "p:d") == inf
    assert cold_ohms(grid, {}, "p:d", "p:a") == inf


# -- elements ----------------------------------------------------------------------------------------------


def test_a_filament_reads_a_thirteenth_of_its_hot_resistance_or_nothing_when_it_is_out() -> None:
    hot = 12.0 * 12.0 / 21.0
    assert cold_ohms(grid_of("lamp"), {}, "p:a", "p:b") == pytest.approx(hot / 13)
    assert cold_ohms(grid_of("lamp"), {}, "p:a", "p:b", lamps_out=True) == inf


@pytest.mark.parametrize("part", ["diode", "led"])
@pytest.mark.parametrize(("a", "b"), [("p:a", "p:b"), ("p:b", "p:a")])
def test_a_junction_only_leaks_either_way(part: str, a: str, b: str) -> None:
    assert cold_ohms(grid_of(part), {}, a, b) == pytest.approx(1e7)


def test_a_cut_out_reads_open_either_way() -> None:
    assert cold_ohms(grid_of("cut-out"), {}, "p:a", "p:b") == inf
    assert cold_ohms(grid_of("cut-out"), {}, "p:b", "p:a") == inf


def test_a_battery_is_disconnected_and_not_shorted() -> None:
    assert cold_ohms(grid_of("battery"), {}, "p:+", "p:-") == inf


def test_a_coil_reads_its_ohms_and_a_motor_those_of_standing_still_if_the_grid_is_stalled() -> None:
    assert cold_ohms(grid_of("coil"), {}, "p:a", "p:b") == pytest.approx(80)
    assert cold_ohms(grid_of("motor"), {}, "p:a", "p:b") == pytest.approx(3.0)
    stalled = grid_of("motor", Conditions(stalled=True))
    assert cold_ohms(stalled, {}, "p:a", "p:b") == pytest.approx(0.6)


def test_a_contact_is_as_in_the_position() -> None:
    assert cold_ohms(grid_of("switch"), {"p/knob": "on"}, "p:a", "p:b") == pytest.approx(0.5)
    assert cold_ohms(grid_of("switch"), {"p/knob": "off"}, "p:a", "p:b") == inf


# -- a dead test -------------------------------------------------------------------------------------------


def read_headlamps(lighting: str, lever: str, *, lamps_out: bool) -> float:
    """From the battery feed of the shipped headlamp loom to the body."""
    loom = read_loom("skarrow-8-headlamps", catalogue())
    grid = compile_grid(loom, catalogue(), TABLES)
    variables = Prover(loom, catalogue(), Job(job="none", loom=loom.loom)).before.net.variables
    position = {name: variable.values[0] for name, variable in variables.items()}
    position |= {"dash.lighting-switch/lighting": lighting, "column.dip-lever/dip lever": lever}
    return cold_ohms(grid, position, "feed:battery", "earth", lamps_out=lamps_out)


def test_a_dead_test_of_good_headlamps_looks_like_a_short_until_the_lamps_are_out() -> None:
    """Two cold filaments side by side read a tenth of an ohm: common practice, no source."""
    assert 0.1 < read_headlamps("head", "released", lamps_out=False) < 0.3
    assert read_headlamps("head", "released", lamps_out=True) == inf
    assert read_headlamps("off", "released", lamps_out=False) == inf


def test_with_the_lamps_out_what_else_is_switched_on_is_read() -> None:
    """The dip relay's coil, while the lever is pulled."""
    assert read_headlamps("head", "pulled", lamps_out=False) < 0.3
    assert 20 < read_headlamps("head", "pulled", lamps_out=True) < 200
