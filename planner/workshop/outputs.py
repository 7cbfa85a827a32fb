"""A new generator's output by way of an ammeter that ends below it: said at the step that joins the two."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Add, Fit, Join, Move, Operation, Renew
from planner.model.elements import Gauge, Source
from planner.model.loom import split_address
from planner.model.reach import conductor
from planner.workshop.names import Names
from planner.workshop.task import Task


def output_words(names: Names, task: Task) -> Iterator[str]:
    """Yield what holds after the last step that has to do with such a way."""
    for place in names.work.swapped:
        fitted = names.after.places.get(place)
        for element in names.catalogue.parts[fitted.part].inside if fitted else ():
            if not isinstance(element, Source) or not element.when or element.most_amps is None:
                continue
            way = conductor(names.after, f"{place}:{element.between[0]}")
            on_it = [other for other in names.ordered if _goes_on(names, other.operation) & set(way)]
            if on_it and on_it[-1] is task:
                yield from _too_small(names, way, names.after.place_title(place), element.most_amps)


def _too_small(names: Names, way: tuple[str, ...], generator: str, most_amps: float) -> Iterator[str]:
    for address in way:
        place, mark = split_address(address)
        fitted = names.after.places.get(place)
        for element in names.catalogue.parts[fitted.part].inside if fitted else ():
            if isinstance(element, Gauge) and mark in element.between and element.full_scale_amps < most_amps:
                yield tr(
                    "do not start the engine before the {ammeter} is out of the way or another is in its "
                    "place (first page): it ends at {end:g} A, the {generator} gives up to {most:g} A",
                    ammeter=names.after.place_title(place),
                    end=element.full_scale_amps,
                    generator=generator,
                    most=most_amps,
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
