"""The joiners that a work makes, and the steps that put ends into each."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.model.delta import Add, Cut, Fit, Insert, Join, Move, Operation, Renew
from planner.model.joiners import BARE, is_new_joiner, stud_mm2
from planner.model.loom import split_address
from planner.model.part import Part
from planner.workshop.tasks.task import Task, is_pull
from planner.workshop.tasks.tasks import Work


@dataclass(frozen=True, slots=True)
class Joiner:
    """A joiner: how many ends it takes, and the steps that put them in."""

    ways: int
    steps: tuple[int, ...]
    stud_mm2: float | None  # its thickest wire, where it has to be a stud


def new_joiners(work: Work, ordered: Sequence[Task]) -> Mapping[str, Joiner]:
    """The joiners of a work by their addresses, without those that a cut leaves in a wire."""
    after = work.after
    cuts = {task.operation.joint for task in ordered if isinstance(task.operation, Cut)}
    steps: dict[str, list[int]] = {}
    for number, task in enumerate(ordered, 1):
        for at in dict.fromkeys(_into(work, task, ordered)):
            steps.setdefault(at, []).append(number)
    found = {}
    for at, ends in after.ends_at.items():
        if is_new_joiner(work.before, at) and at not in cuts and at in steps:
            stud = stud_mm2(after, at)
            # Each wire goes into a joiner, two of the middle of a chain; so does each ring on a stud.
            wires = sum(len(after.find(wire).areas_at(end)) for wire, end in ends)
            found[at] = Joiner(wires, tuple(steps[at]), stud)
    return found


def leads_joined(
    work: Work, ordered: Sequence[Task], parts: Mapping[str, Part]
) -> Mapping[int, tuple[str, ...]]:
    """The terminals that are leads of a part's own, each with the step that first joins an end to it."""
    found: dict[str, int] = {}
    for number, task in enumerate(ordered, 1):
        for at in (*_into(work, task, ordered), *_on_leads(work, task)):
            place, mark = split_address(at)
            fitted = work.after.places.get(place)
            terminal = parts[fitted.part].terminals.get(mark) if fitted else None
            if terminal and terminal.fitting == BARE and terminal.by == "wire":
                found.setdefault(at, number)
    return {n: tuple(at for at, first in found.items() if first == n) for n in found.values()}


def _on_leads(work: Work, task: Task) -> Iterator[str]:
    """Yield where ends go on along with something else: with a part, in line, on a wire laid anew."""
    operation = task.operation
    if isinstance(operation, Fit):
        yield from (move.to for move in work.stays.get(operation.at, ()))
    elif isinstance(operation, Insert):
        yield f"{operation.at}:{operation.enters}"
        yield work.after.find(operation.lead.wire).ends[0].at
    elif isinstance(operation, Renew):
        yield from operation.ends


def _into(work: Work, task: Task, ordered: Sequence[Task]) -> Iterator[str]:
    """Yield where a task puts ends."""
    operation: Operation
    for operation in (task.operation, *task.along):
        if isinstance(operation, Join):
            yield operation.joint
        elif isinstance(operation, Move):
            yield operation.to
        elif isinstance(operation, Insert):
            yield work.after.find(operation.lead.wire).ends[-1].at
        elif isinstance(operation, Add) and not is_pull(task, ordered):
            ends = work.after.find(operation.wire.wire).ends
            yield from (end.at for n, end in enumerate(ends) if task.end in (None, n))
