"""Hunts for mistakes that were put in: how many are found, in how many readings, how long a proposal takes.

In each job so many single mistakes are put in one after another, and hunted from the first thing that looks
otherwise than it should when the controls are tried one after another. Answers are those of
the faulted vehicle with a meter's noise. A mistake that nothing looks of is counted as silent and not hunted.
The bound is the information that the symptom leaves open, at one bit a reading. Half-splitting, for the same
hunts, is that of ``half_split``. Times are CPU time. Double mistakes are sampled
from those of which neither hides the other: each of them alone leaves something unexplained.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import random
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import zip_longest
from math import log2

import numpy as np

from benchmarks.arguments import rounds_of
from benchmarks.half_split import half_split
from planner.model.observations import LOOKS, OPEN_OHMS, Observation
from planner.pipeline import open_catalogue
from planner.sheet_pipeline import wired
from planner.testing.hunt.agreeing import load_key, look_chances, where_it_sits
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.question import Question
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import NOTHING, Vehicle

JOBS = ("two-speed-wipers", "trailer-socket-13", "hazard-flasher", "whole-van")
MOST_READINGS = 30
MOST_SYMPTOMS = 8  # told at first where there are two mistakes
VOLTS_NOISE, OHMS_NOISE = 0.01, 0.03  # one standard deviation, as a share; a last digit besides


@dataclass
class Tally:
    """What the hunts of one job came to."""

    silent: int = 0
    readings: list[int] = field(default_factory=list)
    bounds: list[float] = field(default_factory=list)
    halved: list[float] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)
    first_seconds: list[float] = field(default_factory=list)


class Bench:
    """One vehicle, to put mistakes into."""

    def __init__(self, job: str, seed: int = 1) -> None:
        catalogue = open_catalogue()
        self.vehicle = Vehicle(wired(job, catalogue), catalogue)
        self.known = Known(self.vehicle)
        self.random = random.Random(seed)

    def looks(self, world: int) -> Iterator[Observation]:
        """Yield what looks otherwise than it should, the controls tried one after another."""
        standing, outlook = self.known.standing, self.known.outlook
        both = np.array([NOTHING, world])
        for setting in standing.settings:
            for load in standing.working:
                sound, now = look_chances(outlook, setting, load, both).argmax(axis=1)
                if sound != now:
                    yield Observation("looks", "/".join(load), LOOKS[int(now)], setting)

    def answer(self, question: Question, world: int) -> Observation:
        """What the faulted vehicle answers, with a meter's noise."""
        own, outlook = np.array([world]), self.known.outlook
        says: float | str
        if question.kind == "looks":
            chances = look_chances(outlook, question.setting, load_key(question.at), own)[0]
            says = LOOKS[int(chances.argmax())]
        elif question.kind == "sits":
            says = str(where_it_sits(self.vehicle, question.at, own)[0])
        elif question.kind == "volts":
            volts = float(outlook.volts(question.setting, question.at, question.to, own)[0])
            says = round(volts * self.random.gauss(1.0, VOLTS_NOISE) + self.random.gauss(0.0, 0.02), 2)
        else:
            ohms = float(outlook.dead.ohms(question.at, question.to, own)[0])
            noisy = ohms * self.random.gauss(1.0, OHMS_NOISE) + abs(self.random.gauss(0.0, 0.05))
            says = OPEN_OHMS if ohms >= OPEN_OHMS else round(noisy, 1)
        return Observation(question.kind, question.at, says, question.setting, question.to)

    def hunt(self, symptoms: list[Observation], world: int) -> tuple[Hunt, int, list[float]]:
        """Hunt until it ends: the hunt, the readings taken, and what each proposal took in s."""
        hunt = Hunt(self.known)
        for symptom in symptoms:
            hunt.add(symptom)
        seconds = []
        for taken in range(MOST_READINGS):
            began = time.process_time()
            report = Report(hunt)
            seconds.append(time.process_time() - began)
            if report.question is None:
                return hunt, taken, seconds
            hunt.add(self.answer(report.question, world))
        return hunt, MOST_READINGS, seconds


def class_bits(hunt: Hunt, symptom: Observation, mistakes: set[tuple[int, ...]]) -> float:
    """The bits that the symptom leaves open of some mistakes together."""
    first = Hunt(hunt.known)
    first.add(symptom)
    chance = sum(s.chance for s in first.suspects if s.mistakes in mistakes)
    return -log2(max(chance, 1e-6))


