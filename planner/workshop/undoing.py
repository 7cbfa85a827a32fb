"""How the work is taken back: every step in reverse order, and what belongs in the vehicle's papers."""

from collections.abc import Iterator, Sequence

from planner.model.bench_sheet import UndoLine
from planner.model.delta import (
    Add,
    ChangeFuse,
    ChangeSupply,
    Cover,
    Cut,
    Extend,
    Fit,
    Hold,
    Insert,
    Join,
    Move,
    Piggyback,
    ReEnd,
    Remove,
    Renew,
)
from planner.model.wording import colour_words, mark_words, small
from planner.workshop.names import Names, end_words
from planner.workshop.replay import LOOSE, Done


def undo_lines(names: Names, done: Sequence[Done]) -> tuple[UndoLine, ...]:
    """How each step is taken back, the last first."""
    numbered = list(enumerate(done, 1))
    return tuple(undo_line(names, number, one) for number, one in reversed(numbered))


def undo_line(names: Names, number: int, done: Done) -> UndoLine:
    """How one step is taken back."""
    operation = done.task.operation
    if isinstance(operation, ChangeSupply):
        return UndoLine(number, f"The vehicle is {operation.old.words} again: tag its place so")
    if isinstance(operation, Remove):
        return _put_back(names, number, operation, done)
    if isinstance(operation, Fit):
        return UndoLine(number, _take_out(names, operation))
    if isinstance(operation, Add):
        return UndoLine(number, _take_away(names, operation, done))
    if isinstance(operation, Move):
        named = names.named(operation.wire, operation.end)
        (move,) = (o for o in done.operations if isinstance(o, Move))
        back = f", and put it back on {names.at(move.before)}" if move.before != LOOSE else ""
        return UndoLine(number, f"Take {named} off {names.at(operation.to)}{back}")
    if isinstance(operation, Cover):
        if operation.wire is None:
            return UndoLine(number, f"Take the cover off {names.at(operation.at)}")
        named = names.named(operation.wire, operation.end or 0)
        return UndoLine(number, f"Untie {named}: it was on {names.at(operation.at)}")
    if isinstance(operation, Hold):
        named = names.named(operation.wire, operation.end)
        return UndoLine(number, f"Put {named} back on {names.at(operation.at)}")
    if isinstance(operation, Join):
        ends = " and ".join(names.named(w, n) for w, n, _ in operation.ends)
        return UndoLine(number, f"Take the joiner off {ends}")
    if isinstance(operation, ReEnd):
        (re_end,) = (o for o in done.operations if isinstance(o, ReEnd))
        named = names.named(operation.wire, operation.end)
        was = end_words(re_end.old) if re_end.old else "an end like the one it had"
        return UndoLine(number, f"Give {named} {was} again", "the old terminal is gone")
    if isinstance(operation, Insert):
        part = small(names.catalogue.parts[operation.place.part].title)
        named, was = names.named(operation.wire, operation.end), names.at(operation.was)
        return UndoLine(number, f"Take the {part} and its lead out, and put {named} back on {was}")
    if isinstance(operation, Piggyback):
        return UndoLine(number, f"Take the piggyback off {names.at(operation.at)}")
    if isinstance(operation, ChangeFuse):
        old = names.work.first_fuses[operation.at].printed
        what = f"the fuse of {old:g} A in again" if old else "no fuse in"
        return UndoLine(number, f"Put {what}: {names.at(operation.at)}")
    if isinstance(operation, Renew):
        named = names.named(operation.wire, operation.first)
        text = f"Take the thicker wire out, and put {named} of {operation.old[0]:g} mm2 back"
        return UndoLine(number, text, "if the old wire was drawn out, it has to be laid anew")
    assert isinstance(operation, Extend | Cut)
    named = names.named(operation.wire, operation.end)
    if isinstance(operation, Extend):
        return UndoLine(number, f"Leave {named} as long as it is: it does no harm")
    at = names.at(operation.was)
    text = f"Take the joiner off {named}, and crimp one terminal on both its legs again, for {at}"
    return UndoLine(number, text, "the old terminal is gone, and the legs are shorter by what was cut off")


