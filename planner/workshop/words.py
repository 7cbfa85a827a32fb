"""A step as a sentence for the bench."""

from collections.abc import Mapping, Sequence
from typing import Any

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
from planner.model.elements import Diode, Led, Stabiliser
from planner.model.loom import USUAL_INSULATION, split_address
from planner.model.reach import is_fed
from planner.model.wording import colour_words, mark_words, small
from planner.workshop.names import Names, end_words
from planner.workshop.tasks import Task, is_pull

_UNKNOWN_COVER = "unknown-end-without-home"
_LIVE_COVERS = ("live-end-without-home", "chain-end-without-home")


def words_of(names: Names, task: Task, fields: Mapping[str, Any]) -> str:
    """The sentence of a step with these fields."""
    operation = task.operation
    if isinstance(operation, ChangeSupply):
        return (
            f"Take the battery off: the vehicle becomes {operation.supply.words} (it was "
            f"{operation.old.words}). The battery goes on when every step is done, earthed post last; "
            "tag its place so"
        )
    if isinstance(operation, Remove):
        part = names.catalogue.parts[operation.place.part].title
        return f"Take out the {names.before.place_title(operation.at)}: {small(part)}"
    if isinstance(operation, Fit):
        return _fit(names, operation)
    if isinstance(operation, Move):
        here = split_address(operation.was)[0] == split_address(operation.to)[0]
        to = mark_words(split_address(operation.to)[1]) if here else names.at(operation.to)
        return f"Move {names.named(operation.wire, operation.end)} from {names.at(operation.was)} to {to}"
    if isinstance(operation, Add):
        return _new_wire(names, task, operation, fields)
    if isinstance(operation, Cover):
        if operation.wire is None:
            return f"Cover the bare terminal {names.at(operation.at)}"
        named = names.named(operation.wire, operation.end or 0)
        was_on = names.at(operation.at)
        return f"Insulate and tie back {named} that was on {was_on}; tag it{_warning(names, task)}"
    if isinstance(operation, Cut):
        return (
            f"Cut the terminal off {names.named(operation.wire, operation.end)} that was on "
            f"{names.at(operation.was)}, and join its two legs in an insulated joiner: what lies beyond is "
            "fed through them"
        )
    if isinstance(operation, Piggyback):
        return f"Fit a piggyback push-on terminal on {names.at(operation.at)}"
    if isinstance(operation, Join):
        ends = " and ".join(names.named(w, n) for w, n, _ in operation.ends)
        return f"Join {ends} in an insulated joiner"
    if isinstance(operation, ReEnd):
        named = names.named(operation.wire, operation.end)
        return f"Re-end {named} with {end_words(operation.fitting)} for {names.at(operation.at)}"
    if isinstance(operation, Extend):
        return f"Lengthen {names.named(operation.wire, operation.end)} by {operation.metres:g} m"
    if isinstance(operation, Insert):
        part = names.catalogue.parts[operation.place.part].title
        named = names.named(operation.wire, operation.end)
        text = f"Put {_with_article(small(part))} into {named} at {names.at(operation.was)}"
        return text + _way_round(names, operation)
    if isinstance(operation, ChangeFuse):
        printed = fields["old_amps"]
        if printed is None:
            place = names.after.place_title(split_address(operation.at)[0])
            return f"Put a fuse of {operation.amps:g} A into the holder: {place}"
        old = f"in place of the one of {printed:g} A"
        return f"Put a fuse of {operation.amps:g} A in for {names.at(operation.at)}, {old}"
    if isinstance(operation, Renew):
        return _thicker(names, operation, fields)
    assert isinstance(operation, Hold)
    held = names.named(operation.wire, operation.end)
    return f"Take {held} off {names.at(operation.at)}, insulate it and keep it aside"


def _fit(names: Names, operation: Fit) -> str:
    parts = names.catalogue.parts
    how = "" if operation.place.mounting == "metal" else f" ({operation.place.mounting} mounting)"
    if operation.over is not None and operation.over.part != operation.place.part:
        how = f" in place of {small(parts[operation.over.part].title)}{how}"
    stay = names.staying(operation.at)
    same = f"; on the same terminals: {', '.join(stay)}" if stay else ""
    # A place of the plan's own is what sits there.
    is_known = operation.at in names.work.swapped or operation.at in names.before.places
    where = "at" if is_known else "as"
    part = small(parts[operation.place.part].title)
    return f"Fit {where} {names.after.place_title(operation.at)}: {part}{how}{same}"


