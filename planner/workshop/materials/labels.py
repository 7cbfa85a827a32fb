"""What stands on the label of each wire end that is worked on."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.messages import tr
from planner.model.bench_sheet import Label
from planner.model.delta import Add, ChangeSupply, Cover, Fit, Insert, Move, Operation, Remove, Renew
from planner.model.loom import split_address
from planner.model.wording import colour_words
from planner.workshop.ends.names import Names
from planner.workshop.ends.tied_back import live_words
from planner.workshop.ends.two_wires import has_two_wires
from planner.workshop.tasks.task import Task


def labels(names: Names, ordered: Sequence[Task]) -> tuple[Label, ...]:
    """One label for each end that is put on, moved, tied back, or comes off with an old part."""
    found: dict[tuple[str, int], Label] = {}
    others: list[Label] = []
    for number, task in enumerate(ordered, 1):
        operation = task.operation
        if isinstance(operation, Cover) and operation.wire is not None:
            ref = (operation.wire, operation.end or 0)
            step = found[ref].step if ref in found else number
            found[ref] = _tied_back(names, task, *ref, step)
            continue
        others += _other_tags(names, operation, number)
        for wire, end in _ends_worked_on(names, task):
            if (wire, end) not in found:
                label = _label(names, wire, end, number)
                is_bridge = isinstance(operation, Add) and operation.tagged
                found[wire, end] = replace(label, note=tr("comes out again")) if is_bridge else label
    return tuple(sorted((*found.values(), *others), key=lambda label: label.step))


def _other_tags(names: Names, operation: Operation, number: int) -> Iterator[Label]:
    """Yield what is tagged besides ends: the battery of a new supply, an old wire that may stay in."""
    if isinstance(operation, ChangeSupply):
        yield Label(tr("battery"), "", operation.supply.words, number)
    elif isinstance(operation, Renew) and operation.wire in names.before.wire_index:
        wire = names.before.find(operation.wire)
        for end in (operation.first, operation.last):
            at = tr("was on {at}", at=names.was_at(wire.ends[end].at))
            colour = colour_words(wire.leg_colour(operation.first))
            yield Label(wire.wire, colour, at, number, tr("old wire, if it is not drawn out"))


def _ends_worked_on(names: Names, task: Task) -> Iterator[tuple[str, int]]:
    operation = task.operation
    if isinstance(operation, Remove) or (isinstance(operation, Fit) and operation.over is not None):
        yield from ((wire, end) for wire, end, _ in names.before.ends_of_place(operation.at))
    elif isinstance(operation, Add | Insert):
        if isinstance(operation, Insert):
            yield operation.wire, operation.end
        wire = operation.wire.wire if isinstance(operation, Add) else operation.lead.wire
        yield from ((wire, end) for end in range(len(names.wire(wire).ends)))
    elif isinstance(operation, Move):
        yield operation.wire, operation.end
    elif isinstance(operation, Renew):
        yield from ((operation.wire, end) for end in (operation.first, operation.last))


def _label(names: Names, wire: str, end: int, step: int) -> Label:
    """The label of an end where it is when the work is done."""
    record = names.wire(wire)
    colour = colour_words(record.end_colour(end))
    now = record.ends[end]
    if split_address(now.at)[0] in ("loose", "unknown"):
        return Label(names.shown(wire), colour, tr("loose"), step, tr("tied back"))
    both = now.at in names.joiners and has_two_wires(names, wire, end)
    note = tr("on both its wires") if both else ""
    return Label(names.shown(wire), colour, names.at(now.at), step, note)


def _tied_back(names: Names, task: Task, wire: str, end: int, step: int) -> Label:
    """The label of an end that is tied back: where it was, and whether it stays live."""
    assert isinstance(task.operation, Cover)
    colour = colour_words(names.wire(wire).end_colour(end))
    at = tr("was on {at}", at=names.was_at(task.operation.at))
    live = live_words(names, task)
    note = f"{tr('tied back')}; {live}" if live else tr("tied back")
    return Label(names.shown(wire), colour, at, step, note)
