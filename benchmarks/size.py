"""Measures how the time of a proof and of the electrical view grow with the size of the loom, block by block.

The looms are made here: copies of one small circuit (fuse, switch, relay, two lamps) on one battery. One
switch is swapped for its like with the detents in another order; the loom before and the loom after are
proven from nothing. Then the loom after is looked at with every resistance, survey and checks. The exponent
is the slope of CPU time over wires on logarithmic scales. As in a run of the command line, garbage is not
collected meanwhile; it is between any two. Run it with ``uv run python -m benchmarks.size``.
"""

import gc
import math
import resource
import time
from collections.abc import Mapping, Sequence
from dataclasses import replace
from statistics import median
from typing import Any

from benchmarks.arguments import rounds_of
from planner import pipeline
from planner.currents.currents import Currents
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.job import Job, Swap
from planner.model.loom import Loom
from planner.model.part import Part
from planner.proof.prove import Prover

WIRES = (50, 100, 250, 500, 1000, 2500, 5000)
ROUNDS, ROUNDS_WITH_AMPS = 7, 3
EXPONENT_TARGET = 1.15
MEMORY_TARGET_MB = 300
WIRES_PER_COPY = 10


def main() -> None:
    """Measure and print."""
    rounds_of("size", __doc__)
    gc.disable()
    standards = pipeline.open_catalogue().standards
    catalogue = replace(make_catalogue(), load_standards=lambda: standards)
    looms = {wires: make_loom(wires // WIRES_PER_COPY) for wires in WIRES}
    times: dict[int, list[float]] = {wires: [] for wires in WIRES}
    solved = {}
    for _ in range(ROUNDS):  # the sizes take turns, so that other work on the machine falls on all alike
        for wires, loom in looms.items():
            assert len(loom.wires) == wires
            took, solved[wires] = prove_once(loom, catalogue)
            times[wires].append(took)
    print(f"wires   copies   cpu ms, median of {ROUNDS}   operating points")
    report(times, solved)
    times = {wires: [] for wires in WIRES}
    for _ in range(ROUNDS_WITH_AMPS):
        for wires in WIRES:
            took, solved[wires] = strain_once(looms[wires], catalogue)
            times[wires].append(took)
    print(f"wires   copies   cpu ms, median of {ROUNDS_WITH_AMPS}   operating points, with every resistance")
    report(times, solved)


def report(times: Mapping[int, Sequence[float]], solved: Mapping[int, int]) -> None:
    """Print medians, how they grow, and the most memory that the process has taken so far."""
    seconds = {wires: median(own) for wires, own in times.items()}
    for wires, middle in seconds.items():
        print(f"{wires:5}   {wires // WIRES_PER_COPY:6}   {middle * 1e3:19.1f}   {solved[wires]:16}")
    exponent = slope([math.log(w) for w in seconds], [math.log(s) for s in seconds.values()])
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    is_met = "met" if exponent <= EXPONENT_TARGET else "MISSED"
    print(f"time grows with wires to the power of {exponent:.2f} (target: {EXPONENT_TARGET}; {is_met})")
    is_met = "met" if peak_mb < MEMORY_TARGET_MB else "MISSED"
    print(f"peak memory {peak_mb:.0f} MB (target: under {MEMORY_TARGET_MB}; {is_met})")


def prove_once(loom: Loom, catalogue: Catalogue) -> tuple[float, int]:
    """CPU seconds and operating points for both looms from nothing; what worked must work after as well."""
    job, after = swapped(loom)
    gc.collect()
    began = time.process_time()
    prover = Prover(loom, catalogue, job)
    proof = prover.prove(after)
    took = time.process_time() - began
    if proof.faults or {finding.outcome for finding in proof.findings} != {"kept"}:
        raise SystemExit("the swap for its like is not proven to keep everything")
    return took, prover.store.solved


def strain_once(loom: Loom, catalogue: Catalogue) -> tuple[float, int]:
    """CPU seconds and operating points until every value of the loom after is held against its limit."""
    job, after = swapped(loom)
    currents = Currents(Prover(loom, catalogue, job))
    gc.collect()
    began = time.process_time()
    if not currents.strains(after):
        raise SystemExit("nothing was held against a limit")
    took = time.process_time() - began
    return took, currents.inspection(after).survey.solved


def swapped(loom: Loom) -> tuple[Job, Loom]:
    """The job and the loom with one switch swapped for its like."""
    swap = Swap(at="c0.switch", fit="switch-turned-round")
    place = loom.places[swap.at].model_copy(update={"part": swap.fit})
    after = copy_loom(loom, places={**loom.places, swap.at: place})
    return Job(job="one-switch", loom=loom.loom, swaps=(swap,)), after


def make_catalogue() -> Catalogue:
    """The invented parts of the small circuit."""
    coil: dict[str, Any] = {
        "between": ["86", "85"],
        "ohms": 80,
        "pulls_in_v": 7,
        "drops_out_v": 3,
        "name": "armature",
    }
    contact: dict[str, Any] = {"join": ["30", "87"], "when": {"armature": "pulled"}}
    parts = [
        part("battery", ["30", "31"], [{"source": {"between": ["30", "31"], "volts": 12}}]),
        part("fuse", ["fed", "fused"], [{"fuse": {"between": ["fed", "fused"], "amps": 15}}]),
        switch("switch", ["off", "side", "head"]),
        switch("switch-turned-round", ["off", "head", "side"]),
        part("relay", ["30", "87", "86", "85"], [{"coil": coil}, {"contact": contact}]),
        part("head-lamp", ["56", "31"], [{"lamp": {"between": ["56", "31"], "watts": 45, "does": "head"}}]),
        part("side-lamp", ["58", "31"], [{"lamp": {"between": ["58", "31"], "watts": 5, "does": "side"}}]),
    ]
    return Catalogue({}, {}, {p.part: p for p in parts}, {}, {}, {})


def switch(name: str, positions: list[str]) -> Part:
    """A lighting switch of three positions."""
    inside: list[Mapping[str, Any]] = [
        {"control": {"name": "lights", "positions": positions}},
        {"contact": {"join": ["30", "58"], "when": {"lights": ["side", "head"]}}},
        {"contact": {"join": ["30", "56"], "when": {"lights": "head"}}},
    ]
    return part(name, ["30", "58", "56"], inside)


def part(name: str, marks: list[str], inside: list[Mapping[str, Any]]) -> Part:
    """An invented part, every terminal by wire."""
    terminals: dict[str, Mapping[str, Any]] = {mark: {} for mark in marks}
    return Part.model_validate(
        {"part": name, "title": name, "family": name, "source": "invented", "terminals": terminals,
         "inside": inside}
    )  # fmt: skip


def make_loom(copies: int) -> Loom:
    """So many copies of the small circuit on one battery."""
    places = {"battery": {"part": "battery", "zone": "all"}}
    wires: list[dict[str, Any]] = []

    def run(*ends: str) -> None:
        wires.append({"wire": f"W{len(wires)}", "colour": "BK", "mm2": 1.5, "metres": 1.0, "ends": ends})

    for n in range(copies):
        for role, name in (("fuse", "fuse"), ("switch", "switch"), ("relay", "relay"), ("head", "head-lamp"),
                           ("side", "side-lamp")):  # fmt: skip
            places[f"c{n}.{role}"] = {"part": name, "zone": "all"}
        run("battery:30", f"c{n}.fuse:fed")
        run(f"c{n}.fuse:fused", f"c{n}.switch:30")
        run(f"c{n}.switch:30", f"c{n}.relay:30")
        run(f"c{n}.switch:56", f"c{n}.relay:86")
        run(f"c{n}.relay:87", f"c{n}.head:56")
        run(f"c{n}.switch:58", f"c{n}.side:58")
        run(f"c{n}.head:31", "earth")
        run(f"c{n}.side:31", "earth")
        run(f"c{n}.relay:85", "earth")
        run("battery:31", "earth") if n == 0 else run(f"c{n}.head:31", f"c{n - 1}.head:31")
    return Loom.model_validate(
        {"loom": "copies", "supply": {"volts": 12, "earthed": "negative"}, "zones": {"all": {}},
         "places": places, "wires": wires}
    )  # fmt: skip


def slope(xs: list[float], ys: list[float]) -> float:
    """The slope of the straight line with the least squares."""
    x_mean, y_mean = sum(xs) / len(xs), sum(ys) / len(ys)
    above = sum((x - x_mean) * (y - y_mean) for x, y in zip(xs, ys, strict=True))
    return above / sum((x - x_mean) ** 2 for x in xs)


if __name__ == "__main__":
    main()
