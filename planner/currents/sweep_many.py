"""A sweep for many questions at once: what ``sweep`` does, with a column of numbers for each of them.

Needs numpy. What is found is the same to the last value: numbers are added and compared in the same order.
"""

from collections.abc import Mapping, Sequence
from math import prod

import numpy as np

from planner.currents.curves import Array
from planner.currents.rows import Numbers, numbers
from planner.currents.sums import IMPOSSIBLE, Scope, Sizes
from planner.currents.sweep import EQUAL, Step, Sweep


class ManySweep:
    """The same summands and steps, ready for columns of numbers."""

    def __init__(self, sweep: Sweep, sizes: Sizes) -> None:
        self.sweep = sweep
        self.steps = [_ManyStep(step, sizes) for step in sweep.steps]

    def heaviest(self, sums: Mapping[Scope, Array], columns: int) -> tuple[Mapping[int, Numbers], Array]:
        """By variable its value in the setting with the greatest sum, and whether there is one: for each."""
        known: list[Array] = [sums[scope] for scope in self.sweep.scopes]
        notes = []
        for step in self.steps:
            best, note = step.take_out(known, columns)
            known.append(best)
            notes.append(note)
        may_be = np.ones(columns, dtype=bool)
        for at in self.sweep.totals:
            may_be &= known[at][0] != IMPOSSIBLE if len(known[at]) else False
        found: dict[int, Numbers] = {}
        if may_be.any():
            for step, note in zip(reversed(self.steps), reversed(notes), strict=True):
                found[step.variable] = step.read(note, found, columns)
        return found, may_be


class _ManyStep:
    """One variable maximised away in every column."""

    def __init__(self, step: Step, sizes: Sizes) -> None:
        self.variable, self.rest = step.variable, step.rest
        own = list(step.place.values())  # in the order of their numbers
        most = max(map(len, step.values), default=1)
        starts = np.cumsum([0, *map(len, step.values)])
        # The place of each value's number in each setting; one that has fewer has its first once more.
        at = [
            [starts[n] + (value if value < len(step.values[n]) else 0) for n in own] for value in range(most)
        ]
        self.settings, self.most = len(own), most
        index = np.array(at, dtype=np.intp).reshape(most, len(own))
        self.picks = [(summand, numbers(list(places))[index]) for summand, places in step.picks]
        self.values = numbers([step.values[n][v] if v < len(step.values[n]) else step.values[n][0]
                               for v in range(most) for n in own]).reshape(most, len(own))  # fmt: skip
        self.sizes = [sizes[variable] for variable in step.rest]
        self.place = np.zeros(prod(self.sizes), dtype=np.intp)
        for row, number in step.place.items():
            self.place[self._flat(row)] = number

    def _flat(self, row: Sequence[int]) -> int:
        flat = 0
        for value, size in zip(row, self.sizes, strict=True):
            flat = flat * size + value
        return flat

    def take_out(self, known: Sequence[Array], columns: int) -> tuple[Array, Numbers]:
        """The greatest number of each setting, and which value has it."""
        total = np.zeros((self.most, self.settings, columns))
        for n, (summand, places) in enumerate(self.picks):
            picked = known[summand][places]
            total = total + picked if n else picked
        top = total[0]
        note = np.zeros(top.shape, dtype=np.intp)
        for value in range(1, self.most):
            is_more = total[value] > top + EQUAL
            top = np.where(is_more, total[value], top)
            note[is_more] = value
        return top, note

    def read(self, note: Numbers, found: Mapping[int, Numbers], columns: int) -> Numbers:
        """The variable's value in each column, given those of the rest."""
        flat = np.zeros(columns, dtype=np.intp)
        for variable, size in zip(self.rest, self.sizes, strict=True):
            flat = flat * size + found[variable]
        place = self.place[flat]
        return self.values[note[place, np.arange(columns)], place]
