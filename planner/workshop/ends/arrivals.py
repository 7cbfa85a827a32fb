"""Which ends a step puts on terminals, and which conductor of the loom before comes there with each."""

from collections.abc import Iterator

from planner.model.delta import Add, Move
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task, is_pull


def arrivals(names: Names, task: Task) -> Iterator[tuple[str, str]]:
    """Yield each terminal on which a task puts an end, with where the conductor was before the work."""
    operation = task.operation
    if isinstance(operation, Move):
        yield operation.to, operation.was
    elif isinstance(operation, Add) and not is_pull(task, names.ordered):
        ends = names.wire(operation.wire.wire).ends
        for number, end in enumerate(ends):
            if task.end in (None, number):
                yield from ((end.at, other.at) for n, other in enumerate(ends) if n != number)
