"""A vehicle as it should be, what was done to it, and what its wires are called."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from planner.messages import tr
from planner.model.delta import EndRef, Fit, Insert, Step
from planner.model.joiners import is_new_joiner, stud_mm2
from planner.model.loom import Loom, split_address
from planner.model.wording import address_words, colour_words
from planner.workshop.tasks.laid_anew import laid_anew


@dataclass(frozen=True)
class Wired:
    """A loom as it should be now; ``before`` and ``steps`` are empty where no work was done to it.

    ``shown`` is what people call a wire that the work made: its number on the work list. ``name`` is the id
    of its job or loom.
    """

    title: str
    loom: Loom
    before: Loom | None = None
    steps: tuple[Step, ...] = ()
    shown: Mapping[str, str] = field(default_factory=dict)
    name: str = ""

    @cached_property
    def touched_places(self) -> frozenset[str]:
        """The places at which a part was fitted."""
        return frozenset(s.operation.at for s in self.steps if isinstance(s.operation, Fit | Insert))

    @cached_property
    def touched_ends(self) -> frozenset[EndRef]:
        """The ends that the work took off, put on or made: of new parts, moved ones, of wires laid anew."""
        before = self.before
        if before is None:
            return frozenset()
        anew = laid_anew(before, self.steps)
        return frozenset(
            (wire.wire, number)
            for wire in self.loom.wires
            for number, end in enumerate(wire.ends)
            if split_address(end.at)[0] in self.touched_places
            or before.end_address(wire.wire, number) != end.at
            or (wire.wire, number) in anew
        )

    @cached_property
    def touched_wires(self) -> frozenset[str]:
        """The wires with such an end."""
        return frozenset(wire for wire, _ in self.touched_ends)

    def is_closed(self, address: str) -> bool:
        """Whether an address is a joiner that the work makes and closes; the cover of a stud comes off."""
        is_new = self.before is not None and is_new_joiner(self.before, address)
        return is_new and stud_mm2(self.loom, address) is None

    def wire(self, wire: str, end: int = 0) -> str:
        """A wire as people point at it: ``the orange wire (W1)``."""
        record = self.loom.find(wire) if wire in self.loom.wire_index or not self.before else None
        record = record or (self.before or self.loom).find(wire)
        colour = colour_words(record.end_colour(min(end, len(record.ends) - 1)))
        return tr("the {colour} wire ({wire})", colour=colour, wire=self.shown.get(wire, wire))

    def at(self, address: str) -> str:
        """An address as people say it: ``53 on the wiper motor, scuttle``."""
        is_there = split_address(address)[0] in self.loom.places or address in self.loom.ends_at
        loom = self.loom if is_there else self.before or self.loom
        return address_words(loom, address, lambda wire: self.shown.get(wire, wire))

    def title_of(self, place: str) -> str:
        """What people call a place."""
        return self.loom.place_title(place)