def _new_wire(names: Names, task: Task, operation: Add, fields: Mapping[str, Any]) -> str:
    if "fittings" not in fields:
        named = f"{colour_words(fields['colour'])} wire ({fields['wire']})"
        if _is_pulled(names, task):
            return f"Crimp the end of the {named} for {names.at(fields['at'])}, and put it on"
        return f"Put the other end of the {named} on {names.at(fields['at'])}"
    ends = " and ".join(end_words(f) for f in fields["fittings"])
    beside = f", with the bundle {fields['bundle']!r}" if "bundle" in fields else ""
    made = "Use the finished lead" if fields["from_stock"] else "Make"
    tag = "; tag it for removal" if operation.tagged else ""
    if is_pull(task, names.work.tasks):
        tag += "; it goes behind trim: leave a draw cord, pull it through, and crimp its ends only then"
    elif task.end is not None:
        tag += f"; put it on at the {names.title(task.at)} now, its other end later"
    return (
        f"{made} {fields['wire']}: {colour_words(fields['colour'])}, {fields['mm2']:g} mm2, "
        f"{fields['metres']:g} m, {ends}, "
        f"from {names.at(fields['from'])} to {names.at(fields['to'])}{beside}{tag}"
    )


def _is_pulled(names: Names, task: Task) -> bool:
    """Whether the wire was pulled through before either of its ends went on."""
    tasks = names.work.tasks
    return any(other.step is task.step and is_pull(other, tasks) for other in tasks)


def _thicker(names: Names, operation: Renew, fields: Mapping[str, Any]) -> str:
    word = names.wire(operation.wire).insulation or names.before.insulation or USUAL_INSULATION
    kind = "" if word == USUAL_INSULATION else f", insulated with {word} or better"
    ends = " and ".join(end_words(f) for f in fields["fittings"])
    return (
        f"Lay a thicker wire in place of {names.named(operation.wire, operation.first)} from "
        f"{names.at(fields['from'])} to {names.at(fields['to'])}: {colour_words(fields['colour'])}, "
        f"{fields['mm2']:g} mm2 for {_sizes(fields['old_mm2'])}{kind}, {fields['metres']:g} m, "
        f"{ends}; draw the old one out, or tie both its ends back and tag them"
    )


def _way_round(names: Names, operation: Insert) -> str:
    """Which side of a part in line faces which way, where current passes it one way only."""
    to = names.wire(operation.lead.wire).ends[-1].at
    _, leaves = split_address(operation.lead.ends[0].at)
    part = names.catalogue.parts[operation.place.part]
    if any(isinstance(element, Diode | Led | Stabiliser) for element in part.inside):
        earthed = any(terminal.by == "mounting" for terminal in part.terminals.values())
        metal = "; screwed to bare metal" if earthed else ""
        return f"; the wire on {operation.enters}, its lead from {leaves} to {names.at(to)}{metal}"
    return "" if to == operation.was else f"; its lead goes to {names.at(to)}"


def _warning(names: Names, task: Task) -> str:
    """What must be known of an end that is tied back."""
    rule = task.step.why.rule
    if rule == _UNKNOWN_COVER:
        return "; what it is is not known: TREAT IT AS LIVE"
    if rule not in _LIVE_COVERS:
        return ""
    if not is_fed(names.after, str(task.wire)):
        return "; nothing feeds it any more: what it leads to is tied back as well"
    legs = len(names.wire(str(task.wire)).ends) > 2
    return "; IT STAYS LIVE" + (
        ", and its legs stay together: what lies beyond is fed through them" if legs else ""
    )


def _sizes(mm2: Sequence[float]) -> str:
    """The sizes that a thicker wire takes the place of: ``1 and 1.5``."""
    return " and ".join(f"{size:g}" for size in sorted(set(mm2)))


def _with_article(noun: str) -> str:
    return f"{'an' if noun[:1] in 'aeiou' else 'a'} {noun}"
