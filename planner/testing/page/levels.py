"""What a reading hangs on and nobody sets: how full a tank is. A good reading is good at any level.

A sender follows it, so its least and its most ohms are the two ends of the reading. What stands so by itself
before the engine has run, cold water and no oil pressure, is no level.
"""

from collections.abc import Iterator, Mapping

from planner.currents.grid import Position
from planner.model.elements import Sender
from planner.model.loom import Loom
from planner.model.part import Part
from planner.testing.page.setups import BY_ITSELF

Level = tuple[str, str]  # a condition and a value of it


class Levels:
    """The ends between which each level of one vehicle may stand."""

    def __init__(self, loom: Loom, parts: Mapping[str, Part]) -> None:
        self.ends = dict(_ends(loom, parts))

    def of(self, position: Position) -> list[tuple[Level, Position]]:
        """A position with each level at either end of it, but for where it stands."""
        return [
            ((name, value), {**position, name: value})
            for name, values in self.ends.items()
            for value in values
            if position[name] != value
        ]


def followed(loom: Loom, parts: Mapping[str, Part]) -> Iterator[Sender]:
    """Yield the senders of a vehicle."""
    for fitted in loom.places.values():
        for element in parts[fitted.part].inside:
            if isinstance(element, Sender):
                yield element


def _ends(loom: Loom, parts: Mapping[str, Part]) -> Iterator[tuple[str, tuple[str, ...]]]:
    for sender in followed(loom, parts):
        values = [position.label for position in loom.conditions.get(sender.follows, ())]
        known = [value for value in values if value in sender.ohms]
        if known and values[0] not in BY_ITSELF:
            ends = min(known, key=sender.ohms.__getitem__), max(known, key=sender.ohms.__getitem__)
            yield sender.follows, tuple(dict.fromkeys((*ends, values[0])))
