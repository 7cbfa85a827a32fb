"""Ends taken for one another between like parts: two senders, the lamps left and right, two like switches.

Two parts are taken for one another if they are of one family and lie in one zone, or if their wires come out
of one bundle: the senders of two gauges lie far apart, and their wires come side by side from the dash. There
an end goes on the terminal of the same mark or role, or on the only one that has a wire besides the earth.
In one zone it also goes on a part of another kind that has the same inside, if both have but one wire or are
lamps: that of the stop lamp on the turn lamp beside it.
"""

from collections.abc import Iterator
from functools import cached_property
from itertools import combinations
from typing import NamedTuple

from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.delta import EndRef
from planner.model.loom import split_address
from planner.model.part import Terminal
from planner.testing.mistakes.mistake import Change, EndAt, Mistake
from planner.testing.mistakes.priors import weight
from planner.testing.mistakes.room import Room
from planner.testing.wired import Wired

EARTHED = "31"  # a role: what is on it is not what a part is known by
LAMPS = frozenset(("lamp", "led"))  # elements; of a part with nothing else inside every wire is such a one


class _On(NamedTuple):
    """An end on a part: where, and what tells it from others."""

    end: EndRef
    at: str
    mark: str
    terminal: Terminal
    zone: str
    family: str
    inside: frozenset[str]  # kinds of elements
    is_only: bool  # whether nothing else but earth is on its part
    comes_from: frozenset[str]  # places, zones and bunches of joiners at the other ends of its legs


class LikeParts:
    """The ends of one loom that may sit on each other's part."""

    def __init__(self, wired: Wired, catalogue: Catalogue) -> None:
        self.wired, self.loom, self.room = wired, wired.loom, Room(wired, catalogue)

    def every(self) -> Iterator[Mistake]:
        """Yield them all, each pair once."""
        for one, other in combinations(self._ends, 2):
            if self._may_be_traded(one, other):
                touched = self.room.is_touched(one.end) and self.room.is_touched(other.end)
                own = weight("wrong part", touched=touched)
                yield trade(self.wired, one.end, one.at, other.end, other.at, own)

    @cached_property
    def _ends(self) -> list[_On]:
        found = []
        for wire in self.loom.wires:
            for number, end in enumerate(wire.ends):
                terminal = self.room.terminal(end.at)
                if terminal is None or terminal.by == "mounting" or terminal.role == EARTHED:
                    continue
                place, mark = split_address(end.at)
                part = self.room.part(place)
                found.append(
                    _On(
                        (wire.wire, number),
                        end.at,
                        mark,
                        terminal,
                        self.loom.places[place].zone,
                        part.family,
                        frozenset(element.element for element in part.inside),
                        len(self._fed_ends(place)) == 1,
                        self._comes_from((wire.wire, number)),
                    )
                )
        return found

    def _fed_ends(self, place: str) -> list[EndRef]:
        """The ends at a place that are not on earth."""
        part = self.room.part(place)
        return [
            (w, n) for w, n, mark in self.loom.ends_of_place(place) if part.terminals[mark].role != EARTHED
        ]

    def _comes_from(self, end: EndRef) -> frozenset[str]:
        wire, number = end
        ends, found = self.loom.find(wire).ends, set[str]()
        for beside in (number - 1, number + 1):
            if 0 <= beside < len(ends):
                place, mark = split_address(ends[beside].at)
                if place in self.loom.places:
                    found |= {place, self.loom.places[place].zone}
                elif place == "joint":
                    found.add(f"joint:{mark.rpartition('-')[0] or mark}")
        return frozenset(found)

    def _may_be_traded(self, one: _On, other: _On) -> bool:
        if split_address(one.at)[0] == split_address(other.at)[0] or one.end[0] == other.end[0]:
            return False
        is_beside, are_only = one.zone == other.zone, one.is_only and other.is_only
        does_the_same = one.inside == other.inside and (are_only or one.inside <= LAMPS)
        if one.family == other.family and (is_beside or one.comes_from & other.comes_from):
            is_like = one.mark == other.mark or one.terminal.role == other.terminal.role is not None
            is_taken = is_like or are_only or (is_beside and does_the_same)
        else:
            is_taken = is_beside and does_the_same
        if not is_taken:
            return False
        return self.room.goes_on(one.end, one.at, other.terminal) and self.room.goes_on(
            other.end, other.at, one.terminal
        )


def trade(wired: Wired, one: EndRef, at: str, other: EndRef, there: str, own: float) -> Mistake:
    """Two ends on different parts, each where the other should be; ``own`` is its weight."""
    return Mistake(
        f"{one[0]}.{one[1]}-traded-{other[0]}.{other[1]}",
        "wrong part",
        tr(
            "{one} and {other} are traded: {at} and {there}",
            one=wired.wire(*one),
            other=wired.wire(*other),
            at=wired.at(at),
            there=wired.at(there),
        ),
        own,
        (at, there),
        (Change(ends=(EndAt(*one, there), EndAt(*other, at))),),
    )
