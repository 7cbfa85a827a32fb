"""Ends of wires whose other end nobody has seen: they go on nothing before a reading says what they are."""

from collections.abc import Iterator

from planner.model.delta import Fit, Move
from planner.workshop.names import Names
from planner.workshop.task import Task

_UNKNOWN = "unknown"


def put_on_unknown(names: Names, task: Task) -> Iterator[tuple[str, int, str]]:
    """Yield each such end that a task puts on a terminal, with that terminal's address."""
    operation = task.operation
    moves = names.work.stays.get(operation.at, ()) if isinstance(operation, Fit) else ()
    for move in (operation,) if isinstance(operation, Move) else moves:
        # Beside another wire it may only carry on what that one brings: the question is about both.
        is_alone = len(names.before.ends_at.get(move.was, ())) == 1
        if is_alone and any(end.at == _UNKNOWN for end in names.wire(move.wire).ends):
            yield move.wire, move.end, move.to
