"""Ends that are on another part in the same zone, of those that the work touched."""

from collections.abc import Iterator
from itertools import combinations

from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.delta import EndRef
from planner.model.loom import split_address
from planner.testing.mistakes.like_parts import trade
from planner.testing.mistakes.mistake import Change, EndAt, Mistake
from planner.testing.mistakes.priors import weight
from planner.testing.mistakes.room import Room
from planner.testing.wired import Wired


class Nearby:
    """The mistakes between parts of one zone; what nobody touched stays where it is."""

    def __init__(self, wired: Wired, catalogue: Catalogue) -> None:
        self.wired, self.loom, self.room = wired, wired.loom, Room(wired, catalogue)
        self.by_zone: dict[str, list[tuple[EndRef, str]]] = {}
        for end in sorted(wired.touched_ends):
            at = self.loom.find(end[0]).ends[end[1]].at
            place, _ = split_address(at)
            terminal = self.room.terminal(at)
            if terminal is not None and terminal.by != "mounting":
                self.by_zone.setdefault(self.loom.places[place].zone, []).append((end, at))

    def every(self) -> Iterator[Mistake]:
        """Yield them all, zone after zone."""
        for zone, ends in self.by_zone.items():
            for end, at in ends:
                yield from self._elsewhere(zone, end, at)
            yield from self._traded(ends)

    def _elsewhere(self, zone: str, end: EndRef, at: str) -> Iterator[Mistake]:
        """Yield an end on each terminal of another part that it fits and that is free."""
        others = [
            f"{place}:{mark}"
            for place, fitted in self.loom.places.items()
            if place != split_address(at)[0] and fitted.zone == zone
            for mark, terminal in self.room.part(place).terminals.items()
            if self.room.has_room(f"{place}:{mark}", terminal) and self.room.goes_on(end, at, terminal)
        ]
        for there in others:
            yield Mistake(
                f"{end[0]}.{end[1]}-on-{there}",
                "wrong part",
                tr(
                    "{wire} is on {there}, instead of {own}",
                    wire=self.wired.wire(*end),
                    there=self.wired.at(there),
                    own=self.wired.at(at),
                ),
                weight("wrong part", touched=True, ways=len(others)),
                (at, there),
                (Change(ends=(EndAt(*end, there),)),),
            )

    def _traded(self, ends: list[tuple[EndRef, str]]) -> Iterator[Mistake]:
        """Yield two ends each on the other's part."""
        pairs = [
            (one, at, other, there)
            for (one, at), (other, there) in combinations(ends, 2)
            if split_address(at)[0] != split_address(there)[0]
            and one[0] != other[0]
            and self._fits(one, at, there)
            and self._fits(other, there, at)
        ]
        own = weight("wrong part", touched=True, ways=max(1, len(pairs) // len(ends)))
        for one, at, other, there in pairs:
            yield trade(self.wired, one, at, other, there, own)

    def _fits(self, end: EndRef, at: str, there: str) -> bool:
        terminal = self.room.terminal(there)
        return terminal is not None and self.room.goes_on(end, at, terminal)
