"""Where one stands when something is done to the terminals of a place."""

from collections.abc import Iterator, Mapping

from planner.model.delta import Add, Insert
from planner.model.loom import split_address
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def stations(names: Names) -> Mapping[str, str]:
    """Each place whose terminals are worked on, with that at which it is done: its own, if one goes there.

    What is put in line is worked on where it is put in; the far end of a wire, where the wire is laid.
    """
    visited = {task.at for task in names.ordered}
    found: dict[str, str] = {}
    for task in names.ordered:
        for address in _worked_on(names, task):
            place = split_address(address)[0]
            if place in names.before.places or place in names.after.places:
                own = names.work.places.of(address)
                found.setdefault(place, own if own in visited else task.at)
    return found


def _worked_on(names: Names, task: Task) -> Iterator[str]:
    for operation in (task.operation, *task.along):
        yield from operation.addresses
        if isinstance(operation, Add):
            yield from (end.at for end in names.wire(operation.wire.wire).ends)
        elif isinstance(operation, Insert):
            yield operation.at
            yield from (end.at for end in names.wire(operation.lead.wire).ends)
