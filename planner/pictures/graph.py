"""The graph of one circuit, before the work and after it: outlines, terminals, and legs of wires."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

OutlineKind = Literal["part", "joint", "earth", "feed", "loose", "unknown"]
When = Literal["before", "after"]
WHENS: tuple[When, When] = ("before", "after")


@dataclass(frozen=True, slots=True)
class Hook:
    """Where one end of a leg is: a slot of an outline."""

    outline: str
    slot: str


@dataclass(frozen=True, slots=True)
class Look:
    """One leg in one of the two looms."""

    colour: str  # code
    mm2: float
    notes: tuple[str, ...]  # what happens to it, from its first end to its last; empty if nothing


@dataclass(frozen=True, slots=True)
class Leg:
    """One leg of a wire between two hooks, and how it looks in the looms that have it there."""

    wire: str
    leg: int  # counted from 0 in the loom before, or in the one after if it is only there
    shown: str  # what people call the wire
    ends: tuple[Hook, Hook]
    before: Look | None
    after: Look | None

    def look(self, when: When) -> Look | None:
        """How it looks in one of the two; None if it is not there."""
        return self.before if when == "before" else self.after


@dataclass(frozen=True, slots=True)
class Slot:
    """A terminal of an outline, with its mark in each loom; None where it is not there."""

    key: str
    before: str | None
    after: str | None

    def mark(self, when: When) -> str | None:
        """Its mark in one of the two."""
        return self.before if when == "before" else self.after


@dataclass(frozen=True, slots=True)
class Load:
    """A load inside a part: what it does, and whether it gives light."""

    does: str
    is_lamp: bool


@dataclass(frozen=True, slots=True)
class Inside:
    """What stands in an outline: its title, what is fitted there, its loads, and what else must be known."""

    title: str
    part: str = ""  # title of the part; only where it is swapped
    loads: tuple[Load, ...] = ()
    notes: tuple[str, ...] = ()
    fate: str = ""  # of a part that is swapped
    fuses: tuple[tuple[str, str], ...] = ()  # terminals, and what is said of the fuse at each


@dataclass(frozen=True, slots=True)
class Outline:
    """Something that wires end on."""

    key: str
    kind: OutlineKind
    address: str  # of the place, joiner, feed or body point; loose and unknown are addresses too
    slots: tuple[Slot, ...]
    before: Inside | None
    after: Inside | None
    ranks: Mapping[
        str, float
    ]  # of slots, from where current comes (0) to earth (100); unknown ones are left out
    is_swapped: bool = False
    is_source: bool = False  # a battery or a generator

    def inside(self, when: When) -> Inside | None:
        """What stands in it in one of the two; None if it is not there."""
        return self.before if when == "before" else self.after


@dataclass(frozen=True, slots=True)
class Graph:
    """The graph of one circuit."""

    outlines: tuple[Outline, ...]
    legs: tuple[Leg, ...]

    @property
    def is_alike(self) -> bool:
        """Whether every wire is on the same terminals before and after, and nothing happens to any."""
        moved = {
            Hook(outline.key, slot.key)
            for outline in self.outlines
            for slot in outline.slots
            if slot.before != slot.after
        }
        return all(
            leg.before is not None
            and leg.before == leg.after
            and not leg.before.notes
            and moved.isdisjoint(leg.ends)
            for leg in self.legs
        )
