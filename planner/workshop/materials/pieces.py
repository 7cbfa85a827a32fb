"""The lengths of wire that a work needs, each as it is cut, with what is crimped on its ends."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.model.delta import Add, Extend, Insert, Make, Renew
from planner.model.loom import Wire
from planner.workshop.ends.crimps import Crimp, fitting_like_the_old, re_ends
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task, is_pull

ALLOWANCE_METRES = (
    0.1  # a piece: two ends stripped, and one crimp that goes wrong; common practice, no source
)


@dataclass(frozen=True, slots=True)
class Piece:
    """One length of wire that a step needs, with what goes on its ends."""

    name: str
    colour: str
    mm2: float
    metres: float
    step: int
    ends: tuple[Crimp, ...] = ()
    goes_with: tuple[str, ...] = ()  # ends that go into the terminal of the leg before, by their addresses
    from_stock: bool = False
    longer_at: str = ""  # where it lengthens a wire, to which it is joined: the terminal that it reaches
    is_run: bool = False  # it runs through the vehicle, and wants clips
    is_pulled: bool = False  # behind trim, and crimped afterwards

    @property
    def cut_metres(self) -> float:
        """The length as it is cut."""
        return round(self.metres + ALLOWANCE_METRES, 2)

    @property
    def crimps(self) -> tuple[Crimp, ...]:
        """The terminals that are crimped on it; none where it is a finished lead."""
        if self.from_stock:
            return ()
        return tuple(end for end in self.ends if end.is_crimped and end.at not in self.goes_with)


def pieces(names: Names, ordered: Sequence[Task]) -> tuple[Piece, ...]:
    """Every length of wire that the steps need, in their order."""
    return tuple(_pieces(names, ordered))


def _pieces(names: Names, ordered: Sequence[Task]) -> Iterator[Piece]:
    seen: set[str] = set()
    for number, task in enumerate(ordered, 1):
        operation = task.operation
        if isinstance(operation, Add):
            if operation.wire.wire not in seen:
                yield from _added(names, task, operation, ordered)
            seen.add(operation.wire.wire)
        elif isinstance(operation, Insert):
            yield from _legs(names, names.wire(operation.lead.wire), (0, 1), number)
        elif isinstance(operation, Renew):
            ends = (operation.first, operation.last)
            for piece in _legs(names, names.wire(operation.wire), ends, number):
                yield replace(piece, is_run=True)
        elif isinstance(operation, Extend):
            yield from _longer(names, operation, number)


def _added(names: Names, task: Task, add: Add, ordered: Sequence[Task]) -> Iterator[Piece]:
    """Yield a new wire; one that is pulled through first is crimped where its ends go on."""
    make = task.made.operation if task.made else None
    is_pulled, goes = is_pull(task, ordered), {}
    if is_pulled:
        for number, other in enumerate(ordered, 1):
            if isinstance(other.operation, Add) and other.operation.wire.wire == add.wire.wire:
                goes[other.end] = number
    wire = names.wire(add.wire.wire)
    for piece in _legs(names, wire, (0, len(wire.ends) - 1), names.number(task), goes):
        is_lead = isinstance(make, Make) and make.lead is not None
        yield replace(piece, from_stock=is_lead, is_run=True, is_pulled=is_pulled)


def _legs(
    names: Names,
    wire: Wire,
    ends: tuple[int, int],
    number: int,
    crimped_at: Mapping[int | None, int] = {},
) -> Iterator[Piece]:
    """Yield the legs of a wire between two of its ends; where two meet, one terminal takes both."""
    for leg in range(*ends):
        crimps = (
            Crimp(
                crimped_at.get(n, number),
                wire.ends[n].at,
                wire.ends[n].fitting or names.usual_end(wire.ends[n].at),
                wire.areas_at(n),
            )
            for n in (leg, leg + 1)
        )
        shared = (wire.ends[leg].at,) if leg > ends[0] else ()
        metres = round(wire.leg_metres(leg), 2)
        colour, mm2 = wire.leg_colour(leg), wire.leg_mm2(leg)
        yield Piece(names.shown(wire.wire), colour, mm2, metres, number, tuple(crimps), shared)


def _longer(names: Names, extend: Extend, number: int) -> Iterator[Piece]:
    """Yield what lengthens a wire, each leg that ends there: joined on, with a terminal like the old one.

    Where a step of its own gives the end another terminal, that is not the piece's.
    """
    wire, end = names.wire(extend.wire), extend.end
    crimp = Crimp(number, extend.at, fitting_like_the_old(names, extend.wire, end), wire.areas_at(end))
    ends = () if re_ends(names, extend.wire, end) else (crimp,)
    for leg in wire.legs_at(end):
        shared = (extend.at,) if leg == end and end > 0 else ()
        yield Piece(
            names.shown(extend.wire),
            wire.leg_colour(leg),
            wire.leg_mm2(leg),
            extend.metres,
            number,
            ends,
            shared,
            longer_at=extend.at,
        )
