"""A step as a sentence for the bench."""

from collections.abc import Mapping
from typing import Any

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
from planner.model.loom import split_address
from planner.model.measures import length_words
from planner.model.reach import is_fed
from planner.model.still_live import may_be_live
from planner.model.wording import mark_words, small
from planner.workshop.names import Names, end_words
from planner.workshop.posts import is_put_on
from planner.workshop.tasks import Task
from planner.workshop.wire_words import inserted, new_wire, thicker

_UNKNOWN_COVER = "unknown-end-without-home"
_LIVE_COVERS = ("live-end-without-home", "chain-end-without-home")


def words_of(names: Names, task: Task, fields: Mapping[str, Any]) -> str:
    """The sentence of a step with these fields."""
    said = _said(names, task, fields)
    if not is_put_on(names.work, task, names.earthed_posts):
        return said
    return tr("{said}; the earthed post stays off until first power", said=said)


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
        here = split_address(operation.was)[0] == split_address(operation.to)[0]
        return tr(
            "Move {wire} from {was} to {to}",
            wire=names.named(operation.wire, operation.end),
            was=names.at(operation.was),
            to=mark_words(split_address(operation.to)[1]) if here else names.at(operation.to),
        )
    if isinstance(operation, Add):
        return new_wire(names, task, operation, fields)
    if isinstance(operation, Cover):
        if operation.wire is None:
            return tr("Cover the bare terminal {at}", at=names.at(operation.at))
        return tr(
            "Insulate and tie back {wire} that was on {at}; tag it{warning}",
            wire=names.named(operation.wire, operation.end or 0),
            at=names.at(operation.at),
            warning=_warning(names, task),
        )
    if isinstance(operation, Cut):
        return tr(
            "Cut the terminal off {wire} that was on {at}, and join its two legs in an insulated joiner: "
            "what lies beyond is fed through them",
            wire=names.named(operation.wire, operation.end),
            at=names.at(operation.was),
        )
    if isinstance(operation, Piggyback):
        return tr("Fit a piggyback push-on terminal on {at}", at=names.at(operation.at))
    if isinstance(operation, Join):
        ends = tr(" and ").join(names.named(w, n) for w, n, _ in operation.ends)
        stud = names.stud_mm2(operation.joint)
        if stud:
            return tr(
                "Join {wires} on one stud under a cover, made for wire of {mm2:g} mm2", wires=ends, mm2=stud
            )
        return tr("Join {wires} in an insulated joiner", wires=ends)
    if isinstance(operation, ReEnd):
        return tr(
            "Re-end {wire} with {end} for {at}",
            wire=names.named(operation.wire, operation.end),
            end=end_words(operation.fitting),
            at=names.at(operation.at),
        )
    if isinstance(operation, Extend):
        wire = names.named(operation.wire, operation.end)
        return tr("Lengthen {wire} by {length}", wire=wire, length=length_words(operation.metres))
    if isinstance(operation, Insert):
        return inserted(names, operation)
    if isinstance(operation, ChangeFuse):
        return _fuse(names, operation, fields)
    if isinstance(operation, Renew):
        return thicker(names, operation, fields)
    assert isinstance(operation, Hold)
    held = names.named(operation.wire, operation.end)
    return tr("Take {wire} off {at}, insulate it and keep it aside", wire=held, at=names.at(operation.at))


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
    how = tr("Fit at {place}: {part}") if is_known else tr("Fit as {place}: {part}")
    said = how.format(place=place, part=part)
    stay = names.staying(operation.at)
    return tr("{fit}; on the same terminals: {ends}", fit=said, ends=", ".join(stay)) if stay else said


def _fuse(names: Names, operation: ChangeFuse, fields: Mapping[str, Any]) -> str:
    printed = fields["old_amps"]
    if printed is None:
        place = names.after.place_title(split_address(operation.at)[0])
        return tr("Put a fuse of {amps:g} A into the holder: {place}", amps=operation.amps, place=place)
    return tr(
        "Put a fuse of {amps:g} A in for {at}, in place of the one of {old:g} A",
        amps=operation.amps,
        at=names.at(operation.at),
        old=printed,
    )


def _warning(names: Names, task: Task) -> str:
    """What must be known of an end that is tied back."""
    rule = task.step.why.rule
    if rule == _UNKNOWN_COVER:
        return tr("; what it is is not known: TREAT IT AS LIVE")
    if rule not in _LIVE_COVERS:
        return ""
    if not is_fed(names.after, str(task.wire)):
        return tr("; nothing feeds it any more: what it leads to is tied back as well")
    if not may_be_live(names.after, names.catalogue, str(task.wire)):
        if len(names.wire(str(task.wire)).ends) > 2:
            return tr("; its legs stay together: what lies beyond is joined through them")
        return tr("; nothing feeds it any more")
    if len(names.wire(str(task.wire)).ends) > 2:
        return tr("; IT STAYS LIVE, and its legs stay together: what lies beyond is fed through them")
    return tr("; IT STAYS LIVE")
