"""Where one stands to do something: at a part, at a joiner, or at a point of the body."""

from collections.abc import Sequence

from planner.messages import tr
from planner.model.delta import Insert, Move, Operation
from planner.model.loom import Loom, split_address
from planner.model.routes import zone_of
from planner.model.wording import address_words

ANYWHERE = ""


class Places:
    """The places of one work: what stands in line is worked on where it is put in."""

    def __init__(self, before: Loom, after: Loom, operations: Sequence[Operation]) -> None:
        self.before, self.after = before, after
        self._hosts = {o.at: split_address(o.was)[0] for o in operations if isinstance(o, Insert)}

    def of_operation(self, operation: Operation) -> str:
        """The place at which an operation is done; where an end goes to rather than where it comes from."""
        addresses = operation.addresses
        if isinstance(operation, Move):
            addresses = tuple(reversed(addresses))
        found = (self.of(address) for address in addresses)
        return next((place for place in found if place), ANYWHERE)

    def of_ends(self, first: str, last: str) -> tuple[str, str]:
        """The places of both ends of a wire; a body point beside the other end is at hand there."""
        places = self.of(first), self.of(last)
        zones = zone_of(self.after, first), zone_of(self.after, last)
        near = zones[0] == zones[1] or None in zones
        if near and split_address(first)[0] == "earth":
            return ANYWHERE, places[1]
        if near and split_address(last)[0] == "earth":
            return places[0], ANYWHERE
        return places

    def of(self, address: str) -> str:
        """The place of an address; empty where nobody knows it."""
        head, tail = split_address(address)
        if head in ("loose", "unknown"):
            return ANYWHERE
        if head == "joint":
            place = tail.rpartition(".")[0]
            return place if self._is_place(place) else address
        if head in ("earth", "feed"):
            return address
        return self._hosts.get(head, head)

    def zone(self, place: str) -> str:
        """The part of the vehicle a place is in; empty where nobody knows it."""
        fitted = self.after.places.get(place) or self.before.places.get(place)
        return (fitted.zone if fitted else zone_of(self.after, place)) or ""

    def title(self, place: str) -> str:
        """What people call a place."""
        if place == ANYWHERE:
            return tr("the whole vehicle")
        if ":" in place:
            return address_words(self.after, place)
        loom = self.after if place in self.after.places else self.before
        return loom.place_title(place)

    def _is_place(self, name: str) -> bool:
        return name in self.after.places or name in self.before.places
