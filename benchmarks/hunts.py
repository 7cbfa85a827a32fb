"""Hunts for mistakes that were put in: how many are found, in how many readings, how long a proposal takes.

In each shipped job every single mistake is put in, one after another, and hunted from the first thing that
looks otherwise than it should when the controls are tried one after another; with a number only so many of
each job, drawn by lot. Of a mistake of several sizes one is drawn. Answers are those of the faulted vehicle
with a meter's noise. A mistake that nothing looks of is counted as silent and not hunted. The bound is the
information that the symptom leaves open of what the hunt ends at, at one bit a reading. Half-splitting, for
the same hunts, is that of ``half_split``. Two mistakes at once are those of ``hunt_pairs``, drawn by lot in
all jobs. Jobs are shared among the processor's cores; times are CPU time.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import gc
import random
import time
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass, field
from itertools import islice
from math import log2
from pathlib import Path
from statistics import median

import numpy as np

from benchmarks.arguments import rounds_of
from benchmarks.half_split import HalfSplit
from benchmarks.hunt_bench import Bench
from benchmarks.hunt_pairs import hunt_pairs
from planner.model.observations import Observation
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import Vehicle

JOBS = Path(__file__).parents[1] / "catalogs" / "jobs"
PAIRS = 200
COLD = 25  # hunts with nothing known
SYMPTOMS = (1, 4)  # that they begin with, at most
LATER_TARGET_S = 0.2
MOST_OVER_BOUND, LEAST_FEWER = 1.25, 0.25
MOST_TOLD = 12  # of the mistakes that were missed in a job
Mistakes = set[tuple[int, ...]]


@dataclass
class Tally:
    """What some hunts came to."""

    silent: int = 0
    readings: list[int] = field(default_factory=list)
    bits: list[float] = field(default_factory=list)
    halved: list[float] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)

    def add(self, other: "Tally") -> None:
        """Count those of another together with these."""
        self.silent += other.silent
        for name in ("readings", "bits", "halved", "missed", "seconds"):
            getattr(self, name).extend(getattr(other, name))

    @property
    def over_bound(self) -> float:
        """Readings for each bit that the symptoms left open."""
        return sum(self.readings) / sum(self.bits) if sum(self.bits) else 0.0

    @property
    def fewer(self) -> float:
        """The share of readings that half-splitting would have taken besides."""
        return 1.0 - sum(self.readings) / sum(self.halved) if sum(self.halved) else 0.0

    def line(self, name: str) -> str:
        """All of it in a line."""
        count = len(self.readings)
        if not count:
            return f"{name}: no hunts ({self.silent} silent)"
        seconds = sorted(self.seconds) or [0.0]
        return (
            f"{name}: {count} hunts ({self.silent} silent), found {1 - len(self.missed) / count:.2%}; "
            f"readings {sum(self.readings) / count:.2f}, bound {sum(self.bits) / count:.2f} "
            f"({self.over_bound:.2f}x), half-splitting {sum(self.halved) / count:.2f} "
            f"({self.fewer:.0%} fewer); "
            f"next reading {seconds[len(seconds) // 2]:.3f} s, worst {seconds[-1]:.2f} s"
        )


def open_bits(bench: Bench, symptom: Observation, ended_at: Mistakes) -> float:
    """The bits that a symptom leaves open of some mistakes together."""
    first, worlds = Hunt(bench.known), np.arange(bench.vehicle.singles)
    first.add(symptom)
    weights = bench.vehicle.weights[worlds] * first.agreement(0, worlds)
    own = [bench.vehicle.worlds[world].mistakes in ended_at for world in worlds.tolist()]
    return -log2(float(weights[own].sum() / weights.sum()))


def run_job(bench: Bench, sample: int) -> Tally:
    """Hunt for every single mistake of one job, or for so many of them."""
    tally, vehicle = Tally(), bench.vehicle
    sizes: dict[int, list[int]] = {}
    for world in range(1, vehicle.singles):
        sizes.setdefault(vehicle.worlds[world].mistakes[0], []).append(world)
    lots = random.Random(bench.job)
    chosen = {lots.choice(own) for own in sizes.values()}
    if 0 < sample < len(chosen):
        chosen = set(lots.sample(sorted(chosen), sample))
    symptoms, splitter = bench.symptoms(), HalfSplit(bench.known)
    tally.silent = len(chosen.difference(*(own.tolist() for own in symptoms.values())))
    for symptom, own in symptoms.items():
        halved: dict[int, float] = {}
        for world in sorted(chosen & set(own.tolist())):
            halved = halved or splitter.readings(symptom.settings, bench.suspects(symptom))
            hunt, taken = bench.hunt([symptom], world)
            alike = {s.mistakes for s in (Report(hunt).alike or hunt.suspects[:1])}
            truth = vehicle.worlds[world].mistakes
            tally.readings.append(taken)
            tally.halved.append(halved[world])
            tally.bits.append(open_bits(bench, symptom, alike | {truth}))
            if truth not in alike:
                tally.missed.append(f"{vehicle.words(world)} [{symptom.at} {symptom.says}; {taken}]")
    tally.seconds = bench.seconds
    return tally


def cold_seconds(bench: Bench, most: int) -> tuple[list[float], list[float]]:
    """The first proposals of a settled job with nothing worked out, and those after them, sorted.

    Each hunt begins with so many symptoms at most, and with nobody looking for what is left behind, as in
    the command.
    """
    firsts, later = [], []
    symptoms, lots = list(bench.symptoms().values()), random.Random(bench.job)
    gc.disable()
    for worlds in lots.choices(symptoms, k=COLD):
        world = lots.choice(worlds.tolist())
        seen = list(islice(bench.looks(world), most))
        began = time.process_time()
        cold = Bench(bench.job, Vehicle(bench.vehicle.wired, bench.vehicle.catalogue))
        made = time.process_time() - began
        cold.hunt(seen, world)
        firsts.append(made + cold.seconds[0])
        later += cold.seconds[1:]
    gc.enable()
    return sorted(firsts), sorted(later)


def run(job: str, sample: int, pairs: int) -> tuple[Tally, int, list[str]]:
    """The hunts of one job: for single mistakes, how many for two at once, and which of these were missed."""
    bench = Bench.of(job)
    tally = run_job(bench, sample)
    return tally, *hunt_pairs(bench, pairs)


def main() -> None:
    """Print a line for each job, what they come to together, and what a proposal takes with nothing known."""
    sample = rounds_of("hunts", __doc__, 0)
    jobs = [path.stem.partition("-")[2] for path in sorted(JOBS.glob("*.yaml"))]
    shares = [PAIRS * (n + 1) // len(jobs) - PAIRS * n // len(jobs) for n in range(len(jobs))]
    total, each, pairs, lost = Tally(), dict[str, Tally](), 0, 0
    with ProcessPoolExecutor() as pool:
        work = {pool.submit(run, job, sample, own): job for job, own in zip(jobs, shares, strict=True)}
        for done in as_completed(work):
            job, (tally, hunted, missed) = work[done], done.result()
            print(tally.line(job), flush=True)
            for words in tally.missed[:MOST_TOLD]:
                print(f"    missed: {words}")
            for words in missed:
                print(f"    missed, of two: {words}")
            total.add(tally)
            each[job] = tally
            pairs, lost = pairs + hunted, lost + len(missed)
    print(total.line("all of them"))
    over = [job for job in sorted(each) if each[job].over_bound > MOST_OVER_BOUND]
    print(f"more than {MOST_OVER_BOUND} times the bound: {len(over)} of {len(jobs)} jobs: {', '.join(over)}")
    fewer = [job for job in sorted(each) if each[job].readings and each[job].fewer < LEAST_FEWER]
    print(f"less than {LEAST_FEWER:.0%} fewer: {len(fewer)} of {len(jobs)} jobs: {', '.join(fewer)}")
    print(f"two mistakes: {pairs - lost} of {pairs} pairs among the first three")
    van = Bench.of("whole-van")
    for most in SYMPTOMS:
        firsts, later = cold_seconds(van, most)
        print(
            f"whole-van, nothing known, {COLD} hunts from {most} symptoms at most: "
            f"first reading {median(firsts):.2f} s, worst {firsts[-1]:.2f} s; "
            f"{len(later)} later ones {median(later):.3f} s, worst {later[-1]:.2f} s, "
            f"{sum(seconds > LATER_TARGET_S for seconds in later)} above {LATER_TARGET_S} s"
        )


if __name__ == "__main__":
    main()
