"""What turns with the engine goes in as it came out, and is timed again: common practice, no source."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.breaker_points import timed_places
from planner.model.delta import Fit, Remove
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def timing_words(names: Names, task: Task) -> Iterator[str]:
    """Yield what is marked before a distributor with points comes out, and set once another is in."""
    operation = task.operation
    if not isinstance(operation, Fit | Remove):
        return
    if operation.at not in timed_places(names.before, names.catalogue.parts):
        return
    if isinstance(operation, Remove):
        yield tr(
            "before it comes out, turn the engine by hand to its timing mark, and mark how the rotor points "
            "and how the body sits; then turn the engine no more until the new part is in"
        )
    else:
        yield tr(
            "rotor and body to the marks; set the ignition timing by the engine's manual before it is driven"
        )
