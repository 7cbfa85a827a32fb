"""Steps that put another terminal on an end of an old wire, or lengthen it, as sentences for the bench."""

from planner.messages import tr
from planner.model.delta import Extend, ReEnd
from planner.model.joiners import BARE
from planner.model.loom import split_address
from planner.model.measures import length_words
from planner.model.wording import colour_words, small
from planner.workshop.ends.crimps import (
    PLAIN,
    crimp_mm2,
    fitting_like_the_old,
    is_on_stud,
    re_ends,
)
from planner.workshop.ends.later import is_in_line
from planner.workshop.ends.names import Names, end_words
from planner.workshop.ends.two_wires import has_two_wires, where_both_lead
from planner.workshop.tasks.task import Task, takes_off
from planner.workshop.words.joiner_words import joiner_kind


def re_ended(names: Names, task: Task, operation: ReEnd) -> str:
    """Another terminal on an end, or none; what comes later is told without its place."""
    wire, end = names.named(operation.wire, operation.end), end_words(operation.fitting)
    place = split_address(operation.at)[0]
    if operation.at in names.joiners:
        goal = tr("a joiner")
    elif is_in_line(names, place):
        goal = tr("the {part}", part=small(names.catalogue.parts[names.after.places[place].part].title))
    else:
        goal = names.at(operation.at)
    is_bare = operation.fitting == BARE
    strip = tr("strip the end")
    if has_two_wires(names, operation.wire, operation.end):
        lead = where_both_lead(names, operation.wire, operation.end)
        strip = tr("strip both its wires ({lead})", lead=lead)
    areas = names.wire(operation.wire).areas_at(operation.end)
    if len(areas) > 1 and is_on_stud(names, operation):
        end = tr("{end} on each of its two wires,", end=end)
    elif len(areas) > 1 and not is_bare:
        size = names.size(crimp_mm2(names, areas))
        end = tr("{end} for {size}, both its wires in one crimp,", end=end, size=size)
    if _is_lengthened(names, operation):  # the old terminal is gone
        if is_bare:
            return tr("Strip the new end of {wire}, for {goal}", wire=wire, goal=goal)
        return tr("Crimp {end} on the new end of {wire}, for {at}", wire=wire, end=end, at=goal)
    if was := _comes_off(names, task, operation):
        if is_bare:
            return tr(
                "Take {wire} off {was}, cut its old terminal off and {strip}, for {goal}",
                wire=wire,
                was=was,
                strip=strip,
                goal=goal,
            )
        return tr(
            "Take {wire} off {was} and re-end it with {end} for {at}", wire=wire, was=was, end=end, at=goal
        )
    if is_bare:
        return tr(
            "Cut the old terminal off {wire} and {strip}, for {goal}", wire=wire, strip=strip, goal=goal
        )
    return tr("Re-end {wire} with {end} for {at}", wire=wire, end=end, at=goal)


def lengthened(names: Names, task: Task, operation: Extend) -> str:
    """A piece of wire joined on in place of the old terminal, and the terminal at its far end."""
    wire = names.named(operation.wire, operation.end)
    record = names.wire(operation.wire)
    pieces = (
        tr("{colour}, {size}", colour=colour_words(record.leg_colour(n)), size=names.size(record.leg_mm2(n)))
        for n in record.legs_at(operation.end)
    )
    values = {"length": length_words(operation.metres), "pieces": tr(" and one of ").join(pieces)}
    length = tr("{length} with a piece of {pieces}", **values)
    joiner = joiner_kind(names, operation.at)
    if was := _comes_off(names, task, operation):
        said = tr(
            "Take {wire} off {was}, cut its old terminal off, and lengthen it by {length}, joined in "
            "{joiner}",
            wire=wire,
            was=was,
            length=length,
            joiner=joiner,
        )
    else:
        said = tr(
            "Cut the old terminal off {wire}, and lengthen it by {length}, joined in {joiner}",
            joiner=joiner,
            wire=wire,
            length=length,
        )
    if not re_ends(names, operation.wire, operation.end):
        if fitting_like_the_old(names, operation.wire, operation.end) in PLAIN:
            return tr("{lengthened}; strip its new end: it goes on bare, without a terminal", lengthened=said)
        return tr("{lengthened}; crimp an end like the old one on its new end", lengthened=said)
    return said


def _is_lengthened(names: Names, operation: ReEnd) -> bool:
    """Whether the end is that of a piece which lengthens its wire."""
    return any(
        isinstance(o, Extend) and (o.wire, o.end) == (operation.wire, operation.end)
        for o in (t.operation for t in names.ordered)
    )


def _comes_off(names: Names, task: Task, operation: ReEnd | Extend) -> str:
    """Where an end is until this step takes it off; empty if it is off already."""
    was = names.before.end_address(operation.wire, operation.end)
    if was is None or split_address(was)[0] in ("loose", "unknown"):
        return ""
    first = next(t for t in names.ordered if takes_off(t, operation.wire, operation.end, was))
    return names.was_at(was) if first is task else ""
