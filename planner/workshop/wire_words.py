"""Steps about a wire that is made, laid anew, or has a part put into it, as sentences for the bench."""

from collections.abc import Mapping, Sequence
from typing import Any

from planner.messages import tr
from planner.model.delta import Add, Insert, Renew
from planner.model.elements import Diode, Led, Stabiliser
from planner.model.loom import USUAL_INSULATION, split_address
from planner.model.measures import length_words
from planner.model.wording import colour_words, ends_words, small
from planner.workshop.names import Names, end_words
from planner.workshop.tasks import Task, is_pull


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
        "ends": ends_words([end_words(f) for f in fields["fittings"]]),
        "first": names.at(fields["from"]),
        "last": names.at(fields["to"]),
    }
    said = (
        tr(
            "Use the finished lead {wire}: {colour}, {size}, {length}, {ends}, from {first} to {last}",
            **values,
        )
        if fields["from_stock"]
        else tr("Make {wire}: {colour}, {size}, {length}, {ends}, from {first} to {last}", **values)
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
    if task.end is not None:
        place = names.title(task.at)
        return tr("{made}; put it on at the {place} now, its other end later", made=said, place=place)
    return said


def _other_end(names: Names, task: Task, named: str, at: str) -> str:
    tasks = names.work.tasks
    if any(other.step is task.step and is_pull(other, tasks) for other in tasks):
        return tr("Crimp the end of the {wire} for {at}, and put it on", wire=named, at=at)
    return tr("Put the other end of the {wire} on {at}", wire=named, at=at)


def thicker(names: Names, operation: Renew, fields: Mapping[str, Any]) -> str:
    """A thicker wire in place of an old one."""
    word = names.wire(operation.wire).insulation or names.before.insulation or USUAL_INSULATION
    size = tr("{new} for {old}", new=names.size(fields["mm2"]), old=_sizes(fields["old_mm2"]))
    if word != USUAL_INSULATION:
        size = tr("{size}, insulated with {insulation} or better", size=size, insulation=word)
    return tr(
        "Lay a thicker wire in place of {wire} from {first} to {last}: {colour}, {size}, {length}, "
        "{ends}; draw the old one out, or tie both its ends back and tag them",
        wire=names.named(operation.wire, operation.first),
        first=names.at(fields["from"]),
        last=names.at(fields["to"]),
        colour=colour_words(fields["colour"]),
        size=size,
        length=length_words(fields["metres"]),
        ends=ends_words([end_words(f) for f in fields["fittings"]]),
    )


def inserted(names: Names, operation: Insert) -> str:
    """A part put into a wire, and which way round where current passes it one way only."""
    part = names.catalogue.parts[operation.place.part]
    said = tr(
        "Put {part} into {wire} at {at}",
        part=_with_article(small(part.title)),
        wire=names.named(operation.wire, operation.end),
        at=names.at(operation.was),
    )
    to = names.wire(operation.lead.wire).ends[-1].at
    if not any(isinstance(element, Diode | Led | Stabiliser) for element in part.inside):
        return said if to == operation.was else tr("{put}; its lead goes to {at}", put=said, at=names.at(to))
    _, leaves = split_address(operation.lead.ends[0].at)
    said = tr(
        "{put}; the wire on {enters}, its lead from {leaves} to {at}",
        put=said,
        enters=operation.enters,
        leaves=leaves,
        at=names.at(to),
    )
    if any(terminal.by == "mounting" for terminal in part.terminals.values()):
        return tr("{put}; screwed to bare metal", put=said)
    return said


def _sizes(mm2: Sequence[float]) -> str:
    """The sizes that a thicker wire takes the place of: ``1 and 1.5``."""
    return tr(" and ").join(f"{size:g}" for size in sorted(set(mm2)))


def _with_article(noun: str) -> str:
    return tr("an {noun}", noun=noun) if noun[:1] in "aeiou" else tr("a {noun}", noun=noun)
