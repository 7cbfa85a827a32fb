"""A person at the bench: answers each question of a hunt from a vehicle that was computed, as it is wired."""

from collections.abc import Mapping

import numpy as np

from planner.model.observations import LOOKS, OPEN_OHMS, TEST_LAMP, Observation, Settings
from planner.testing.hunt.agreeing import (
    fuse_branch,
    is_warm,
    lamp_chances,
    load_key,
    look_chances,
    where_it_sits,
)
from planner.testing.hunt.known import Known
from planner.testing.hunt.question import Question
from planner.testing.hunt.tolerance import needles
from planner.testing.hunt.vehicle import NOTHING


class Person:
    """Looks, feels and reads on one vehicle, in one of its worlds: 0 is the vehicle as its loom says.

    ``called`` is what a wire is called in the loom of the vehicle, where the question calls it otherwise;
    ``should`` is the vehicle as it should be, where this one was wired otherwise: so it is known what a gauge
    should read.
    """

    def __init__(
        self,
        known: Known,
        world: int = NOTHING,
        called: Mapping[str, str] | None = None,
        should: Known | None = None,
    ) -> None:
        self.should = should or known
        self.known, self.outlook, self.world = known, known.outlook, np.array([world])
        self.called = called or {}

    def look(self, setting: Settings, at: str) -> str:
        """How a load looks."""
        if self.known.is_gauge(load_key(at)):
            shown, right = (
                100.0 * np.sqrt(outlook.power(setting, load_key(at), worlds))
                for outlook, worlds in (
                    (self.outlook, self.world),
                    (self.should.outlook, np.array([NOTHING])),
                )
            )
            return LOOKS[int(needles(shown, right)[0].argmax())]
        chances = look_chances(self.outlook, setting, load_key(at), self.world)[0]
        return LOOKS[int(chances.argmax())]

    def symptoms(self, sound: "Person") -> list[Observation]:
        """What looks otherwise than it should, the controls tried one after another; each load once."""
        found: dict[str, Observation] = {}
        standing = sound.known.standing
        for setting in standing.settings:
            for at in map("/".join, standing.working):
                if at not in found and (now := self.look(setting, at)) != sound.look(setting, at):
                    found[at] = Observation("looks", at, now, setting)
        return list(found.values())

    def answer(self, asked: Question) -> Observation:
        """What one question brings, read to a tenth of a volt or of an ohm."""
        says = self._says(asked)
        is_out = asked.has_fuses_out
        return Observation(asked.kind, asked.at, says, asked.setting, asked.to, has_fuses_out=is_out)

    def _says(self, asked: Question) -> float | str:
        outlook, own, at, to = self.outlook, self.world, asked.at, asked.to
        if asked.kind == "looks":
            return self.look(asked.setting, at)
        if asked.kind == "sits":
            return self._where(at)
        if asked.kind == "fuse":
            return "yes" if outlook.is_blown(asked.setting, fuse_branch(outlook, at), own)[0] else "no"
        if asked.kind == "warm":
            return "yes" if is_warm(outlook, asked.setting, self.called.get(at, at), own)[0] > 0.5 else "no"
        if asked.kind == "lamp":
            return TEST_LAMP[int(lamp_chances(outlook.lamp(asked.setting, at, to, own))[0].argmax())]
        if asked.kind == "volts":
            return round(float(outlook.volts(asked.setting, at, to, own)[0]), 1)
        ohms = float(outlook.dead.ohms(at, to, own, has_fuses_out=asked.has_fuses_out)[0])
        return OPEN_OHMS if ohms >= OPEN_OHMS else round(ohms, 1)

    def _where(self, end: str) -> str:
        """Where an end is: in another world as it is seen there, else as the loom has it; gone is loose."""
        if self.world[0] != NOTHING:
            return str(where_it_sits(self.known.vehicle, end, self.world)[0])
        wire, _, number = end.rpartition(".")
        loom = self.known.vehicle.wired.loom
        wire = self.called.get(wire, wire)
        return loom.find(wire).ends[int(number)].at if wire in loom.wire_index else "loose"

    def typed(self, asked: Question) -> str:
        """The answer as such a person types it."""
        seen = self.answer(asked)
        if asked.kind == "sits":
            return "loose" if seen.says == "loose" else self.known.vehicle.wired.at(str(seen.says))
        if asked.kind == "fuse":
            return "blown" if seen.says == "yes" else "sound"
        if asked.kind == "warm":
            return "warm" if seen.says == "yes" else "cold"
        if asked.kind == "ohms":
            return "open" if seen.says == OPEN_OHMS else f"{seen.says} ohm"
        return f"{seen.says} V" if asked.kind == "volts" else str(seen.says)
