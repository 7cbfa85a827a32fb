"""A new generator's output by way of an ammeter that ends below it: said at the step that joins the two."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Add, Fit, Join, Move, Operation, Renew
from planner.model.outputs import ammeters_too_small
from planner.model.reach import conductor
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def output_words(names: Names, task: Task) -> Iterator[str]:
    """Yield what holds after the last step that has to do with such a way."""
    for place in names.work.swapped:
        for small in ammeters_too_small(names.after, names.catalogue.parts, place):
            way = set(conductor(names.after, small.output))
            on_it = [other for other in names.ordered if _goes_on(names, other.operation) & way]
            if on_it and on_it[-1] is task:
                yield tr(
                    "do not start the engine before the {ammeter} is out of the way or another is in its "
                    "place (first page): it ends at {end:g} A, the {generator} gives up to {most:g} A",
                    ammeter=names.after.place_title(small.place),
                    end=small.gauge.full_scale_amps,
                    generator=names.after.place_title(place),
                    most=small.most_amps,
                )


def _goes_on(names: Names, operation: Operation) -> set[str]:
    """Where a step puts ends."""
    if isinstance(operation, Fit):
        return {move.to for move in names.work.stays.get(operation.at, ())}
    if isinstance(operation, Move):
        return {operation.to}
    if isinstance(operation, Join):
        return {operation.joint}
    if isinstance(operation, Renew):
        return set(operation.ends)
    return {end.at for end in operation.wire.ends} if isinstance(operation, Add) else set()
