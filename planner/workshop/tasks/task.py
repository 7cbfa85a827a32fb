"""One thing to do at one place."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.model.delta import (
    Add,
    Cover,
    Cut,
    Extend,
    Hold,
    Insert,
    Join,
    Move,
    Operation,
    Reason,
    ReEnd,
    Remove,
    Renew,
    Step,
)
from planner.model.loom import split_address


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do at one place; ``end`` is the end of a new wire that it puts on, if it is one of two."""

    step: Step
    at: str
    end: int | None = None
    made: Step | None = None  # how its new wire is made
    more_why: tuple[Reason, ...] = ()  # of what is done along with it, or to its new wire's ends
    along: tuple[Operation, ...] = ()  # done along with it: the ends of a wire that is laid anew

    @property
    def operation(self) -> Operation:
        """What is done to the loom."""
        return self.step.operation

    @property
    def wire(self) -> str | None:
        """The wire that it handles; None if it handles none, or several."""
        operation = self.operation
        return operation.wire.wire if isinstance(operation, Add) else getattr(operation, "wire", None)

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """Every reason of it, the first one first."""
        return (self.step.why, *((self.made.why,) if self.made else ()), *self.more_why)


def is_pull(task: Task, tasks: Sequence[Task]) -> bool:
    """Whether a task only pulls a wire through, and others put its ends on."""
    return (
        isinstance(task.operation, Add)
        and task.end is None
        and any(other.step is task.step and other.end is not None for other in tasks)
    )


def puts_on(task: Task, wire: str, end: int) -> bool:
    """Whether a task puts an end of an old wire where it goes: a terminal, a joiner, a part in line."""
    operations = (task.operation, *task.along)
    return any(
        (wire, end) in {(w, n) for w, n, _ in o.ends}
        if isinstance(o, Join)
        else isinstance(o, Move | Insert) and (o.wire, o.end) == (wire, end)
        for o in operations
    )


def takes_off(task: Task, wire: str, end: int, was: str) -> bool:
    """Whether a task takes an end of an old wire off the terminal on which it was before the work.

    Nobody crimps an end that is on its terminal, nor lengthens or lays anew a wire whose ends are on.
    """
    operation = task.operation
    if isinstance(operation, Remove):
        return split_address(was)[0] == operation.at
    if isinstance(operation, Join):
        return (wire, end) in {(w, n) for w, n, _ in operation.ends}
    if isinstance(operation, Renew):
        return operation.wire == wire and end in (operation.first, operation.last)
    kinds = (Hold, Cover, Cut, Move, Insert, ReEnd, Extend)
    return isinstance(operation, kinds) and (operation.wire, operation.end) == (wire, end)
