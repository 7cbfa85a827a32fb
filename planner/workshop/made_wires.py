"""The wires that are made for a work, with how each is cut and what stands on its labels."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from planner.messages import tr
from planner.model.bench_sheet import Label, MadeWire
from planner.model.conductors import Gauge
from planner.model.delta import Add, Cover, Extend, Fit, Insert, Make, Move, Remove, Renew
from planner.model.loom import Wire, split_address
from planner.model.measures import size_words
from planner.model.wording import colour_words
from planner.workshop.crimped_words import re_ends
from planner.workshop.names import Names, end_words
from planner.workshop.task import Task, is_pull

ALLOWANCE_METRES = (
    0.1  # a piece: two ends stripped, and one crimp that goes wrong; common practice, no source
)
SLEEVED = ("blade", "bullet")  # ends that get an insulating sleeve; rings and bare ends do not


@dataclass(frozen=True, slots=True)
class Piece:
    """One length of wire that a step needs, and the fittings that go on its ends."""

    name: str
    colour: str
    mm2: float
    metres: float
    fittings: tuple[str | None, ...]
    addresses: tuple[str, ...]
    step: int
    from_stock: bool = False
    joiners: int = 0  # butt joiners, where a piece lengthens a wire
    is_pulled: bool = False  # behind trim, and crimped afterwards
    crimps: tuple[int, ...] = ()  # the step at which each end is crimped, if it is not the one that makes it

    @property
    def cut_metres(self) -> float:
        """The length as it is cut."""
        return round(self.metres + ALLOWANCE_METRES, 2)

    @property
    def crimped_at(self) -> tuple[int, ...]:
        """The step at which each of its fittings is crimped."""
        return self.crimps or (self.step,) * len(self.fittings)

    @property
    def sleeved_at(self) -> tuple[int, ...]:
        """The step of each insulating sleeve that its ends need."""
        both = zip(self.fittings, self.crimped_at, strict=True)
        return tuple(step for fitting, step in both if fitting and fitting.startswith(SLEEVED))

    @property
    def sleeves(self) -> int:
        """The insulating sleeves that its ends need."""
        return len(self.sleeved_at)


def pieces(names: Names, ordered: Sequence[Task]) -> tuple[Piece, ...]:
    """Every length of wire that the steps need, in their order."""
    return tuple(_pieces(names, ordered))


def _pieces(names: Names, ordered: Sequence[Task]) -> Iterator[Piece]:
    seen: set[str] = set()
    for number, task in enumerate(ordered, 1):
        operation = task.operation
        if isinstance(operation, Add):
            if operation.wire.wire not in seen:
                make = task.made.operation if task.made else None
                is_lead = isinstance(make, Make) and make.lead is not None
                piece = _whole(names, names.wire(operation.wire.wire), number, is_lead)
                if is_pull(task, ordered):
                    piece = replace(piece, is_pulled=True, crimps=_crimps(operation, piece, ordered))
                yield piece
            seen.add(operation.wire.wire)
        elif isinstance(operation, Insert):
            yield _whole(names, names.wire(operation.lead.wire), number)
        elif isinstance(operation, Renew):
            wire, both = names.wire(operation.wire), (operation.first, operation.last)
            metres = round(sum(wire.leg_metres(leg) for leg in range(*both)), 2)
            fittings = tuple(wire.ends[n].fitting or names.usual_end(wire.ends[n].at) for n in both)
            at = tuple(wire.ends[n].at for n in both)
            colour = wire.leg_colour(operation.first)
            yield Piece(operation.wire, colour, operation.mm2, metres, fittings, at, number)
        elif isinstance(operation, Extend):
            wire, end = names.wire(operation.wire), operation.end
            colour, mm2 = wire.end_colour(end), wire.end_mm2(end)
            ends = () if re_ends(names, operation.wire, end) else (_like_the_old(names, operation),)
            yield Piece(operation.wire, colour, mm2, operation.metres, ends, (), number, joiners=1)


def _like_the_old(names: Names, operation: Extend) -> str | None:
    """The terminal of a piece that lengthens a wire, where the end keeps the kind that it had."""
    was = names.before.end_address(operation.wire, operation.end)
    own = names.wire(operation.wire).ends[operation.end].fitting
    return own or (names.usual_end(was) if was else None)


def _crimps(add: Add, piece: Piece, ordered: Sequence[Task]) -> tuple[int, ...]:
    """The steps that put on the ends of a wire which is pulled through first."""
    steps = {
        task.end: number
        for number, task in enumerate(ordered, 1)
        if isinstance(task.operation, Add) and task.operation.wire.wire == add.wire.wire
    }
    return tuple(steps.get(end, piece.step) for end in range(len(piece.fittings)))


def _whole(names: Names, wire: Wire, number: int, is_lead: bool = False) -> Piece:
    return Piece(
        names.shown(wire.wire),
        wire.leg_colour(0),
        wire.leg_mm2(0),
        round(sum(wire.leg_metres(leg) for leg in range(len(wire.ends) - 1)), 2),
        tuple(end.fitting or names.usual_end(end.at) for end in wire.ends),
        tuple(end.at for end in wire.ends),
        number,
        is_lead,
    )


def making(names: Names, made: Sequence[Piece], gauges: Sequence[Gauge]) -> tuple[MadeWire, ...]:
    """How each new wire is made."""
    return tuple(
        MadeWire(
            piece.name,
            piece.colour,
            piece.mm2,
            size_words(piece.mm2, gauges),
            piece.metres,
            piece.cut_metres,
            tuple(end_words(fitting) for fitting in piece.fittings),
            piece.sleeves,
            tuple(Label(piece.name, colour_words(piece.colour), names.at(at)).text for at in piece.addresses),
            piece.from_stock,
            piece.step,
            piece.is_pulled,
        )
        for piece in made
        if piece.addresses
    )


def labels(names: Names, ordered: Sequence[Task]) -> tuple[Label, ...]:
    """One label for each end that is put on, moved, tied back, or comes off with an old part."""
    found: dict[tuple[str, int], Label] = {}
    for number, task in enumerate(ordered, 1):
        operation = task.operation
        if isinstance(operation, Cover) and operation.wire is not None:
            ref = (operation.wire, operation.end or 0)
            step = found[ref].step if ref in found else number
            found[ref] = _label(names, *ref, step, was=operation.at)
            continue
        for wire, end in _ends_worked_on(names, task):
            if (wire, end) not in found:
                found[wire, end] = _label(names, wire, end, number)
    return tuple(found.values())


def _ends_worked_on(names: Names, task: Task) -> Iterator[tuple[str, int]]:
    operation = task.operation
    if isinstance(operation, Remove) or (isinstance(operation, Fit) and operation.over is not None):
        yield from ((wire, end) for wire, end, _ in names.before.ends_of_place(operation.at))
    elif isinstance(operation, Add | Insert):
        if isinstance(operation, Insert):
            yield operation.wire, operation.end
        wire = operation.wire.wire if isinstance(operation, Add) else operation.lead.wire
        yield from ((wire, end) for end in range(len(names.wire(wire).ends)))
    elif isinstance(operation, Move):
        yield operation.wire, operation.end
    elif isinstance(operation, Renew):
        yield from ((operation.wire, end) for end in (operation.first, operation.last))


def _label(names: Names, wire: str, end: int, step: int, was: str = "") -> Label:
    """The label of an end where it is when the work is done; of one that is tied back, where it was."""
    record = names.wire(wire)
    colour = colour_words(record.end_colour(end))
    now = record.ends[end]
    if was or split_address(now.at)[0] in ("loose", "unknown"):
        at = tr("was on {at}", at=names.was_at(was)) if was else tr("loose")
        return Label(names.shown(wire), colour, at, step, tr("tied back"))
    return Label(names.shown(wire), colour, names.at(now.at), step)