def run_job(bench: Bench, sample: int) -> Tally:
    """Hunt for single mistakes of one job."""
    tally, vehicle = Tally(), bench.vehicle
    worlds = list(range(1, vehicle.singles))
    if sample:
        worlds = bench.random.sample(worlds, min(sample, len(worlds)))
    for world in worlds:
        symptom = next(bench.looks(world), None)
        if symptom is None:
            tally.silent += 1
            continue
        hunt, taken, seconds = bench.hunt([symptom], world)
        report = Report(hunt)
        alike = {s.mistakes for s in (report.alike or hunt.suspects[:1])}
        truth = vehicle.worlds[world].mistakes
        tally.readings.append(taken)
        tally.seconds += seconds[1:]
        if truth not in alike:
            tally.missed.append(f"{vehicle.words(world)} [{symptom.at} {symptom.says}; {taken}]")
        tally.bounds.append(class_bits(hunt, symptom, alike | {truth}))
        tally.halved.append(half_split(bench.known, symptom, world))
    return tally


def cold_seconds(job: str) -> tuple[float, float]:
    """What the first proposal takes of a settled job, with nothing worked out, and the slowest after it."""
    bench, seconds = Bench(job), []
    for world in bench.random.sample(range(1, bench.vehicle.singles), 12):
        symptom = next(bench.looks(world), None)
        if symptom is None:
            continue
        warm = bench.known
        began = time.process_time()
        bench.known = Known(Vehicle(bench.vehicle.wired, bench.vehicle.catalogue))
        made = time.process_time() - began
        first, *later = bench.hunt([symptom], world)[2]
        seconds.append([made + first, *later])
        bench.known = warm
    return max(each[0] for each in seconds), max(t for each in seconds for t in each[1:])


def first_groups(hunt: Hunt, count: int) -> list[list[tuple[int, ...]]]:
    """The likeliest groups of suspects; those that go equally well with everything are one group."""
    groups: dict[tuple[float, ...], list[tuple[int, ...]]] = {}
    for suspect in hunt.suspects:
        own = np.array([suspect.world])
        agreed = tuple(round(float(hunt.agreement(n, own)[0]), 1) for n in range(len(hunt.observations)))
        groups.setdefault(agreed, []).append(suspect.mistakes)
    chance = {s.mistakes: s.chance for s in hunt.suspects}
    return sorted(groups.values(), key=lambda each: -sum(chance[m] for m in each))[:count]


def run_doubles(bench: Bench, count: int) -> tuple[int, int]:
    """Hunt for two mistakes at once: how often the pair ends among the first three, of how many."""
    vehicle, found, tried = bench.vehicle, 0, 0
    while tried < count:
        one, other = bench.random.sample(range(1, vehicle.singles), 2)
        pair = vehicle.pair(one, other)
        if pair is None:
            continue
        seen = dict.fromkeys(bench.looks(pair))
        beside = [seen.keys() - set(bench.looks(world)) for world in (one, other)]
        if not all(beside):  # what one hides of the other is found once the one is mended
            continue
        tried += 1
        told: dict[str, Observation] = {}
        for some in zip_longest(*(sorted(each, key=lambda s: (s.settings, s.at)) for each in beside)):
            told |= {s.at: s for s in some if s is not None and s.at not in told}
        hunt, _, _ = bench.hunt(list(told.values())[:MOST_SYMPTOMS], pair)
        truth = set(vehicle.worlds[pair].mistakes)
        found += truth in [set(mistakes) for each in first_groups(hunt, 3) for mistakes in each]
    return found, tried


def main() -> None:
    """Print a line for each job, then the double mistakes and what a proposal takes with nothing known."""
    sample = rounds_of("hunts", __doc__, 25)
    for job in JOBS:
        tally = run_job(Bench(job), sample)
        count = len(tally.readings)
        mean, bound, halved = (sum(e) / count for e in (tally.readings, tally.bounds, tally.halved))
        found = 1 - len(tally.missed) / count
        median = sorted(tally.seconds)[len(tally.seconds) // 2]
        print(
            f"{job}: {count} hunts ({tally.silent} silent), found {found:.1%}; "
            f"readings {mean:.2f}, bound {bound:.2f} ({mean / bound:.2f}x), "
            f"half-splitting {halved:.2f} ({1 - mean / halved:.0%} fewer); "
            f"next reading {median:.2f} s, worst {max(tally.seconds):.2f} s",
            flush=True,
        )
        for each in tally.missed[:12]:
            print(f"    missed: {each}")
    for job in JOBS[:2]:
        found_pairs, tried = run_doubles(Bench(job), sample)
        print(f"{job}: two mistakes, {found_pairs} of {tried} pairs among the first three", flush=True)
    first, later = cold_seconds("whole-van")
    print(
        f"whole-van: first reading proposed after {first:.2f} s with nothing known, later ones {later:.2f} s"
    )


if __name__ == "__main__":
    main()
