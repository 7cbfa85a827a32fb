"""How joiners are made and closed: insulated or sealed ones, studs, those on a lead that a part has."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Join, Move
from planner.model.loom import split_address
from planner.model.wording import mark_words
from planner.workshop.ends.crimps import PLAIN, fitting_like_the_old, is_wet, re_ends
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def joiner_kind(names: Names, address: str) -> str:
    """Which joiner is made at an address: where it gets wet a sealed one."""
    return tr("a sealed joiner") if is_wet(names, address) else tr("an insulated joiner")


def joiner_notes(names: Names, task: Task) -> Iterator[str]:
    """Yield what a step has to do with joiners besides putting an end in."""
    number = names.number(task)
    yield from _bare_already(names, task)
    for at in names.leads_joined.get(number, ()):
        yield _on_a_lead(names, at)
    for joiner in names.joiners.values():
        first, last = joiner.steps[0], joiner.steps[-1]
        if joiner.stud_mm2:
            yield from _stud(joiner.ways, number, first, last)
        elif first == last:
            continue
        elif number == first:
            yield tr(
                "this joiner is new: it takes {ways} wires and is closed when all are in, in step {step}",
                ways=joiner.ways,
                step=last,
            )
        elif number == last:
            yield tr("all {ways} are in: close the joiner, and tug at each", ways=joiner.ways)


def _bare_already(names: Names, task: Task) -> Iterator[str]:
    """Yield which ends go into a joiner as a screw held them: no step takes a terminal off these."""
    operation = task.operation
    if isinstance(operation, Join):
        ends = [(wire, end) for wire, end, _ in operation.ends]
        joint = operation.joint
    elif isinstance(operation, Move):
        ends, joint = [(operation.wire, operation.end)], operation.to
    else:
        return
    if joint not in names.joiners or names.joiners[joint].stud_mm2:
        return
    bare = [
        names.named(wire, end)
        for wire, end in ends
        if not re_ends(names, wire, end) and fitting_like_the_old(names, wire, end) in PLAIN
    ]
    if bare and len(ends) == 1:
        yield tr(
            "a screw held its end bare: cut back what is frayed (or a terminal, if one is on), strip anew"
        )
    elif bare:
        yield tr(
            "screws held {wires} bare: cut back what is frayed (or a terminal, if one is on), strip anew",
            wires=tr(" and ").join(bare),
        )


def _stud(ways: int, number: int, first: int, last: int) -> Iterator[str]:
    """Yield how a stud is fixed when its first ring goes on, and closed when the last is on."""
    foot = tr("screw its foot down near by, where nothing rubs or drips on it")
    if number == first != last:
        yield tr(
            "this joiner is new: an M6 stud under a cover, for {ways} rings, its nut on in step {step}",
            ways=ways,
            step=last,
        )
        yield foot
    elif number == first:
        yield tr("{foot}, its nut tight on a spring washer, its cover over it", foot=foot)
    elif number == last:
        yield tr("all {ways} rings are on: its nut tight on a spring washer, its cover over it", ways=ways)


def _on_a_lead(names: Names, at: str) -> str:
    """How the end of a wire meets a lead that a part has in place of a terminal."""
    ends = names.after.ends_at[at]
    wires = sum(len(names.after.find(wire).areas_at(end)) for wire, end in ends)
    mark = mark_words(split_address(at)[1])
    said = tr(
        "{mark} is a lead of the part: cut off what is on the end of the wire, strip the ends, and crimp one "
        "joiner over all of them, {ways} in all; a tip of the meter goes into its open end",
        mark=mark,
        ways=wires + 1,
    )
    if is_wet(names, at):
        return tr(
            "{joined}, so shrink its glue only when the meter pages have passed, the battery off again, all "
            "dry, and no fuel vapour about",
            joined=said,
        )
    return said
