"""What is not there yet when a step is done: joiners, parts that go in line."""

from collections.abc import Mapping

from planner.model.delta import Insert, Renew
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def is_in_line(names: Names, place: str) -> bool:
    """Whether a place is that of a part which the work puts in line with a wire."""
    return any(isinstance(t.operation, Insert) and t.operation.at == place for t in names.ordered)


def joined_later(names: Names, task: Task) -> Mapping[str, int]:
    """The joiners for which a wire that is laid anew has to wait, each with the step that joins it."""
    operation = task.operation
    if not isinstance(operation, Renew):
        return {}
    wire, number = names.wire(operation.wire), names.number(task)
    ends = [wire.ends[n].at for n in (operation.first, operation.last)]
    found = {at: names.joiners[at].steps[-1] for at in ends if at in names.joiners}
    return {at: step for at, step in found.items() if step > number}
