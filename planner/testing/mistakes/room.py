"""Which ends go on which terminals, and which terminals have room for one more."""

from planner.model.catalogue import Catalogue
from planner.model.delta import EndRef
from planner.model.loom import split_address
from planner.model.part import Part, Terminal
from planner.model.reach import joined_inside
from planner.testing.wired import Wired


class Room:
    """The terminals of one vehicle as hands find them."""

    def __init__(self, wired: Wired, catalogue: Catalogue) -> None:
        self.wired, self.loom, self.catalogue = wired, wired.loom, catalogue

    def is_touched(self, *ends: EndRef) -> bool:
        """Whether the work touched one of some ends."""
        return any(end in self.wired.touched_ends for end in ends)

    def part(self, place: str) -> Part:
        """The part at a place."""
        return self.catalogue.parts[self.loom.places[place].part]

    def terminal(self, address: str) -> Terminal | None:
        """The terminal at an address; none at a joiner or on earth."""
        place, mark = split_address(address)
        return self.part(place).terminals.get(mark) if place in self.loom.places else None

    def is_one_conductor(self, at: str, there: str) -> bool:
        """Whether two terminals of one part are always joined inside, such as blades behind one fuse."""
        (place, mark), (beside, other) = split_address(at), split_address(there)
        return place == beside and other in joined_inside(self.part(place), mark)

    def goes_on(self, end: EndRef, at: str, there: Terminal) -> bool:
        """Whether an end goes on a terminal; one that says no fitting fits where it is."""
        fitting = self.loom.find(end[0]).ends[end[1]].fitting
        if fitting is not None:
            return there.takes(fitting)
        here = self.terminal(at)
        return here is not None and (here.fitting == there.fitting or there.takes(here.usual_end))

    def takes_one_more(self, end: EndRef, at: str, there: str, terminal: Terminal) -> bool:
        """Whether an end can land on a terminal besides what is on it; who works there has piggybacks."""
        piggybacks = int(self.is_touched(end))
        return self.has_room(there, terminal, piggybacks) and self.goes_on(end, at, terminal)

    def has_room(self, address: str, terminal: Terminal, piggybacks: int = 0) -> bool:
        """Whether one more end goes on a terminal."""
        room = terminal.holds + piggybacks
        return terminal.by != "mounting" and len(self.loom.ends_at.get(address, ())) < room
