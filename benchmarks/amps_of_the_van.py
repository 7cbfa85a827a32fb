"""Times the electrical view of the whole van: from nothing, and after one wire was made longer.

The looms are those of the demonstration, before the work and as its plan settles it. From nothing means the
grid with all resistances, the survey of the worst over all positions and every check; the proof with ideal
joints stands already. The longer wire makes a second loom, asked of the same ``Currents`` after the first:
wires of different blocks in turn. Last the whole job: its files read, both looms proven and their amps held
against one another; and the same proven again once one wire of the loom after is longer. Times are CPU time
on one core, with numpy loaded. Run it with ``uv run python -m benchmarks.amps_of_the_van``.
"""

import gc
import importlib
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from benchmarks.arguments import rounds_of
from planner import pipeline
from planner.currents.currents import Currents
from planner.engine.packs import installed_rules
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.job import Job
from planner.model.loom import Loom
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job

ROUNDS = 5
WHOLE_TARGET_S = 1.0  # for both looms
EDIT_TARGET = 10
ADDED_METRES = 0.5
EDITED = {
    "W38": "washer pump",
    "W101": "fuel gauge",
    "W103": "oil lamp",
    "W42": "radio",
    "W44": "heater fan",
    "W22": "horn",
    "W77": "left main beam",
    "W88": "left side lamp",
    "W62": "stop lamps",
    "W57": "left rear turn signal",
    "W20": "interior lamps, feed",
    "W12": "starter solenoid",
    "W5": "lighting switch, feed",
    "W2": "battery, earth",
}


@dataclass(frozen=True)
class Run:
    """CPU seconds and operating points solved, from nothing and by the wire that was made longer."""

    whole_s: float
    whole_points: int
    edits_s: dict[str, float]
    edits_points: dict[str, int]


def main() -> None:
    """Measure and print."""
    rounds_of("amps_of_the_van", __doc__)
    importlib.import_module("numpy")  # the view would load it within the first time measured
    catalogue = pipeline.open_catalogue()
    job, before = read_job(pipeline.DEMONSTRATION, catalogue)
    prover = Prover(before, catalogue, job)
    choice = pipeline.settle(job, before, catalogue, installed_rules(), prover, Currents(prover))
    after = choice.chosen.candidate.loom
    proof = prover.prove(after)
    gc.collect()
    gc.freeze()
    rounds = [[measure(loom, job, before, catalogue) for loom in (before, after)] for _ in range(ROUNDS)]
    runs_before, runs_after = zip(*rounds, strict=True)
    print(f"the whole van, {proof.positions:,} positions x {proof.start_states} start states")
    whole = [median(run.whole_s for run in runs) for runs in (runs_before, runs_after)]
    points = [runs[0].whole_points for runs in (runs_before, runs_after)]
    print(
        f"amps, volts and checks from nothing, median of {ROUNDS}: {whole[0]:.2f} s for the loom before, "
        f"{whole[1]:.2f} s for the loom after; {points[0]} and {points[1]} operating points"
    )
    say(f"both looms: {sum(whole):.2f} s", sum(whole) < WHOLE_TARGET_S, f"under {WHOLE_TARGET_S:.0f} s")
    for name, runs, whole_s in zip(("before", "after"), (runs_before, runs_after), whole, strict=True):
        print_edits(name, runs, whole_s)
    print_job([prove_job(after) for _ in range(ROUNDS)])


def measure(loom: Loom, job: Job, before: Loom, catalogue: Catalogue) -> Run:
    """Look at a loom from nothing, then at it with each of the wires made longer."""
    prover = Prover(before, catalogue, job)
    prover.prove(loom)  # what both views share is solved before anything is timed
    currents = Currents(prover)
    whole_s = cpu_of(currents, loom)
    whole_points = currents.inspection(loom).survey.solved
    edits_s, edits_points = {}, {}
    for wire, edited in longer(loom):
        edits_s[wire] = cpu_of(currents, edited)
        edits_points[wire] = currents.inspection(edited).survey.solved
    return Run(whole_s, whole_points, edits_s, edits_points)


def cpu_of(currents: Currents, loom: Loom) -> float:
    """CPU seconds until every value of a loom is held against its limit."""
    gc.collect()  # what was left behind before is no business of a collection during the work
    began = time.process_time()
    if not currents.strains(loom):
        raise SystemExit("nothing was held against a limit")
    return time.process_time() - began


def prove_job(after: Loom) -> tuple[float, float, float]:
    """CPU seconds to read the job, to prove it with amps, and again with one wire longer (the median)."""
    gc.collect()
    began = time.process_time()
    catalogue = pipeline.open_catalogue()
    job, before = read_job(pipeline.DEMONSTRATION, catalogue)
    read = time.process_time()
    prover = Prover(before, catalogue, job)
    currents = Currents(prover)
    prover.prove(after)
    currents.faults(after, thorough=True)
    proven = time.process_time()
    again = []
    for _, edited in longer(after):
        gc.collect()
        start = time.process_time()
        prover.prove(edited)
        currents.faults(edited, thorough=True)
        again.append(time.process_time() - start)
    return read - began, proven - read, median(again)


def print_job(runs: Sequence[tuple[float, float, float]]) -> None:
    """Print how much less it takes to prove a job again than from nothing."""
    read_s, proven_s, again_s = (median(each) for each in zip(*runs, strict=True))
    print(
        f"the job read in {1e3 * read_s:.0f} ms and proven with its amps in {1e3 * proven_s:.0f} ms; "
        f"proven again with one wire of the loom after longer, median of {len(EDITED)} wires: "
        f"{1e3 * again_s:.0f} ms, {proven_s / again_s:.1f} times less"
    )
    ratio = (read_s + proven_s) / again_s
    say(
        f"  with reading its files once, which is from nothing: {ratio:.1f} times less",
        ratio >= EDIT_TARGET,
        f"at least {EDIT_TARGET} times less",
    )


def longer(loom: Loom) -> Iterator[tuple[str, Loom]]:
    """Yield the loom with one wire longer, for each of the wires."""
    for name in EDITED:
        old = loom.find(name)
        new = old.model_copy(update={"metres": (old.metres[0] + ADDED_METRES, *old.metres[1:])})
        yield name, copy_loom(loom, wires=tuple(new if wire is old else wire for wire in loom.wires))


def print_edits(name: str, runs: tuple[Run, ...], whole_s: float) -> None:
    """Print how much less a longer wire costs than looking at the loom from nothing."""
    seconds = {wire: median(run.edits_s[wire] for run in runs) for wire in EDITED}
    points = runs[0].edits_points
    print(f"one wire of the loom {name} made {ADDED_METRES} m longer:")
    for wire, title in EDITED.items():
        print(
            f"  {wire:<5} {title:<22} {1e3 * seconds[wire]:6.0f} ms {whole_s / seconds[wire]:6.1f} times less"
            f" {points[wire]:4} operating points"
        )
    middle = median(seconds.values())
    print(
        f"  median of {len(seconds)} wires: {1e3 * middle:.0f} ms, {whole_s / middle:.1f} times less than "
        f"from nothing, {median(points.values()):.0f} operating points"
    )


def say(figure: str, is_met: bool, target: str) -> None:
    """Print a figure and whether it keeps to its target."""
    print(f"{figure} (target: {target}; {'met' if is_met else 'MISSED'})")


if __name__ == "__main__":
    main()
