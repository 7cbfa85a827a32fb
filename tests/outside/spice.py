"""Operating points by ngspice, a general-purpose circuit simulator, for comparison with our own solver.

The laws are written here once more, from their published formulas, as expressions in ngspice's language; of
our law objects only the ratings are read. Many circuits share one process: a number of them stand side by
side in one netlist with nothing in common but ground, and netlists follow one another.
"""

import os
import shutil
import struct
import subprocess
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import pytest
from random_branches import solve_together

from planner.currents.laws import Emf, Filament, Junction, Law, Resistance
from planner.currents.solver import Branch, Point, solve

PROGRAM = shutil.which("ngspice")
# On a machine that checks every commit a missing simulator is a failure, elsewhere a reason to skip.
needs_ngspice = pytest.mark.skipif(
    PROGRAM is None and not os.environ.get("CI"), reason="ngspice is not installed"
)
SIDE_BY_SIDE = 20  # circuits in one netlist: 0.16 ms each; one in each netlist 0.39 ms, fifty 0.19 ms
# Much tighter than ngspice's own 1e-3, 1 uV and 1 pA; currents of 1e4 A leave no digits below 1e-12 A.
OPTIONS = ".options reltol=1e-6 vntol=1e-9 abstol=1e-12 gmin=1e-15 itl1=500"


class Circuit(NamedTuple):
    """One operating point to be found: what is closed, and the node that volts count from."""

    name: str
    branches: Sequence[Branch]
    zero: str


class Comparison(NamedTuple):
    """How far two solvers are apart, at worst, and where."""

    points: int
    nodes: int
    worst_v: float
    where: str

    def __str__(self) -> str:
        return (
            f"{self.points:,} operating points, {self.nodes:,} nodes: worst difference {self.worst_v:.2e} V"
            f" ({self.where})"
        )


Solver = Callable[[Sequence[Circuit]], Sequence[Point]]


def one_by_one(circuits: Sequence[Circuit]) -> list[Point]:
    """Our solver, circuit by circuit."""
    return [solve(circuit.branches, circuit.zero) for circuit in circuits]


def all_at_once(circuits: Sequence[Circuit]) -> list[Point]:
    """Our solver for many points of one loom."""
    (zero,) = {circuit.zero for circuit in circuits}
    return solve_together([circuit.branches for circuit in circuits], zero)


def compare_points(circuits: Sequence[Circuit], solver: Solver = one_by_one) -> Comparison:
    """Solve points with both solvers; every node that one of them gives volts must have some from both."""
    nodes, worst, where = 0, 0.0, "nowhere"
    for circuit, found, reference in zip(circuits, solver(circuits), node_volts(circuits), strict=True):
        assert not found.unsettled, f"{circuit.name}: {found.unsettled}"
        assert set(found.volts) == set(reference), circuit.name
        nodes += len(reference)
        for node, volts in reference.items():
            if not abs(found.volts[node] - volts) <= worst:  # also true for what is no number
                worst, where = abs(found.volts[node] - volts), f"{circuit.name}, {node}"
    return Comparison(len(circuits), nodes, worst, where)


def node_volts(circuits: Sequence[Circuit]) -> list[dict[str, float]]:
    """Volts of every node that is joined to its circuit's zero, circuit by circuit."""
    netlists = [Netlist(circuit, number) for number, circuit in enumerate(circuits)]
    decks = [netlists[at : at + SIDE_BY_SIDE] for at in range(0, len(netlists), SIDE_BY_SIDE)]
    volts: dict[str, float] = {}
    unsolved = []
    for deck, found in zip(decks, run(decks), strict=True):
        volts |= found
        if not found:
            unsolved += [[netlist] for netlist in deck]
    for (netlist,), found in zip(unsolved, run(unsolved), strict=True):
        assert found, f"ngspice finds no operating point of {netlist.circuit.name}"
        volts |= found
    return [
        {node: volts[number] if number != "0" else 0.0 for node, number in netlist.numbers.items()}
        for netlist in netlists
    ]


