"""A step as a sentence for the bench."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from planner.messages import tr
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
from planner.model.fitted_fuse import fuse_words_at
from planner.model.joiners import stud_mm2
from planner.model.loom import split_address
from planner.model.reach import is_fed
from planner.model.wording import mark_words, small
from planner.workshop.ends.names import Names
from planner.workshop.ends.tied_back import UNKNOWN_COVER, live_words
from planner.workshop.ends.two_wires import has_two_wires, with_both
from planner.workshop.notes.notes import notes
from planner.workshop.tasks.task import Task
from planner.workshop.words.crimped_words import lengthened, re_ended
from planner.workshop.words.in_line_words import inserted
from planner.workshop.words.joiner_words import joiner_kind
from planner.workshop.words.wire_words import new_wire, thicker

_LIVE_COVERS = ("live-end-without-home", "chain-end-without-home")


class Words(NamedTuple):
    """A step in words: what is done, and that with what hangs on the order of the list."""

    what: str
    text: str


def words_of(names: Names, task: Task, fields: Mapping[str, Any]) -> Words:
    """The sentence of a step with these fields."""
    said = _said(names, task, fields)
    stay = _stay(names, task)
    return Words("; ".join((said, *stay)), "; ".join((said, *notes(names, task), *stay)))


def _stay(names: Names, task: Task) -> tuple[str, ...]:
    """The ends that go on a part with it; they come last, where a sheet may list them one by one."""
    stay = names.staying(task.operation.at) if isinstance(task.operation, Fit) else ()
    return (tr("on the same terminals: {ends}", ends=", ".join(stay)),) if stay else ()


def _said(names: Names, task: Task, fields: Mapping[str, Any]) -> str:
    operation = task.operation
    if isinstance(operation, ChangeSupply):
        return tr(
            "Take the battery off: the vehicle becomes {new} (it was {old}). The battery goes on when every "
            "step is done, earthed post last; tag its place so",
            new=operation.supply.words,
            old=operation.old.words,
        )
    if isinstance(operation, Remove):
        part = small(names.catalogue.parts[operation.place.part].title)
        return tr("Take out the {place}: {part}", place=names.before.place_title(operation.at), part=part)
    if isinstance(operation, Fit):
        return _fit(names, operation)
    if isinstance(operation, Move):
        return _move(names, task, operation)
    if isinstance(operation, Add):
        return new_wire(names, task, operation, fields)
    if isinstance(operation, Cover):
        if operation.wire is None:
            return tr("Cover the bare terminal {at}", at=names.at(operation.at))
        return tr(
            "Insulate and tie back {wire} that was on {at}; tag it{warning}",
            wire=names.named(operation.wire, operation.end or 0),
            at=names.was_at(operation.at),
            warning=_warning(names, task),
        )
    if isinstance(operation, Cut):
        return _cut(names, operation)
    if isinstance(operation, Piggyback):
        return tr("Fit a piggyback push-on terminal on {at}", at=names.at(operation.at))
    if isinstance(operation, Join):
        ends = tr(" and ").join(with_both(names, w, n) for w, n, _ in operation.ends)
        stud = names.joiners[operation.joint].stud_mm2
        if stud:
            return tr(
                "Join {wires} on an M6 stud under a cover, made for wire of {mm2:g} mm2",
                wires=ends,
                mm2=stud,
            )
        return tr("Join {wires} in {joiner}", wires=ends, joiner=joiner_kind(names, operation.joint))
    if isinstance(operation, ReEnd):
        return re_ended(names, task, operation)
    if isinstance(operation, Extend):
        return lengthened(names, task, operation)
    if isinstance(operation, Insert):
        return inserted(names, operation)
    if isinstance(operation, ChangeFuse):
        return _fuse(names, operation, fields)
    if isinstance(operation, Renew):
        return thicker(names, task, operation, fields)
    assert isinstance(operation, Hold)
    held = names.named(operation.wire, operation.end)
    return tr("Take {wire} off {at}, insulate it and keep it aside", wire=held, at=names.was_at(operation.at))


def _cut(names: Names, operation: Cut) -> str:
    if stud_mm2(names.after, operation.joint):
        how = tr("put an M6 ring on each of its two wires, and both rings on an M6 stud under a cover")
    else:
        how = tr("join its two wires in {joiner}", joiner=joiner_kind(names, operation.joint))
    return tr(
        "Cut the terminal off {wire} that was on {at}, and {how}: what lies beyond is fed through them",
        wire=names.named(operation.wire, operation.end),
        at=names.was_at(operation.was),
        how=how,
    )


def _move(names: Names, task: Task, operation: Move) -> str:
    wire, was = names.named(operation.wire, operation.end), names.was_at(operation.was)
    if operation.to in names.joiners:
        joiner = names.at(operation.to)
        if has_two_wires(names, operation.wire, operation.end):
            said = tr("Put both wires of {wire}, which were on {was}, into {joiner}")
        else:
            said = tr("Put {wire}, which was on {was}, into {joiner}")
        return said.format(wire=wire, was=was, joiner=joiner)
    place = split_address(operation.to)[0]
    here = split_address(operation.was)[0] == place and names.is_called_alike(place)
    to = mark_words(split_address(operation.to)[1]) if here else names.at(operation.to)
    if since := names.off_since(operation.wire, operation.end, operation.was, task):
        return tr("Put {wire}, off {was} since step {step}, on {to}", wire=wire, was=was, step=since, to=to)
    return tr("Move {wire} from {was} to {to}", wire=wire, was=was, to=to)


def _fit(names: Names, operation: Fit) -> str:
    parts = names.catalogue.parts
    part = small(parts[operation.place.part].title)
    if operation.over is not None and operation.over.part != operation.place.part:
        old = small(parts[operation.over.part].title)
        part = tr("{new} in place of {old}", new=part, old=old)
    if operation.place.mounting == "insulated":
        part = tr("{part} (insulated mounting)", part=part)
    elif operation.place.mounting == "doubtful":
        part = tr("{part} (doubtful mounting)", part=part)
    # A place of the plan's own is what sits there.
    is_known = operation.at in names.work.swapped or operation.at in names.before.places
    place = names.after.place_title(operation.at)
    how = tr("Fit the new part at the {place}: {part}") if is_known else tr("Fit the {place}: {part}")
    return how.format(place=place, part=part)


def _fuse(names: Names, operation: ChangeFuse, fields: Mapping[str, Any]) -> str:
    printed = fields["old_amps"]
    if printed is None:
        place = names.after.place_title(split_address(operation.at)[0])
        return tr(
            "Lay a fuse of {amps:g} A ready for the holder: {place}; it goes in at first power",
            amps=operation.amps,
            place=place,
        )
    return tr(
        "Lay a fuse of {amps:g} A ready for {at}, in place of the one of {old}; it goes in at first power",
        amps=operation.amps,
        at=names.at(operation.at),
        old=fuse_words_at(names.before, names.catalogue.parts, operation.at, printed),
    )


def _is_middle(names: Names, task: Task) -> bool:
    """Whether an end is one at which two legs of its wire meet in one terminal."""
    return 0 < getattr(task.operation, "end", 0) < len(names.wire(str(task.wire)).ends) - 1


def _warning(names: Names, task: Task) -> str:
    """What must be known of an end that is tied back."""
    rule, live = task.step.why.rule, live_words(names, task)
    if rule == UNKNOWN_COVER:
        return tr("; what it is is not known: {live}", live=live)
    if live and _is_middle(names, task):
        return tr(
            "; {live}; leave both wires in its terminal: what lies beyond is fed through them", live=live
        )
    if live:
        return f"; {live}"
    if rule not in _LIVE_COVERS:
        return ""
    if not is_fed(names.after, str(task.wire)):
        return tr("; nothing feeds it any more: what it leads to is tied back as well")
    if _is_middle(names, task):
        return tr("; leave both wires in its terminal: what lies beyond is joined through them")
    return tr("; nothing feeds it any more")