def _put_back(names: Names, number: int, operation: Remove, done: Done) -> UndoLine:
    ends = next(o for o in done.operations if isinstance(o, Remove)).ends
    part = small(names.catalogue.parts[operation.place.part].title)
    text = f"Put the old part back at {names.before.place_title(operation.at)}: {part}"
    on = tuple(
        f"{colour_words(names.before.find(wire).end_colour(end))} ({wire}) on {mark_words(mark)}"
        for wire, end, mark in ends
    )
    return UndoLine(number, f"{text}; on it: {', '.join(on)}" if on else text, ends=on)


def _take_out(names: Names, operation: Fit) -> str:
    part = small(names.catalogue.parts[operation.place.part].title)
    text = f"Take out the {names.after.place_title(operation.at)}: {part}"
    if operation.over is None:
        return text
    old = small(names.catalogue.parts[operation.over.part].title)
    return f"{text}; put in again what was there: {old}, with the same ends on it"


def _take_away(names: Names, operation: Add, done: Done) -> str:
    wire = names.wire(operation.wire.wire)
    named = f"the {colour_words(wire.leg_colour(0))} wire ({names.shown(wire.wire)})"
    if any(isinstance(o, Move) for o in done.operations):
        return f"Take {named} off {names.at(wire.ends[done.task.end or 0].at)}"
    return f"Take {named} out of the vehicle"


def tied_back(names: Names, done: Sequence[Done]) -> Iterator[str]:
    """Yield every end and terminal that is covered when the work is done."""
    for one in done:
        operation = one.task.operation
        if isinstance(operation, Cover) and operation.wire is not None:
            yield f"{names.named(operation.wire, operation.end or 0)}, was on {names.at(operation.at)}"
        elif isinstance(operation, Cover):
            yield f"bare terminal {names.at(operation.at)}: covered"


def links_added(names: Names, done: Sequence[Done]) -> Iterator[str]:
    """Yield every wire, tab, joiner and part that was not there before."""
    seen: set[str] = set()
    for one in done:
        operation = one.task.operation
        if isinstance(operation, Add) and operation.wire.wire not in seen:
            seen.add(operation.wire.wire)
            wire = names.wire(operation.wire.wire)
            ends = " to ".join(names.at(end.at) for end in wire.ends)
            yield f"{names.shown(wire.wire)} {colour_words(wire.leg_colour(0))}: {ends}"
        elif isinstance(operation, Insert):
            part = small(names.catalogue.parts[operation.place.part].title)
            yield f"{part} in {names.named(operation.wire, operation.end)} at {names.at(operation.was)}"
        elif isinstance(operation, Piggyback):
            yield f"piggyback on {names.at(operation.at)}"
        elif isinstance(operation, Join):
            yield f"joiner of {' and '.join(names.named(w, n) for w, n, _ in operation.ends)}"
        elif isinstance(operation, Cut):
            yield f"joiner in {names.named(operation.wire, operation.end)}, was on {names.at(operation.was)}"
        elif isinstance(operation, Fit) and operation.at not in names.before.places:
            yield f"{names.after.place_title(operation.at)}: new part"


def fittings_changed(names: Names, done: Sequence[Done]) -> Iterator[str]:
    """Yield every original end or wire that is not as it was."""
    for one in done:
        for operation in one.operations:
            if isinstance(operation, ReEnd):
                was = end_words(operation.old) if operation.old else "an end that fitted the old terminal"
                now = end_words(operation.fitting)
                at = names.at(operation.at)
                yield f"{names.named(operation.wire, operation.end)} for {at}: was {was}, is {now}"
            elif isinstance(operation, Extend):
                yield f"{names.named(operation.wire, operation.end)}: longer by {operation.metres:g} m"
            elif isinstance(operation, Renew):
                old = " and ".join(f"{size:g}" for size in sorted(set(operation.old)))
                named = names.named(operation.wire, operation.first)
                yield f"{named}: was {old} mm2, is {operation.mm2:g} mm2"
            elif isinstance(operation, Cut):
                named = names.named(operation.wire, operation.end)
                yield f"{named}: its terminal for {names.at(operation.was)} is cut off, its legs are joined"
