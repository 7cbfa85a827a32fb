"""The way back, as a person goes it: what was done is undone, the last first."""

from collections.abc import Sequence

from planner.model.loom import Loom
from planner.workshop.papers.replay import Done


def undo(done: Sequence[Done], loom: Loom) -> Loom:
    """The vehicle when all that was done is taken back."""
    for one in reversed(done):
        for operation in reversed(one.operations):
            loom = operation.undo(loom)
    return loom
