"""How the work is taken back: every step in reverse order, and what belongs in the vehicle's papers."""

from collections.abc import Sequence
from dataclasses import replace

from planner.messages import tr
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
    Operation,
    Piggyback,
    ReEnd,
    Remove,
    Renew,
)
from planner.model.fitted_fuse import fuse_words_at
from planner.model.joiners import stud_mm2
from planner.model.loom import split_address
from planner.model.tank_senders import tank_sender
from planner.model.wording import colour_words, mark_words, small
from planner.workshop.ends.names import Names, end_words
from planner.workshop.ends.old_fuses import fuses_said
from planner.workshop.ends.piggybacks import come_off_with
from planner.workshop.ends.two_wires import has_two_wires, with_both
from planner.workshop.papers.added import goes_with
from planner.workshop.papers.replay import LOOSE, Done
from planner.workshop.words.tank_words import opening_words


def undo_lines(names: Names, done: Sequence[Done]) -> tuple[UndoLine, ...]:
    """How each step is taken back, the last first."""
    numbered = list(enumerate(done, 1))
    return tuple(undo_line(names, number, one) for number, one in reversed(numbered))


def undo_line(names: Names, number: int, done: Done) -> UndoLine:
    """How one step is taken back, and what else it leaves that was added with it."""
    line = _undo_line(names, number, done)
    goes = "; ".join(goes_with(names, number, done))
    return replace(line, text=tr("{back}; {goes}", back=line.text, goes=goes)) if goes else line


def _undo_line(names: Names, number: int, done: Done) -> UndoLine:
    operation = done.task.operation
    if isinstance(operation, ReEnd):
        (re_end,) = (o for o in done.operations if isinstance(o, ReEnd))
        wire = names.named(operation.wire, operation.end)
        was = end_words(re_end.old) if re_end.old else tr("an end like the one it had")
        text = tr("Give {wire} {end} again", wire=wire, end=was)
        if has_two_wires(names, operation.wire, operation.end):
            text = tr("{text}, both its wires in one crimp", text=text)
        return UndoLine(number, _and_back_on(names, text, done), tr("the old terminal is gone"))
    if isinstance(operation, Extend):
        wire = names.named(operation.wire, operation.end)
        longer = tr("Leave {wire} as long as it is: it does no harm", wire=wire)
        gone = tr("the old terminal is gone, and there is a joiner in the wire")
        return UndoLine(number, _and_back_on(names, longer, done), gone)
    if isinstance(operation, Renew):
        wire = names.named(operation.wire, operation.first)
        back = tr(
            "Take the thicker wire out, and put {wire} of {mm2:g} mm2 back", wire=wire, mm2=operation.old[0]
        )
        back = _and_back_on(names, back, done)
        return UndoLine(number, back, tr("if the old wire was drawn out, it has to be laid anew"))
    if isinstance(operation, Cut):
        text = (
            tr("Take the M6 stud off {wire}, and crimp one terminal on both of its wires again, for {at}")
            if stud_mm2(names.after, operation.joint)
            else tr("Take the joiner off {wire}, and crimp one terminal on both of its wires again, for {at}")
        ).format(wire=names.named(operation.wire, operation.end), at=names.was_at(operation.was))
        gone = tr("the old terminal is gone, and the wires are shorter by what was cut off")
        return UndoLine(number, text, gone)
    if isinstance(operation, Move) and names.is_own_lead(operation.to):
        cut = tr("cut the joiner off; the old end is gone, and the wire wants one like it again")
        return UndoLine(number, _back(names, operation, done), cut)
    if isinstance(operation, Remove):
        return _put_back(names, number, operation, done)
    return UndoLine(number, _back(names, operation, done))


def _back(names: Names, operation: Operation, done: Done) -> str:
    """How a step is taken back that leaves nothing behind."""
    if isinstance(operation, ChangeSupply):
        return tr("The vehicle is {supply} again: tag its place so", supply=operation.old.words)
    if isinstance(operation, Fit):
        return _take_out(names, operation, done)
    if isinstance(operation, Add):
        return _take_away(names, operation, done)
    if isinstance(operation, Move):
        wire, at = names.named(operation.wire, operation.end), names.at(operation.to)
        (move,) = (o for o in done.operations if isinstance(o, Move))
        if move.before == LOOSE:
            return tr("Take {wire} off {at}", wire=wire, at=at)
        before = names.was_at(move.before)
        return tr("Take {wire} off {at}, and put it back on {before}", wire=wire, at=at, before=before)
    if isinstance(operation, Cover):
        if operation.wire is None:
            return tr("Take the cover off {at}", at=names.at(operation.at))
        wire = names.named(operation.wire, operation.end or 0)
        return tr("Untie {wire}: it was on {at}", wire=wire, at=names.was_at(operation.at))
    if isinstance(operation, Hold):
        wire = names.named(operation.wire, operation.end)
        return tr("Put {wire} back on {at}", wire=wire, at=names.was_at(operation.at))
    if isinstance(operation, Join):
        wires = tr(" and ").join(with_both(names, w, n) for w, n, _ in operation.ends)
        if names.joiners[operation.joint].stud_mm2:
            return tr("Take the M6 stud off {wires}", wires=wires)
        return tr(
            "Take the joiner off {wires}; where it is crimped, cut close to it and strip these ends anew",
            wires=wires,
        )
    if isinstance(operation, Insert):
        part = small(names.catalogue.parts[operation.place.part].title)
        put = next((o for o in done.operations if isinstance(o, Insert)), None)
        if put is None:  # its wire is new, and was taken out before
            return tr("Take the {part} and its lead out", part=part)
        wire = names.named(operation.wire, operation.end)
        if put.was == LOOSE:
            return tr("Take the {part} and its lead out, and {wire} off it", part=part, wire=wire)
        was = names.was_at(put.was)
        return tr(
            "Take the {part} and its lead out, and put {wire} back on {at}", part=part, wire=wire, at=was
        )
    if isinstance(operation, Piggyback):
        return tr("Take the piggyback off {at}", at=names.at(operation.at))
    assert isinstance(operation, ChangeFuse)
    return _fuse_back(names, operation)


