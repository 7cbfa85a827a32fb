"""A vehicle to put mistakes into: what is seen of each, and what its meter answers."""

import random
import time
from collections.abc import Iterator, Mapping
from functools import cached_property

import numpy as np

from planner.currents.curves import Array
from planner.model.observations import LOOKS, OPEN_OHMS, TEST_LAMP, Observation
from planner.pipeline import open_catalogue
from planner.sheet_pipeline import wired
from planner.testing.hunt.agreeing import (
    fuse_branch,
    is_warm,
    lamp_chances,
    load_key,
    look_chances,
    looks_of,
    where_it_sits,
)
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.per_world import Worlds
from planner.testing.hunt.question import Question
from planner.testing.hunt.report import Report
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.vehicle import NOTHING, Vehicle

MOST_READINGS = 30
VOLTS_NOISE, OHMS_NOISE = 0.01, 0.03  # one standard deviation, as a share; a last digit besides


class Bench:
    """One vehicle, to put mistakes into; its controls are tried one after another."""

    def __init__(self, job: str, vehicle: Vehicle) -> None:
        self.job, self.vehicle, self.known = job, vehicle, Known(vehicle)
        self.seconds: list[float] = []  # CPU time of each proposal that was worked out
        self._next: dict[tuple[Observation, ...], Question | None] = {}

    @classmethod
    def of(cls, job: str) -> "Bench":
        """The vehicle of a shipped job."""
        catalogue = open_catalogue()
        return cls(job, Vehicle(wired(job, catalogue), catalogue))

    @cached_property
    def _tried(self) -> tuple[list[tuple[Setting, str]], Array]:
        """What is looked at in turn, setting and load, and how it looks in each single world: a row each."""
        column, working = self.known.outlook.loads.column, list(self.known.standing.working)
        columns = np.array([column[load] for load in working], dtype=int)
        every = np.arange(self.vehicle.singles)
        points, rows = [], []
        for setting in self.known.standing.settings if working else ():
            points += [(setting, "/".join(load)) for load in working]
            rows.append(looks_of(self.known.outlook, setting, every, columns).argmax(axis=2).T)
        return points, np.concatenate(rows) if rows else np.zeros((0, len(every)))

    def symptoms(self) -> Mapping[Observation, Worlds]:
        """The single worlds by the first thing that looks otherwise than it should."""
        points, looks = self._tried
        otherwise = looks != looks[:, [NOTHING]]
        found: dict[Observation, list[int]] = {}
        for world in np.flatnonzero(otherwise.any(axis=0)).tolist():
            first = int(otherwise[:, world].argmax())
            setting, at = points[first]
            found.setdefault(Observation("looks", at, LOOKS[looks[first, world]], setting), []).append(world)
        return {symptom: np.array(worlds) for symptom, worlds in found.items()}

    def looks(self, world: int) -> Iterator[Observation]:
        """Yield all that looks otherwise than it should in a world."""
        both = np.array([NOTHING, world])
        for setting in self.known.standing.settings:
            for load in self.known.standing.working:
                sound, now = look_chances(self.known.outlook, setting, load, both).argmax(axis=1)
                if sound != now:
                    yield Observation("looks", "/".join(load), LOOKS[int(now)], setting)

    def suspects(self, symptom: Observation) -> Worlds:
        """The single worlds in which a load looks so, whether that was the first thing seen or not."""
        points, looks = self._tried
        return np.flatnonzero(
            looks[points.index((symptom.settings, symptom.at))] == LOOKS.index(symptom.says)
        )

    def answer(self, question: Question, world: int, noise: random.Random) -> Observation:
        """What the faulted vehicle answers, with a meter's noise."""
        own, outlook = np.array([world]), self.known.outlook
        says: float | str
        if question.kind == "looks":
            chances = look_chances(outlook, question.setting, load_key(question.at), own)[0]
            says = LOOKS[int(chances.argmax())]
        elif question.kind == "sits":
            says = str(where_it_sits(self.vehicle, question.at, own)[0])
        elif question.kind == "fuse":
            fuse = fuse_branch(outlook, question.at)
            says = "yes" if outlook.is_blown(question.setting, fuse, own)[0] else "no"
        elif question.kind == "warm":
            says = "yes" if is_warm(outlook, question.setting, question.at, own)[0] > 0.5 else "no"
        elif question.kind == "lamp":
            power = outlook.lamp(question.setting, question.at, question.to, own)
            says = TEST_LAMP[int(lamp_chances(power)[0].argmax())]
        elif question.kind == "volts":
            volts = float(outlook.volts(question.setting, question.at, question.to, own)[0])
            says = round(volts * noise.gauss(1.0, VOLTS_NOISE) + noise.gauss(0.0, 0.02), 2)
        else:
            ohms = float(outlook.dead.ohms(question.at, question.to, own)[0])
            noisy = ohms * noise.gauss(1.0, OHMS_NOISE) + abs(noise.gauss(0.0, 0.05))
            says = OPEN_OHMS if ohms >= OPEN_OHMS else round(noisy, 1)
        return Observation(question.kind, question.at, says, question.setting, question.to)

    def hunt(self, symptoms: list[Observation], world: int) -> tuple[Hunt, int]:
        """Hunt until it ends: the hunt, and the readings taken."""
        hunt, noise = Hunt(self.known), random.Random(f"{self.job} {world}")
        for symptom in symptoms:
            hunt.add(symptom)
        for taken in range(MOST_READINGS):
            question = self.next(hunt)
            if question is None:
                return hunt, taken
            hunt.add(self.answer(question, world, noise))
        return hunt, MOST_READINGS

    def next(self, hunt: Hunt) -> Question | None:
        """The next question; after the same words it is the same, and worked out once."""
        seen = tuple(hunt.observations)
        if seen not in self._next:
            began = time.process_time()
            question = Report(hunt).question
            self.seconds.append(time.process_time() - began)
            if not all(isinstance(observation.says, str) for observation in seen):
                return question
            self._next[seen] = question
        return self._next[seen]
