"""The starter while one measures: where it turns the engine, and that it stays dead where it must not.

Common practice, no source: its wire is taken off first where a mistake would crank the engine in gear.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.circuit.fitted import LoadKey
from planner.currents.grid import BODY
from planner.messages import tr
from planner.model.vehicle_kind import having
from planner.testing.interlocks import IGNITION
from planner.testing.page.ground import Ground
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup
from planner.testing.starting import starter_controls

ENGINE = "engine"  # the condition of one that runs; it stands still on the meter page


class Cranking:
    """Knows the coils that bring a starter in, and in which setups they do."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self.marks: dict[LoadKey, str] = {
            (place, f"#{index}"): f"{place}:{mark}"
            for place, fitted in ground.wired.loom.places.items()
            for mark, index in starter_controls(ground.catalogue.parts[fitted.part])
        }

    def turns(self, setup: Setup) -> bool:
        """Whether the engine is cranked in a setup."""
        return not setup.lead_off and any(self._comes_in(key, setup) for key in self.marks)

    def must_stay_dead(self, setups: Sequence[Setup]) -> Iterator[Probe]:
        """Yield a reading at each such coil in every setting that must not let the starter in."""
        loom = self.ground.wired.loom
        for setup in setups:
            for key, address in self.marks.items():
                if key not in setup.loads:
                    continue
                for name in [n for n in loom.conditions if n not in (IGNITION, ENGINE)]:
                    for value in self.ground.stands.variables[name].values:
                        other = self.ground.stands.at({**setup.moved, name: value})
                        if not self._comes_in(key, other):
                            why = tr("the starter must stay dead with {name} {value}", name=name, value=value)
                            safe = replace(other, lead_off=address)
                            yield Probe(address, BODY, "volts", safe, why=why)

    def _comes_in(self, key: LoadKey, setup: Setup) -> bool:
        return self.ground.stands.works(replace(setup, loads=(key,)))

    def words(self, setup: Setup) -> str:
        """What a person minds while the engine is cranked; nothing where it is not."""
        if not self.turns(setup):
            return ""
        if having(self.ground.wired.loom.kind).wheels:
            return tr(
                "the engine turns: out of gear, wheels chocked, brake on, hands clear, a few seconds at most"
            )
        return tr("the engine turns: out of gear, hands clear, a few seconds at most")
