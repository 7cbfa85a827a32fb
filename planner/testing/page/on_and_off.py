"""The tasks of fitted parts, read while they are on, and off where that tells anything.

With the ignition off a wiper motor is dead whatever is wrong; with it on and only the switch off it tells.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.circuit.fitted import LoadKey
from planner.messages import tr
from planner.testing.page.candidates import Candidates
from planner.testing.page.exposure import Exposure
from planner.testing.page.ground import Ground
from planner.testing.page.probes import Probe, across
from planner.testing.page.setups import Setup

_HEADLAMP = "headlamp"  # a family


def of_load(ground: Ground, key: LoadKey, setups: Sequence[Setup], why: str) -> Iterator[Probe]:
    """Yield the volts across a load in some setups, where its ends can be touched."""
    for setup in setups:
        probe = across(ground.wired, ground.grid, ground.catalogue, key, setup, why)
        if probe is not None:
            yield ground.tips_for_plus(probe)


def on_probes(ground: Ground, candidates: Candidates, key: LoadKey) -> Iterator[Probe]:
    """Yield the reading across a load that is on."""
    why = tr("'{does}' on the {place} is on", does=key[1], place=ground.wired.title_of(key[0]))
    yield from of_load(ground, key, [setup for setup in candidates.on if key in setup.loads][:1], why)


def is_flash(ground: Ground, key: LoadKey, setup: Setup) -> bool:
    """Whether a headlamp is on, or was, by a lever alone that is pulled and springs back."""
    fitted, variables = ground.wired.loom.places.get(key[0]), ground.stands.variables
    if fitted is None or ground.catalogue.parts[fitted.part].family != _HEADLAMP or not setup.moved:
        return False
    return all(value in variables[name].sprung for name, value in setup.moved.items())


class Offs:
    """The settings of one work in which its loads are off, each setting once."""

    def __init__(self, ground: Ground, candidates: Candidates) -> None:
        self.ground, self.candidates = ground, candidates
        self._known = {setup.name: setup for setup in reversed(candidates.setups)}

    def of(self, key: LoadKey) -> Iterator[Probe]:
        """Yield the readings across a load that is off; the tips stay where they are while it is on."""
        why = tr("'{does}' on the {place} must be off", does=key[1], place=self.ground.wired.title_of(key[0]))
        on = list(on_probes(self.ground, self.candidates, key))
        works = [setup for setup in self.candidates.on if key in setup.loads]
        for probe in of_load(self.ground, key, list(self._setups(key, works[0])) if works else (), why):
            yield replace(probe, at=on[0].at, to=on[0].to) if on else probe

    def _setups(self, key: LoadKey, works: Setup) -> Iterator[Setup]:
        """Yield setups with less moved than where a load works: first those that are read in anyhow."""
        rest = self.candidates.rest
        found = [s for s in (*self.candidates.off, rest) if s.moved.keys() < works.moved.keys()]
        stands = self.ground.stands
        for name in works.moved:
            fewer = stands.at({other: value for other, value in works.moved.items() if other != name})
            if not stands.works(replace(fewer, loads=(key,))):
                found.append(self._known.setdefault(fewer.name, fewer))
        yield from {setup.name: setup for setup in reversed(found)}.values()


def telling(offs: Sequence[Sequence[Probe]], exposure: Exposure) -> Iterator[Probe]:
    """Yield of the readings of each load that is off the one that shows most, if any shows anything."""
    for own in offs:
        shown = {probe: len(exposure.shown(probe)) for probe in own if probe in exposure.good}
        best = max(shown.values(), default=0)
        yield from [probe for probe, number in shown.items() if number == best > 0][:1]