def _fuse_back(names: Names, operation: ChangeFuse) -> str:
    """What becomes of a fuse: no fuse goes in before everything is back, and a new part keeps its own."""
    old, at = names.work.first_fuses[operation.at].printed, names.at(operation.at)
    place = split_address(operation.at)[0]
    if not old:
        return tr("Take the fuse out: {at}; there was none before", at=at)
    if names.before.places.get(place) != names.after.places.get(place):
        return tr(
            "Take the fuse of {amps:g} A out: {at}; it stays with the new part", amps=operation.amps, at=at
        )
    amps = fuse_words_at(names.before, names.catalogue.parts, operation.at, old)
    return tr("Lay the fuse of {amps} ready for {at}; it goes in at first power", amps=amps, at=at)


def _and_back_on(names: Names, text: str, done: Done) -> str:
    """How a step is taken back for which ends came off: they go on again once they are as they were."""
    off = [o.before for o in done.operations if isinstance(o, Move) and o.to == LOOSE]
    places = tr(" and ").join(names.was_at(at) for at in off)
    return tr("{done}; then put it back on {at}", done=text, at=places) if off else text


def _put_back(names: Names, number: int, operation: Remove, done: Done) -> UndoLine:
    ends = next(o for o in done.operations if isinstance(o, Remove)).ends
    part = small(names.catalogue.parts[operation.place.part].title)
    place = names.before.place_title(operation.at)
    text = tr("Put the old part back at the {place}: {part}", place=place, part=part)
    if tank_sender(names.catalogue.parts[operation.place.part]):
        fitted_with = names.catalogue.parts[operation.place.part].fitted_with
        text = "; ".join((text, *(tr("with a new {thing}", thing=thing) for thing in fitted_with)))
    if names.catalogue.parts[operation.place.part].parks:
        text = tr("{back}; its arms off until it has run to its park place, at full power", back=text)
    if fuses := fuses_said(names, names.before, operation.at):
        text = tr("{back}; its fuses go in at first power: {fuses}", back=text, fuses=fuses)
    if tabs := come_off_with(names, operation):
        marks = tr(" and ").join(mark_words(split_address(at)[1]) for at in tabs)
        text = tr("{back}; its piggyback on {marks}", back=text, marks=marks)
    on = tuple(
        tr(
            "{colour} ({wire}) on {mark}",
            colour=colour_words(names.before.find(wire).end_colour(end)),
            wire=wire,
            mark=mark_words(mark),
        )
        for wire, end, mark in ends
    )
    whole = tr("{back}; on it: {ends}", back=text, ends=", ".join(on)) if on else text
    return UndoLine(number, whole, ends=on)


def _take_out(names: Names, operation: Fit, done: Done) -> str:
    part = small(names.catalogue.parts[operation.place.part].title)
    text = tr("Take out the {place}: {part}", place=names.after.place_title(operation.at), part=part)
    text = "; ".join((text, *_opened(names, operation.place.part)))
    if operation.over is None:
        return text
    old = small(names.catalogue.parts[operation.over.part].title)
    back = tr("{out}; put in again what was there: {old}, with the same ends on it", out=text, old=old)
    moves = [o for o in done.operations if isinstance(o, Move) and o.before == LOOSE]
    if not moves:
        return back
    later = tr(" and ").join(names.named(move.wire, move.end) for move in moves)
    return tr("{back}, but for {ends}, which goes on below", back=back, ends=later)


def _opened(names: Names, part: str) -> tuple[str, ...]:
    """What is said of a tank that is opened once more."""
    return (opening_words(),) if tank_sender(names.catalogue.parts[part]) else ()


def _take_away(names: Names, operation: Add, done: Done) -> str:
    wire = names.wire(operation.wire.wire)
    colour, name = colour_words(wire.leg_colour(0)), names.shown(wire.wire)
    named = tr("the {colour} wire ({name})", colour=colour, name=name)
    if any(isinstance(o, Move) for o in done.operations):
        return tr("Take {wire} off {at}", wire=named, at=names.at(wire.ends[done.task.end or 0].at))
    return tr("Take {wire} out of the vehicle", wire=named)
