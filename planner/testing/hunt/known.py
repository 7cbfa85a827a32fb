"""What is known of one vehicle whatever was seen: shared by all its hunts."""

from collections.abc import Mapping
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.circuit.fitted import LoadKey
from planner.model.loom import split_address
from planner.model.part import Part
from planner.testing.hunt.outlook import Outlook
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.standing import Standing, standing
from planner.testing.hunt.vehicle import Vehicle


class Known:
    """One vehicle: what its worlds foretell, where a meter goes, what can be looked at."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle, self.outlook = vehicle, Outlook(vehicle)
        self._steady: dict[Setting, NDArray[np.intp]] = {}

    @cached_property
    def names(self) -> tuple[str, ...]:
        """What each node is called, by its number."""
        return tuple(self.vehicle.nodes)

    @cached_property
    def readable(self) -> NDArray[np.intp]:
        """The nodes at which a meter can be put."""
        return np.array([n for n, name in enumerate(self.names) if self.can_be_reached(name)], dtype=int)

    def steady(self, setting: Setting) -> NDArray[np.intp]:
        """Those of them at which a meter does not swing in a setting."""
        if setting not in self._steady:
            swinging = self.outlook.position(setting).swinging
            self._steady[setting] = self.readable[~swinging[self.readable]]
        return self._steady[setting]

    def can_be_reached(self, node: str) -> bool:
        """Whether a meter can be put there: not on what is inside a part."""
        head, tail = split_address(node)
        if head in self.vehicle.wired.loom.places:
            return tail in self.part(head).terminals
        return head in ("joint", "feed", "earth")

    @cached_property
    def loads(self) -> tuple[LoadKey, ...]:
        """The loads by their columns."""
        return tuple(self.outlook.loads.column)

    def part(self, place: str) -> Part:
        """The part at a place."""
        return self.vehicle.catalogue.parts[self.vehicle.wired.loom.places[place].part]

    def is_pole(self, address: str) -> bool:
        """Whether an address is a battery's own: ohms are never read there."""
        place, _ = split_address(address)
        return place in self.vehicle.wired.loom.places and self.part(place).family == "battery"

    def is_gauge(self, load: LoadKey) -> bool:
        """Whether a load is an instrument with a needle."""
        return self.vehicle.net.loads[load].kind == "gauge"

    @cached_property
    def visible(self) -> NDArray[np.intp]:
        """The columns of the loads that can be looked at."""
        column = self.outlook.loads.column
        return np.array([column[load] for load in self.standing.working], dtype=int)

    @cached_property
    def ways(self) -> Mapping[str, Setting]:
        """A setting in which each load works, by its name: ``left.headlamp/main beam``."""
        return {"/".join(load): own[0] for load, own in self.standing.ways.items() if own}

    @cached_property
    def standing(self) -> Standing:
        """The settings in which the loads work."""
        return standing(self.vehicle)
