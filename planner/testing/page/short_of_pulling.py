"""A relay that gets something, and less than its part says it pulls in at: nobody knows whether it does.

One coil pulls in at less than its catalogue says, another lamp draws more than is computed. So what is read
where it is expected released is told with it pulled as well: no fault of a wire.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from planner.circuit.network import ArmatureLaw
from planner.messages import tr
from planner.model.elements import ARMATURE_STATES, Coil
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.answers import LEAST_APART
from planner.testing.page.ground import Ground
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe

FED_SHARE = 0.2  # of the volts at which it pulls in: with less it is not fed; common practice, no source


class Pulled(NamedTuple):
    """What a probe reads if a relay pulls in after all."""

    reading: float
    words: str


class ShortOfPulling:
    """Knows the relays of one vehicle that get something, and too little."""

    def __init__(self, ground: Ground, mistakes: Mapping[str, Mistake]) -> None:
        self.ground = ground
        self._old = [mistake for mistake in mistakes.values() if mistake.kind == "old part"]

    def of(self, probe: Probe) -> Iterator[Pulled]:
        """Yield what a live probe reads with each such relay pulled, and what may have it pull in."""
        for law, coil_v in self._short(probe):
            own = [mistake.words for mistake in self._old if self._would_pull(mistake, law, coil_v)]
            may = tr(
                "the {relay} pulls in, on less than is told of it, or because it gets more than is "
                "computed: no wire is wrong, but do not rely on it",
                relay=self.ground.wired.title_of(law.load[0]),
            )
            yield Pulled(self._read(probe, law), tr("; or ").join([may, *own]))

    def shows(self, probe: Probe) -> Iterator[str]:
        """Yield the old parts, by their mistakes, that a live probe shows: they pull in on what they get."""
        for law, coil_v in self._short(probe):
            for mistake in self._old:
                if self._would_pull(mistake, law, coil_v):
                    yield mistake.id

    def _short(self, probe: Probe) -> Iterator[tuple[ArmatureLaw, float]]:
        """Yield the relays that get too little meanwhile, where that changes the reading, and their volts."""
        if probe.setup is None:
            return
        exposer = self.ground.exposer
        leaning = exposer.leaning[probe.setup, None]
        for law in self.ground.stands.view.net.armatures.values():
            load = self.ground.grid.branches[self.ground.grid.loads[law.load]].branch
            volts = leaning.stand.point.volts
            coil_v = abs(volts.get(load.a, 0.0) - volts.get(load.b, 0.0))
            is_released = leaning.stand.position[law.variable] == ARMATURE_STATES[0]
            if is_released and coil_v >= FED_SHARE * law.pulls_in_v:
                good = exposer.live.read(leaning.stand.point, probe.at, probe.to)
                if abs(self._read(probe, law) - good) > leaning.width(probe.at, probe.to) + LEAST_APART:
                    yield law, coil_v

    def _read(self, probe: Probe, law: ArmatureLaw) -> float:
        """What a probe reads with a relay pulled."""
        assert probe.setup is not None
        grid, pulled = self.ground.grid, {**probe.setup.position, law.variable: ARMATURE_STATES[1]}
        (point,) = solve_sets([[grid.bare[index] for index in grid.closed(pulled)]], grid.zero)
        return self.ground.exposer.live.read(point, probe.at, probe.to)

    def _would_pull(self, mistake: Mistake, law: ArmatureLaw, coil_v: float) -> bool:
        """Whether the old relay, still fitted in the place of this one, pulls in on what this one gets."""
        return any(
            isinstance(element, Coil) and element.pulls_in_v <= coil_v
            for change in mistake.changes
            for place, part in change.fits
            if place == law.load[0]
            for element in self.ground.catalogue.parts[part].inside
        )
