"""What a step leaves for later, said with it: ends that are off meanwhile, joiners that fill up, fuses."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Add, ChangeFuse, Fit, Insert, ReEnd, Remove
from planner.model.elements import Fuse
from planner.model.fitted_fuse import fused_side
from planner.model.loom import Place, split_address
from planner.model.wording import mark_words, small
from planner.workshop.crimps import is_wet
from planner.workshop.crowded import room_words
from planner.workshop.guarded import guard_words
from planner.workshop.later import is_in_line, joined_later
from planner.workshop.meant_for_live import meant_for_live
from planner.workshop.meanwhile import off_meanwhile
from planner.workshop.names import Names
from planner.workshop.old_fuses import grown_fuses
from planner.workshop.piggybacks import blades_left_free, come_off_with
from planner.workshop.posts import is_put_on
from planner.workshop.tank_words import tank_words
from planner.workshop.task import Task, is_pull


def notes(names: Names, task: Task) -> Iterator[str]:
    """Yield what has to be said with a step besides what is done."""
    operation = task.operation
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
    if isinstance(operation, Fit) and is_earthed_by_fixing(names, operation.place):
        yield tr("bare metal under its fixing, which is its earth")
    if isinstance(operation, Fit | Insert) and (
        things := names.catalogue.parts[operation.place.part].fitted_with
    ):
        yield tr("with it goes what belongs to it: {things}", things=", ".join(things))
    if isinstance(operation, Fit) and (grown := grown_fuses(names, operation.at)):
        yield tr(
            "fuses that carry more than before ({fuses}): the wire behind each was computed for it, and what "
            "does not stand it is told on the first page",
            fuses=grown,
        )
    if isinstance(operation, Fit | Insert):
        yield from _fuses_stay_out(names, operation.at, operation.place)
    if isinstance(operation, Add):
        yield from _other_goes(names, task)
    if isinstance(operation, Insert) and operation.wire in names.new_wires:
        yield _new_wire_on(names, operation)
    if isinstance(operation, ReEnd):
        yield from _goes_on_later(names, operation)
    yield from guard_words(names, task)
    yield from room_words(names, task)
    yield from meant_for_live(names, task)
    for at, step in joined_later(names, task).items():
        place = names.title(names.work.places.of(at))
        yield tr("its end at the {place} stays insulated until step {step} joins it", place=place, step=step)
    for at in names.leads_joined.get(names.number(task), ()):
        yield _on_a_lead(names, at)
    yield from _joiner(names, names.number(task))
    if is_put_on(names.work, task, names.earthed_posts):
        yield tr("the earthed post's lead goes on last, at first power: until then it stays off")


def _on_a_lead(names: Names, at: str) -> str:
    """How the end of a wire meets a lead that a part has in place of a terminal."""
    ends = names.after.ends_at[at]
    wires = sum(len(names.after.find(wire).areas_at(end)) for wire, end in ends)
    mark = mark_words(split_address(at)[1])
    said = tr(
        "{mark} is a lead of the part: cut off what is on the end of the wire, strip the ends, and crimp one "
        "joiner over all of them, {ways} in all",
        mark=mark,
        ways=wires + 1,
    )
    if is_wet(names, at):
        return tr("{joined}; shrink its glue only when the meter pages have passed", joined=said)
    return said


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
        yield tr("it goes in in step {step}", step=step)
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


def is_earthed_by_fixing(names: Names, place: Place) -> bool:
    """Whether a part has its earth where it is screwed on, and there alone."""
    part = names.catalogue.parts[place.part]
    by_fixing = any(terminal.by == "mounting" for terminal in part.terminals.values())
    return by_fixing and place.mounting == "metal" and not part.must_not_be_earthed


def _fuses_stay_out(names: Names, at: str, place: Place) -> Iterator[str]:
    """Yield that a new part is put in without its fuses: they go in one by one, at first power."""
    left = fuses_left(names, at, place)
    if len(left) > 1:
        yield tr("its fuses stay out until first power")
    elif left:
        yield tr("its fuse stays out until first power")


def fuses_left(names: Names, at: str, place: Place) -> list[Fuse]:
    """The fuses that a new part takes, without those in place of which a step lays another ready."""
    fuses = [e for e in names.catalogue.parts[place.part].inside if isinstance(e, Fuse)]
    others = {t.operation.at for t in names.ordered if isinstance(t.operation, ChangeFuse)}
    return [fuse for fuse in fuses if fused_side(at, fuse) not in others]


def _joiner(names: Names, number: int) -> Iterator[str]:
    """Yield what a joiner takes when the first end goes in, and that it is closed when the last is in."""
    for joiner in names.joiners.values():
        first, last = joiner.steps[0], joiner.steps[-1]
        if first == last:
            continue
        if number == first and joiner.stud_mm2:
            yield tr(
                "this joiner is new: an M6 stud under a cover, for {ways} rings, its nut on in step {step}",
                ways=joiner.ways,
                step=last,
            )
        elif number == first:
            yield tr(
                "this joiner is new: it takes {ways} wires and is closed when all are in, in step {step}",
                ways=joiner.ways,
                step=last,
            )
        elif number == last:
            yield tr("all {ways} are in: close the joiner, and tug at each", ways=joiner.ways)
