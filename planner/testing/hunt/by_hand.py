"""What can be seen or felt without reading a meter: a fuse, a warm wire, a test lamp in the meter's place."""

from collections.abc import Iterator, Sequence

import numpy as np

from planner.currents.curves import Array
from planner.model.loom import split_address
from planner.model.observations import ObservationKind
from planner.testing.hunt.agreeing import is_warm, lamp_chances
from planner.testing.hunt.offers import LEAST_BITS, Offer, Offers
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.vehicle import NOTHING
from planner.testing.hunt.weighing import information
from planner.testing.meter import IGNITION

MOST_SUSPECTED = 12  # worlds, the likeliest, whose wires are thought of to be felt
LEAST_CHANCE = 0.02  # of something that is not so in the sound vehicle: else nobody looks
DIFFERS = 0.1  # of the chance of an outcome: what differs less tells nothing


class ByHand:
    """Such readings for one hunt as it stands."""

    def __init__(self, offers: Offers) -> None:
        self.offers, self.outlook, self.vehicle = offers, offers.outlook, offers.vehicle

    def fuses(self, setting: Setting) -> Iterator[Offer]:
        """Yield looks at the fuses that are blown, or blow in a setting, in some worlds and not in others."""
        position, worlds = self.outlook.position(setting), self.offers.worlds
        position.ask(worlds)
        lost = {index for world in worlds.tolist() for index in self.vehicle.worlds[world].edit.gone}
        blows = {index for world in worlds.tolist() for index in position.states[world].blown}
        for index in self.outlook.moves.fuses:
            branch = self.vehicle.grid.branches[index].branch
            if index in lost | blows and branch.name[0] == "fuse":
                blown = self.outlook.is_blown(setting, index, worlds)
                outcomes = np.stack((blown, ~blown), axis=1).astype(float)
                yield from self._offered("fuse", branch.b, setting, outcomes)

    def warm(self, setting: Setting) -> Iterator[Offer]:
        """Yield wires to feel, of those that the likeliest worlds change."""
        worlds = self.offers.worlds
        wires: dict[str, None] = {}
        for world in worlds[:MOST_SUSPECTED].tolist():
            for change in self.vehicle.worlds[world].changes:
                names = (*change.gone, *(gated.branch.name for gated in change.added))
                wires |= dict.fromkeys(name[1] for name in names if name[0] in ("wire", "short"))
        for wire in wires:
            warm = is_warm(self.outlook, setting, wire, worlds)
            sound = float(is_warm(self.outlook, setting, wire, np.array([NOTHING]))[0])
            if sound < 0.5 and float(self.offers.weights @ warm) > LEAST_CHANCE:
                outcomes = np.stack((warm, 1.0 - warm), axis=1)
                yield from self._offered("warm", wire, setting, outcomes)

    def lamp(self, offers: Sequence[Offer]) -> Iterator[Offer]:
        """Yield a test lamp in place of the reading of volts that tells most, of some offers.

        Never on the ignition: one by a capacitor's discharge holds hundreds of volts (common practice, no
        source), and no catalogue says of each box how it works.
        """
        volts = sorted((offer for offer in offers if offer.kind == "volts"), key=lambda offer: -offer.bits)
        most = next((offer for offer in volts if not self._is_ignition(offer.at)), None)
        if most is not None:
            power = self.outlook.lamp(most.setting, most.at, most.to, self.offers.worlds)
            yield from self._offered("lamp", most.at, most.setting, lamp_chances(power))

    def _is_ignition(self, at: str) -> bool:
        place = self.vehicle.wired.loom.places.get(split_address(at)[0])
        return place is not None and self.vehicle.catalogue.parts[place.part].family == IGNITION

    def _offered(self, kind: ObservationKind, at: str, setting: Setting, outcomes: Array) -> Iterator[Offer]:
        """Yield one offer if its outcomes differ from world to world."""
        differs = float(np.ptp(outcomes, axis=0).max()) >= DIFFERS
        if differs and not self.offers.is_known(kind, at, setting):
            bits = information(self.offers.weights, outcomes, self.offers.groups)
            if bits >= LEAST_BITS:
                yield Offer(bits, kind, at, "", setting)
