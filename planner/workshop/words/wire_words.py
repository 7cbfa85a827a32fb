"""Steps about a wire that is made, laid anew, or has a part put into it, as sentences for the bench."""

from collections.abc import Mapping, Sequence
from typing import Any

from planner.messages import tr
from planner.model.delta import Add, Renew
from planner.model.loom import USUAL_INSULATION
from planner.model.measures import length_words
from planner.model.wording import colour_words, ends_words
from planner.workshop.ends.later import joined_later
from planner.workshop.ends.names import Names, end_words
from planner.workshop.tasks.task import Task, is_pull


def new_wire(names: Names, task: Task, operation: Add, fields: Mapping[str, Any]) -> str:
    """A new wire made, or its other end put on."""
    if "fittings" not in fields:
        named = tr("{colour} wire ({name})", colour=colour_words(fields["colour"]), name=fields["wire"])
        return _other_end(names, task, named, names.at(fields["at"]))
    values = {
        "wire": fields["wire"],
        "colour": colour_words(fields["colour"]),
        "size": names.size(fields["mm2"]),
        "length": length_words(fields["metres"]),
        "way": way_words(
            names.at(fields["from"]), names.at(fields["to"]), [end_words(f) for f in fields["fittings"]]
        ),
    }
    said = (
        tr("Use the finished lead {wire}: {colour}, {size}, {length}, {way}", **values)
        if fields["from_stock"]
        else tr("Make {wire}: {colour}, {size}, {length}, {way}", **values)
    )
    if "bundle" in fields:
        said = tr("{made}, with the bundle {bundle!r}", made=said, bundle=fields["bundle"])
    if operation.tagged:
        said = tr("{made}; tag it for removal", made=said)
    if is_pull(task, names.work.tasks):
        return tr(
            "{made}; it goes behind trim: leave a draw cord, pull it through, and crimp its ends only then",
            made=said,
        )
    return said


def way_words(first: str, last: str, ends: Sequence[str]) -> str:
    """From where to where a wire goes, and which terminal is at which end."""
    if len(set(ends)) == 1:
        return tr("{ends}, from {first} to {last}", ends=ends_words(ends), first=first, last=last)
    return tr(
        "from {first} ({at_first}) to {last} ({at_last})",
        first=first,
        at_first=ends[0],
        last=last,
        at_last=ends[-1],
    )


def _other_end(names: Names, task: Task, named: str, at: str) -> str:
    tasks = names.work.tasks
    if any(other.step is task.step and is_pull(other, tasks) for other in tasks):
        return tr("Crimp the end of the {wire} for {at}, and put it on", wire=named, at=at)
    if names.work.after.find(str(task.wire)).ends[task.end or 0].at in names.joiners:
        return tr("Put the other end of the {wire} into {joiner}", wire=named, joiner=at)
    return tr("Put the other end of the {wire} on {at}", wire=named, at=at)


def thicker(names: Names, task: Task, operation: Renew, fields: Mapping[str, Any]) -> str:
    """A thicker wire in place of an old one; of an end that is joined later only the place is told."""
    word = names.wire(operation.wire).insulation or names.before.insulation or USUAL_INSULATION
    size = tr("{new} for {old}", new=names.size(fields["mm2"]), old=_sizes(fields["old_mm2"]))
    if word != USUAL_INSULATION:
        size = tr("{size}, insulated with {insulation} or better", size=size, insulation=word)
    later = joined_later(names, task)
    first, last = (
        tr("the {place}", place=names.title(names.work.places.of(at))) if at in later else names.at(at)
        for at in (fields["from"], fields["to"])
    )
    return tr(
        "Lay a thicker wire in place of {wire}: {colour}, {size}, {length}, {way}; draw the old one out, or "
        "tie both its ends back and tag them",
        wire=names.named(operation.wire, operation.first),
        colour=colour_words(fields["colour"]),
        size=size,
        length=length_words(fields["metres"]),
        way=way_words(first, last, [end_words(f) for f in fields["fittings"]]),
    )


def _sizes(mm2: Sequence[float]) -> str:
    """The sizes that a thicker wire takes the place of: ``1 and 1.5``."""
    return tr(" and ").join(f"{size:g}" for size in sorted(set(mm2)))
