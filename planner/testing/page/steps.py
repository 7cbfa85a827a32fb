"""Which steps of the work list a test tests: those that put on the ends whose mistakes it shows."""

from collections.abc import Iterable, Sequence

from planner.model.delta import Add, EndRef, Fit, Join, Renew
from planner.model.loom import Loom
from planner.testing.mistakes.mistake import Kind, Mistake
from planner.workshop.tasks.task import Task

_OF_ONE_END: frozenset[Kind] = frozenset(("end off", "step forgotten", "earth missing"))


class StepsOf:
    """The numbers of the steps that put each end where it is."""

    def __init__(self, after: Loom, ordered: Sequence[Task]) -> None:
        self.after = after
        self._of: dict[EndRef, set[int]] = {}
        anew = {end for task in ordered if isinstance(task.operation, Renew) for end in self._ends(task)}
        for number, task in enumerate(ordered, 1):
            for end in self._ends(task):
                if not isinstance(task.operation, Fit) or end not in anew:
                    self._of.setdefault(end, set()).add(number)

    def _ends(self, task: Task) -> list[EndRef]:
        operation = task.operation
        if isinstance(operation, Fit):
            return [(wire, end) for wire, end, _ in self.after.ends_of_place(operation.at)]
        if isinstance(operation, Add):
            known = self.after.wire_index.get(operation.wire.wire)
            ends = range(len(self.after.wires[known].ends)) if known is not None else ()
            return [(operation.wire.wire, end) for end in ends if task.end in (None, end)]
        if isinstance(operation, Renew):  # an end with an old leg as well is put on where it was
            legs = range(operation.first, operation.last)
            last = len(self.after.find(operation.wire).ends) - 1
            ends = range(operation.first, operation.last + 1)
            whole = (n for n in ends if (n == 0 or n - 1 in legs) and (n == last or n in legs))
            return [(operation.wire, end) for end in whole]
        if isinstance(operation, Join):
            return [(wire, end) for wire, end, _ in operation.ends]
        wire, end = getattr(operation, "wire", None), getattr(operation, "end", None)
        return [(wire, end)] if isinstance(wire, str) and isinstance(end, int) else []

    def of(self, mistakes: Iterable[Mistake]) -> tuple[int, ...]:
        """The steps at which some mistakes are made."""
        found: set[int] = set()
        for mistake in mistakes:
            if mistake.kind not in _OF_ONE_END:
                continue
            for change in mistake.changes:
                for end in change.ends:
                    found |= self._of.get((end.wire, end.end), set())
                for name in change.gone:
                    if name[0] == "wire":
                        found |= {n for (wire, _), own in self._of.items() if wire == name[1] for n in own}
        return tuple(sorted(found))
