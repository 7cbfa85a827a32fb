"""What chosen readings are relied on to show, solved in full: until then it was only reckoned."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from planner.currents.grid import is_met
from planner.currents.laws import Resistance
from planner.currents.solver import Branch
from planner.testing.mistakes.applied import Edit
from planner.testing.page.exposing import Exposer
from planner.testing.page.exposure import Exposure, Name
from planner.testing.page.fuses_gone import with_fuses_gone
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup

POINTER_OHMS = 1e5  # of a meter with a pointer on its volts; common practice, no source
_Of = tuple[Setup | None, int]  # an edit by its identity, and how the vehicle stands meanwhile
Choose = Callable[[Mapping[Probe, frozenset[str]]], Sequence[Probe]]


class Confirmer:
    """Chooses readings of one exposure, and chooses again until all that they are relied on for holds."""

    def __init__(self, exposer: Exposer, exposure: Exposure) -> None:
        self.exposer, self.exposure = exposer, exposure
        self._sure: set[tuple[Probe, Name]] = set()
        # A diode that is turned round conducts no more: as a straight line it would, and show nowhere.
        self._take_everywhere([name for name in exposure.edits if name[0] in exposure.misread])

    def choose(self, choose: Choose) -> Sequence[Probe]:
        """The readings that ``choose`` takes of what each probe shows, once nothing is claimed in vain."""
        while True:
            chosen = choose({probe: self.exposure.shown(probe) for probe in self.exposure.good})
            fallen = self._fallen(chosen)
            if not fallen:
                return chosen
            # Whoever claims it next would most likely fall as well, one choice after another.
            self._take_everywhere(fallen)

    def _fallen(self, chosen: Sequence[Probe]) -> list[Name]:
        """What chosen live readings are relied on for and do not show after all."""
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
        return list(dict.fromkeys(name for _, name in self._take(asked)))

    def _take_everywhere(self, names: Sequence[Name]) -> None:
        """Solve mistakes in every setup, for all that could be read there."""
        live = [probe for probe in self.exposure.good if probe.setup is not None]
        self._take([(probe, name) for name in names for probe in live])

    def _take(self, asked: Sequence[tuple[Probe, Name]]) -> list[tuple[Probe, Name]]:
        """Put what is solved in place of what was reckoned; those that show nothing."""
        good, edits = self.exposure.good, self.exposure.edits
        wrong = {probe: dict(own) for probe, own in self.exposure.wrong.items()}
        fallen = []
        readings = solved(self.exposer, [(probe, edits[name]) for probe, name in asked])
        for (probe, name), (reading, _) in zip(asked, readings, strict=True):
            if good[probe].is_wrong(reading) and self.exposure.sees(probe, name[0]):
                wrong[probe][name] = reading
            else:
                wrong[probe].pop(name, None)
                fallen.append((probe, name))
        self._sure.update(asked)
        self.exposure = replace(self.exposure, wrong=wrong)
        return fallen


class Solved(NamedTuple):
    """What a meter reads with a mistake made, and whether a fuse has gone by then."""

    reading: float
    is_blown: bool


def solved(exposer: Exposer, asked: Sequence[tuple[Probe, Edit]]) -> list[Solved]:
    """Volts that live probes read with edits made; those in one setup are read off one operating point."""
    own: dict[_Of, list[Branch]] = {}
    for probe, edit in asked:
        if (probe.setup, id(edit)) not in own:
            own[probe.setup, id(edit)] = with_edit(exposer, probe, edit)
    points = dict(
        zip(
            own,
            with_fuses_gone(list(own.values()), exposer.live.grid.zero, exposer.blows_at),
            strict=True,
        )
    )
    found = []
    for probe, edit in asked:
        point, is_blown = points[probe.setup, id(edit)]
        found.append(Solved(exposer.live.read(point, probe.at, probe.to), is_blown))
    return found


def drawn_down(exposer: Exposer, asked: Sequence[tuple[Probe, Edit]]) -> list[float]:
    """Volts as a meter reads them that draws a little: what only leaks through diodes is gone then."""
    sets = [
        [*with_edit(exposer, probe, edit), Branch(("meter",), probe.at, probe.to, Resistance(POINTER_OHMS))]
        for probe, edit in asked
    ]
    points = zip(asked, solve_sets(sets, exposer.live.grid.zero), strict=True)
    return [exposer.live.read(point, probe.at, probe.to) for (probe, _), point in points]


def with_edit(exposer: Exposer, probe: Probe, edit: Edit) -> list[Branch]:
    """What is closed in a probe's setup with an edit made."""
    assert probe.setup is not None
    position, grid = probe.setup.position, exposer.live.grid
    kept = [grid.bare[index] for index in grid.closed(position) if index not in edit.gone]
    return kept + [gated.branch for gated in edit.added if is_met(gated.guard, position)]
