"""Ends that come off with a part and go on at a later visit: they are insulated until then."""

from planner.model.delta import Cover, Cut, Fit, Hold, Remove
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def off_meanwhile(names: Names, task: Task, remove: Remove) -> list[tuple[str, int, int]]:
    """Each such end, by wire and number, with the step in which it goes on."""
    number = names.number(task)
    last = number
    while last < len(names.ordered) and names.ordered[last].at == task.at:
        last += 1
    covered: dict[tuple[str | None, int | None], int] = {}  # ends that a step of their own insulates
    for n, other in enumerate(names.ordered, 1):
        if isinstance(other.operation, Hold | Cover | Cut):
            covered[other.operation.wire, other.operation.end] = n
    fitted = next((n for n, t in enumerate(names.ordered, 1) if _fits(t, remove.at)), 0)
    stays = {(move.wire, move.end) for move in names.work.stays.get(remove.at, ())}
    off = []
    for wire, end, _ in names.before.ends_of_place(remove.at):
        on = covered.get((wire, end)) or (fitted if (wire, end) in stays else names.goes_on_in(wire, end))
        if on is not None and on > last:
            off.append((wire, end, on))
    return off


def _fits(task: Task, place: str) -> bool:
    return isinstance(task.operation, Fit) and task.operation.at == place
