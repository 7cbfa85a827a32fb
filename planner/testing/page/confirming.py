"""What chosen readings are relied on to show, solved in full: until then it was only reckoned."""

from collections.abc import Callable, Mapping, Sequence

from planner.currents.grid import is_met
from planner.currents.solver import Branch
from planner.testing.mistakes.applied import Edit
from planner.testing.page.exposing import Exposer, Exposure, Name
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe

Choose = Callable[[Mapping[Probe, frozenset[str]]], Sequence[Probe]]


class Confirmer:
    """Chooses readings of one exposure, and chooses again until all that they are relied on for holds."""

    def __init__(self, exposer: Exposer, exposure: Exposure) -> None:
        self.exposer, self.exposure = exposer, exposure
        self._sure: set[tuple[Probe, Name]] = set()

    def choose(self, choose: Choose) -> Sequence[Probe]:
        """The readings that ``choose`` takes of what each probe shows, once nothing is claimed in vain."""
        while True:
            chosen = choose({probe: self.exposure.shown(probe) for probe in self.exposure.good})
            if not self._drop(chosen):
                return chosen

    def _drop(self, chosen: Sequence[Probe]) -> bool:
        """Take back what chosen live readings do not show after all; whether there was any."""
        exposure = self.exposure
        # Cold and unpowered, everything is linear: what a dead reading shows is sure already.
        dead = frozenset().union(*(exposure.shown(probe) for probe in chosen if probe.setup is None))
        asked = [
            (probe, name)
            for probe in chosen
            if probe.setup is not None
            for name in exposure.wrong[probe]
            if name[0] not in dead and (probe, name) not in self._sure
        ]
        readings = solved(self.exposer, [(probe, exposure.edits[name]) for probe, name in asked])
        wrong = {probe: dict(own) for probe, own in exposure.wrong.items()}
        dropped = False
        for (probe, name), reading in zip(asked, readings, strict=True):
            if exposure.good[probe].is_wrong(reading):
                wrong[probe][name] = reading
                self._sure.add((probe, name))
            else:
                del wrong[probe][name]
                dropped = True
        self.exposure = Exposure(exposure.good, wrong, exposure.edits)
        return dropped


def solved(exposer: Exposer, asked: Sequence[tuple[Probe, Edit]]) -> list[float]:
    """Volts that live probes read with edits made, all solved together."""
    points = [with_edit(exposer, probe, edit) for probe, edit in asked]
    found = solve_sets(points, exposer.live.grid.zero)
    return [
        exposer.live.read(point, probe.at, probe.to) for (probe, _), point in zip(asked, found, strict=True)
    ]


def with_edit(exposer: Exposer, probe: Probe, edit: Edit) -> list[Branch]:
    """What is closed in a probe's setup with an edit made."""
    assert probe.setup is not None
    position, grid = probe.setup.position, exposer.live.grid
    kept = [grid.bare[index] for index in grid.closed(position) if index not in edit.gone]
    return kept + [gated.branch for gated in edit.added if is_met(gated.guard, position)]
