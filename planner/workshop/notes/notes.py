"""What has to be known at a step besides what is done, and what it leaves for later."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Add, ChangeSupply, Fit, Insert, Move, ReEnd, Remove
from planner.model.loom import split_address
from planner.model.wording import mark_words, small
from planner.workshop.ends.batteries import other_clamp, turned_round
from planner.workshop.ends.later import is_in_line, joined_later
from planner.workshop.ends.meanwhile import off_meanwhile
from planner.workshop.ends.names import Names
from planner.workshop.ends.piggybacks import blades_left_free, come_off_with
from planner.workshop.ends.two_wires import has_two_wires
from planner.workshop.materials.bundled import bundle_words
from planner.workshop.materials.guarded import guard_words
from planner.workshop.notes.crowded import room_words
from planner.workshop.notes.drawn_back import drawn_back
from planner.workshop.notes.marked_plus import marked_plus
from planner.workshop.notes.meant_for_live import meant_for_live
from planner.workshop.notes.outputs import output_words
from planner.workshop.notes.reckoned import reckoned_words
from planner.workshop.notes.shared_fuse import shared_fuse
from planner.workshop.notes.timed import timing_words
from planner.workshop.tasks.posts import is_put_on
from planner.workshop.tasks.task import Task, is_pull
from planner.workshop.words.contacts import contact_words
from planner.workshop.words.fitted_words import fitted_words
from planner.workshop.words.joiner_words import joiner_notes
from planner.workshop.words.tank_words import tank_words


def notes(names: Names, task: Task) -> Iterator[str]:
    """Yield what has to be said with a step besides what is done."""
    operation = task.operation
    if isinstance(operation, ChangeSupply):
        yield from turned_round(operation)
    if isinstance(operation, Move):
        yield from other_clamp(names, operation)
    if isinstance(operation, Remove | Fit):
        yield from tank_words(names, operation)
    if isinstance(operation, Remove):
        yield from _off_meanwhile(names, task, operation)
        for at in come_off_with(names, operation):
            mark = mark_words(split_address(at)[1])
            yield tr("the piggyback on {mark} comes off with it: keep it for the way back", mark=mark)
    if tab := blades_left_free(names).get(names.number(task)):
        yield tr(
            "the piggyback stays on {at}: cap its free blade, for what feeds it is still there",
            at=names.at(tab),
        )
    if isinstance(operation, Fit | Insert):
        yield from fitted_words(names, operation)
    yield from reckoned_words(names, task)
    yield from drawn_back(names, task)
    if isinstance(operation, Add):
        yield from _other_goes(names, task)
    if isinstance(operation, Insert) and operation.wire in names.new_wires:
        yield _new_wire_on(names, operation)
    if isinstance(operation, ReEnd):
        yield from _goes_on_later(names, operation)
    yield from bundle_words(names, task)
    yield from guard_words(names, task)
    yield from timing_words(names, task)
    yield from room_words(names, task)
    yield from meant_for_live(names, task)
    yield from shared_fuse(names, task)
    yield from marked_plus(names, task)
    for at, step in joined_later(names, task).items():
        place = names.title(names.work.places.of(at))
        yield tr("its end at the {place} stays insulated until step {step} joins it", place=place, step=step)
    yield from joiner_notes(names, task)
    yield from output_words(names, task)
    yield from contact_words(names, task)
    if is_put_on(names.work, task, names.earthed_posts):
        yield tr(
            "the earthed post's lead goes on last, at first power: until then it lies beside the battery, "
            "with all that goes on with it"
        )


def _other_goes(names: Names, task: Task) -> Iterator[str]:
    """Yield in which steps the ends of a new wire go on that this one does not put on."""
    goes = [n for n, other in enumerate(names.ordered, 1) if other.step is task.step]
    steps = tr(" and ").join(tr("step {n}", n=n) for n in goes[1:])
    if not steps or names.number(task) != goes[0]:
        return
    if is_pull(task, names.ordered):
        yield tr("that is in {steps}", steps=steps)
    else:
        yield _first_goes(names, task, steps)


def _first_goes(names: Names, task: Task, steps: str) -> str:
    """Where the end of a new wire goes that is put on at once, if that is not simply a terminal."""
    at = names.wire(str(task.wire)).ends[task.end or 0].at
    place = split_address(at)[0]
    if at in names.joiners:
        return tr("put this end into the joiner now, its other end in {steps}", steps=steps)
    if is_in_line(names, place):
        part = small(names.catalogue.parts[names.after.places[place].part].title)
        return tr("put it on the {part} now, its other end in {steps}", part=part, steps=steps)
    here = names.title(task.at)
    return tr("put it on at the {place} now, its other end in {steps}", place=here, steps=steps)


def _new_wire_on(names: Names, insert: Insert) -> str:
    """In which step a new wire goes on a part in line."""
    puts_on = (
        number
        for number, task in enumerate(names.ordered, 1)
        if isinstance(task.operation, Add)
        and task.wire == insert.wire
        and task.end in (None, insert.end)
        and not is_pull(task, names.ordered)
    )
    return tr("a new wire goes on {mark} in step {step}", mark=mark_words(insert.enters), step=next(puts_on))


def _goes_on_later(names: Names, operation: ReEnd) -> Iterator[str]:
    """Yield in which step an end goes on what is not there yet: a joiner, a part in line."""
    step = names.goes_on_in(operation.wire, operation.end)
    if step is not None and operation.at in names.joiners:
        both = has_two_wires(names, operation.wire, operation.end)
        yield (
            tr("both go in in step {step}", step=step) if both else tr("it goes in in step {step}", step=step)
        )
    elif step is not None and is_in_line(names, split_address(operation.at)[0]):
        yield tr("it goes on in step {step}", step=step)


def _off_meanwhile(names: Names, task: Task, remove: Remove) -> Iterator[str]:
    """Yield which ends that come off with a part are insulated: one goes away before they go on."""
    off = [
        tr("{wire} until step {step}", wire=names.named(wire, end), step=step)
        for wire, end, step in off_meanwhile(names, task, remove)
    ]
    if off:
        yield tr("insulate at once what goes on later: {ends}", ends=", ".join(off))
