"""The posts of a battery: what goes on the earthed one joins the battery to the vehicle."""

from collections.abc import Mapping

from planner.model.delta import Add, Fit, Insert, Move
from planner.model.elements import Source
from planner.model.loom import Loom
from planner.model.part import Part
from planner.workshop.tasks.task import Task, is_pull
from planner.workshop.tasks.tasks import Work


def earthed_posts(loom: Loom, parts: Mapping[str, Part]) -> frozenset[str]:
    """The earthed post of each battery that is fitted."""
    return frozenset(
        f"{place}:{element.between[1]}"
        for place, fitted in loom.places.items()
        for element in parts[fitted.part].inside
        if isinstance(element, Source) and not element.when
    )


def is_put_on(work: Work, task: Task, addresses: frozenset[str]) -> bool:
    """Whether a task puts an end on one of some addresses; with a part go the ends that stay on it."""
    operation = task.operation
    if isinstance(operation, Move):
        return operation.to in addresses
    if isinstance(operation, Fit):
        return any(move.to in addresses for move in work.stays.get(operation.at, ()))
    if isinstance(operation, Insert):
        return work.after.find(operation.lead.wire).ends[-1].at in addresses
    if not isinstance(operation, Add) or is_pull(task, work.tasks):
        return False
    ends = work.after.find(operation.wire.wire).ends
    return any(task.end in (None, n) and end.at in addresses for n, end in enumerate(ends))