class Netlist:
    """One circuit as lines of ngspice; ``numbers`` is what its nodes are called there."""

    def __init__(self, circuit: Circuit, number: int) -> None:
        self.circuit, self.number = circuit, number
        self.numbers = {circuit.zero: "0"}
        joined = _joined(circuit)
        for node in joined:
            self.numbers.setdefault(node, f"n{number}_{len(self.numbers)}")
        self.lines: list[str] = []
        self.tree: dict[str, str] = {}
        for index, branch in enumerate(circuit.branches):
            if branch.a in joined and branch.a != branch.b:
                self.write(f"{number}_{index}", self.numbers[branch.a], self.numbers[branch.b], branch.law)

    def write(self, name: str, a: str, b: str, law: Law) -> None:
        """Add one branch."""
        v = f"v({a},{b})"
        match law:
            case Resistance(ohms=0.0):
                if not self.closes_a_loop(a, b):
                    self.lines.append(f"V{name} {a} {b} 0")
            case Resistance(ohms=ohms):
                self.lines.append(f"R{name} {a} {b} {ohms!r}")
            case Emf(volts=volts, ohms=ohms):
                self.lines += [f"V{name} {a} i{name} {volts!r}", f"R{name} i{name} {b} {ohms!r}"]
            case Filament(rated_v=volts, rated_amps=amps):
                self.lines.append(f"B{name} {a} {b} i={filament(v, volts, amps)}")
            case Junction(drop_v=drop, ohms=ohms):
                self.lines.append(f"B{name} {a} {b} i={junction(v, drop, ohms)}")
            case _:
                raise AssertionError(f"no law for ngspice: {law}")

    def closes_a_loop(self, a: str, b: str) -> bool:
        """Whether exact joints join two nodes already; ngspice cannot share a current among ideal joints."""
        a, b = self.root(a), self.root(b)
        if a != b:
            self.tree[a] = b
        return a == b

    def root(self, node: str) -> str:
        """The node that stands for all that exact joints join."""
        while node in self.tree:
            node = self.tree[node]
        return node


def filament(v: str, rated_v: float, rated_amps: float) -> str:
    """I ~ V^0.55 from the handbook, but never less resistance than cold: 1/13 of the hot one."""
    floor = rated_v * (1 / 13) ** (1 / 0.45)  # there (V/V0)^0.55 and 13 V/V0 are the same
    hot = f"sgn({v})*{rated_amps!r}*pow(max(abs({v}),{floor!r})/{rated_v!r},0.55)"
    return f"abs({v}) < {floor!r} ? {v}*{13 * rated_amps / rated_v!r} : {hot}"


def junction(v: str, drop_v: float, ohms: float) -> str:
    """A soft knee of 50 mV before a series resistance, nothing at 0 V, and 0.1 uS of leakage."""
    over = f"({v}-{drop_v!r})"
    if drop_v < 0.3:
        return f"1e-7*{v}+max({over},0)/{ohms!r}"
    # ln(1 + e^x) written so that nothing overflows
    knee = f"(max({over},0)+0.05*ln(1+exp(-abs{over}/0.05)))"
    return f"1e-7*{v}+({knee}-0.05*ln(1+exp({-drop_v!r}/0.05)))/{ohms!r}"


def run(decks: Sequence[Sequence[Netlist]]) -> list[dict[str, float]]:
    """Volts by ngspice's names for each deck of netlists, all in one process; empty where it found none."""
    if not decks:
        return []
    with TemporaryDirectory() as folder:
        write(decks, Path(folder))
        simulate(Path(folder))
        return [_read_raw(Path(folder, f"{number}.raw")) for number in range(len(decks))]


def write(decks: Sequence[Sequence[Netlist]], folder: Path) -> None:
    """Write netlists, a file for each deck, and what makes one process solve them in turn."""
    control = ["* operating points", ".control", "set filetype=binary"]
    for number, deck in enumerate(decks):
        lines = ["* circuits side by side", OPTIONS, *(line for one in deck for line in one.lines)]
        # One resistor of its own, so that a circuit with nothing closed is a netlist as well.
        lines += ["Ralone alone 0 1", ".end", ""]
        (folder / f"{number}.cir").write_text("\n".join(lines), encoding="ascii")
        control += [f"source {number}.cir", "op", f"write {number}.raw", "destroy all", "remcirc"]
    control += ["quit", ".endc", ".end", ""]
    (folder / "control.cir").write_text("\n".join(control), encoding="ascii")


def simulate(folder: Path) -> None:
    """Run ngspice once on everything in a folder."""
    assert PROGRAM, "ngspice is not installed (package ngspice)"
    subprocess.run([PROGRAM, "-b", "control.cir"], cwd=folder, check=False, capture_output=True, timeout=300)


def _read_raw(file: Path) -> dict[str, float]:
    """The node volts of a binary raw file: a header of text, then one double for each variable."""
    if not file.exists():
        return {}
    header, _, data = file.read_bytes().partition(b"Binary:\n")
    lines = header.decode("ascii").partition("Variables:\n")[2].split("\n")
    names = [line.split()[1] for line in lines if line.strip()]
    values = struct.unpack(f"{len(names)}d", data[: 8 * len(names)])
    return {name[2:-1]: value for name, value in zip(names, values, strict=True) if name.startswith("v(")}


def _joined(circuit: Circuit) -> Mapping[str, None]:
    """The nodes that some chain of branches joins to zero, in a fixed order."""
    beside: dict[str, list[str]] = {}
    for branch in circuit.branches:
        beside.setdefault(branch.a, []).append(branch.b)
        beside.setdefault(branch.b, []).append(branch.a)
    found = {circuit.zero: None}
    stack = [circuit.zero]
    while stack:
        for other in beside.get(stack.pop(), ()):
            if other not in found:
                found[other] = None
                stack.append(other)
    return found
