"""The tasks of a work by what they do: which terminals an end comes on, and which it leaves."""

from collections.abc import Iterator

from planner.model.delta import Add, Cover, Cut, Fit, Hold, Insert, Join, Move, Remove, Renew
from planner.workshop.tasks import Task, Work, is_pull


class TaskTable:
    """The tasks by what they do, each with its number."""

    def __init__(self, work: Work) -> None:
        self.work = work
        self.tasks = list(enumerate(work.tasks))
        self.removed = {t.operation.at: n for n, t in self.tasks if isinstance(t.operation, Remove)}
        self.fitted = {t.operation.at: n for n, t in self.tasks if isinstance(t.operation, Fit)}
        self.held = {
            (t.operation.wire, t.operation.end): n for n, t in self.tasks if isinstance(t.operation, Hold)
        }
        self.arrivals = [(n, at) for n, t in self.tasks for at in self._arrives(t)]
        self.leavings = [(n, at) for n, t in self.tasks for at in self._leaves(t)]

    def _arrives(self, task: Task) -> Iterator[str]:
        """Yield the terminals on which a task puts an end."""
        operation = task.operation
        if isinstance(operation, Move):
            yield operation.to
        elif isinstance(operation, Add) and not is_pull(task, self.work.tasks):
            ends = self.work.after.find(operation.wire.wire).ends
            yield from (e.at for n, e in enumerate(ends) if task.end in (None, n))
        elif isinstance(operation, Renew):
            yield from operation.ends
        elif isinstance(operation, Insert):
            yield from (at for at in [self._lead_goes_to(operation)] if at != operation.was)

    def _leaves(self, task: Task) -> Iterator[str]:
        """Yield the terminals that a task takes an end off."""
        operation = task.operation
        if isinstance(operation, Move):
            if (operation.wire, operation.end) not in self.held:
                yield operation.was
        elif isinstance(operation, Hold) or (isinstance(operation, Cover) and operation.wire is not None):
            yield operation.at
        elif isinstance(operation, Cut):
            yield operation.was
        elif isinstance(operation, Insert):
            yield from (at for at in [operation.was] if at != self._lead_goes_to(operation))
        elif isinstance(operation, Join):
            yield from operation.addresses

    def _lead_goes_to(self, operation: Insert) -> str:
        """Where the lead of a part in line goes: as a rule to where the end was."""
        return self.work.after.find(operation.lead.wire).ends[-1].at
