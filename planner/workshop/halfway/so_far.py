"""Where the ends of a vehicle are when some steps of a work are done, and what they end in."""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from planner.messages import tr
from planner.model.delta import Add, Fit, Insert, ReEnd, Renew
from planner.model.loom import split_address
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task, is_pull, puts_on, takes_off


class SoFar:
    """A work of which some steps are done, in whatever order."""

    def __init__(self, names: Names, done: AbstractSet[int]) -> None:
        self.names, self.done = names, done
        self._steps = tuple(enumerate(names.ordered, 1))
        self._did = [task for number, task in self._steps if number in done]

    def left(self) -> Iterator[tuple[int, Task]]:
        """Yield the steps that are left, by their numbers."""
        return ((number, task) for number, task in self._steps if number not in self.done)

    def addresses(self, wire: str, end: int) -> tuple[str, ...]:
        """Where an end is now, as far as that is an address, and where it is in the end."""
        before, after = self.names.before, self.names.after
        now = after if self._is_on(wire, end) else before
        found = (now.end_address(wire, end), after.end_address(wire, end))
        return tuple(at for at in found if at is not None)

    def where(self, wire: str, end: int) -> str:
        """Where an end is now, in words."""
        if self._is_on(wire, end):
            return tr("on {at}", at=self.names.at(self.names.wire(wire).ends[end].at))
        was = self.names.before.end_address(wire, end)
        if was is None:
            is_made = any(self._makes(task, wire) for task in self._did)
            return tr("not on yet") if is_made else tr("not made yet")
        if any(takes_off(task, wire, end, was) for task in self._did):
            return tr("off its terminal")
        return tr("on {at}", at=self.names.was_at(was))

    def fitting(self, wire: str, end: int) -> str | None:
        """What an end ends in now; None if nobody knows."""
        before = self.names.before
        if wire not in before.wire_index or any(
            isinstance(task.operation, ReEnd) and (task.operation.wire, task.operation.end) == (wire, end)
            for task in self._did
        ):
            own = self.names.wire(wire).ends[end]
            return own.fitting or self.names.usual_end(own.at)
        own = before.find(wire).ends[end]
        place, mark = split_address(own.at)
        part = self.names.catalogue.parts[before.places[place].part] if place in before.places else None
        usual = part.terminals[mark].usual_end if part and mark in part.terminals else None
        return own.fitting or usual

    def laid_anew_in(self, wire: str, ends: Sequence[int]) -> int | None:
        """The step that is left and lays a wire, or what is between some ends of it; None if none does."""
        for number, task in self.left():
            operation = task.operation
            if isinstance(operation, Add) and operation.wire.wire == wire:
                is_first = not any(self._makes(t, wire) for t in self._did)
                return number if is_first else None
            if isinstance(operation, Renew) and operation.wire == wire:
                is_all = operation.first <= min(ends) and max(ends) <= operation.last
                return number if is_all else None
        return None

    def _is_on(self, wire: str, end: int) -> bool:
        """Whether an end is where it is in the end."""
        before, after = self.names.before, self.names.after
        if wire not in before.wire_index:
            return any(self._puts_new_on(task, wire, end) for task in self._did)
        puts = [n for n, task in self._steps if puts_on(task, wire, end)]
        if puts:
            return puts[-1] in self.done
        place = split_address(after.end_address(wire, end) or "")[0]
        stays = {(move.wire, move.end) for move in self.names.work.stays.get(place, ())}
        if (wire, end) in stays:
            return any(
                isinstance(t.operation, Fit) and t.operation.at == place
                for n, t in self._steps
                if n in self.done
            )
        return after.end_address(wire, end) == before.end_address(wire, end)

    def _puts_new_on(self, task: Task, wire: str, end: int) -> bool:
        return self._makes(task, wire) and task.end in (None, end) and not is_pull(task, self.names.ordered)

    def _makes(self, task: Task, wire: str) -> bool:
        operation = task.operation
        if isinstance(operation, Insert):
            return operation.lead.wire == wire
        return isinstance(operation, Add) and operation.wire.wire == wire
