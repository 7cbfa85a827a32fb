"""New wires to a part in a new place: measured before the first is cut, for their lengths are reckoned."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Add, Fit, Insert
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def reckoned_words(names: Names, task: Task) -> Iterator[str]:
    """Yield that wires are measured, where the part goes in or, if that is sooner, where one is made."""
    number = names.number(task)
    for fitted, other in enumerate(names.ordered, 1):
        fit = other.operation
        if not isinstance(fit, Fit) or fit.at in names.before.places:
            continue
        wires = {wire for wire, _, _ in names.after.ends_of_place(fit.at) if wire in names.new_wires}
        if not wires:
            continue
        first = min(_made_in(names, wire) for wire in wires)
        if number == fitted < first:
            yield tr("measure its new wires along their ways before you cut them: their lengths are reckoned")
        elif number == first < fitted:
            yield tr(
                "find a place for the {place} first, and measure every new wire that goes to it along its "
                "way before you cut it: the lengths are reckoned",
                place=names.after.place_title(fit.at),
            )


def _made_in(names: Names, wire: str) -> int:
    """The step in which a new wire is made."""
    return next(
        number
        for number, operation in enumerate((task.operation for task in names.ordered), 1)
        if (isinstance(operation, Add) and operation.wire.wire == wire)
        or (isinstance(operation, Insert) and operation.lead.wire == wire)
    )
