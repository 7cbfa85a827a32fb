"""An end that goes to another part of the vehicle and only by its own way reaches: drawn back first."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Extend, Move
from planner.model.loom import split_address
from planner.model.routes import wire_length
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task

A_LITTLE = 0.2  # metres of slack at an end, and more: ours (invented)


def drawn_back(names: Names, task: Task) -> Iterator[str]:
    """Yield that an end is drawn back out of the zone where its part was, and what if it does not reach."""
    operation = task.operation
    if not isinstance(operation, Move | Extend) or operation.wire not in names.before.wire_index:
        return
    of_this_end = [
        t.operation
        for t in names.ordered
        if isinstance(t.operation, Move | Extend)
        and (t.operation.wire, t.operation.end) == (operation.wire, operation.end)
    ]
    move = next((o for o in of_this_end if isinstance(o, Move)), None)
    if move is None or operation is not of_this_end[0]:
        return  # said once, at the first of them
    was = names.before.places.get(split_address(move.was)[0])
    now = names.after.places.get(split_address(move.to)[0])
    is_gone = was is not None and split_address(move.was)[0] not in names.after.places
    if was is None or now is None or not is_gone or was.zone == now.zone:
        return
    way, _ = wire_length(names.after, f"earth:{was.zone}", move.to)
    if any(isinstance(o, Extend) and o.metres > way - A_LITTLE for o in of_this_end):
        return  # it goes on from where it was
    zone = names.before.zones[was.zone].title or was.zone
    yield tr("draw it back out of the {zone}: so it is reckoned to reach; if not, lengthen it", zone=zone)
