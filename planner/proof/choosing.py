"""The cheapest of some cubes that cover everything, by branch and bound."""

from collections.abc import Callable, Mapping
from typing import TypeAlias

from planner.proof.cubes import each_bit

Choice: TypeAlias = tuple[int, list[int]]

_BRANCHES = 4000  # beyond these the best so far is taken


class Choosing:
    """Choose the cheapest cubes that cover everything, by branch and bound from a cover already known."""

    def __init__(
        self, candidates: Mapping[int, int], price: Callable[[int], int], wanted: int, rough: list[int]
    ) -> None:
        self.best: Choice = (sum(map(price, rough)), rough)
        self.branches = 0
        # The dearer of two cubes goes if it covers no more; equal ones go by number, for a fixed result.
        cubes: list[int] = []
        for cube in sorted(candidates, key=lambda cube: (price(cube), -candidates[cube].bit_count(), cube)):
            if all(candidates[cube] & ~candidates[other] for other in cubes):
                cubes.append(cube)
        self.cubes = cubes
        self.prices = [price(cube) for cube in cubes]
        # Positions that the same cubes cover are one row; a row goes if another one is harder to cover.
        rows = {wanted: 0}
        for number, cube in enumerate(cubes):
            split: dict[int, int] = {}
            for spots, covering in rows.items():
                inside = spots & candidates[cube]
                if inside:
                    split[inside] = covering | 1 << number
                if inside != spots:
                    split[spots ^ inside] = covering
            rows = split
        self.rows: list[int] = []
        for covering in sorted(set(rows.values()), key=lambda covering: (covering.bit_count(), covering)):
            if all(other & ~covering for other in self.rows):
                self.rows.append(covering)
        self._branch(self.rows, 0, [])

    def _branch(self, rows: list[int], spent: int, chosen: list[int]) -> None:
        self.branches += 1
        if not rows:
            if spent < self.best[0]:
                self.best = (spent, [self.cubes[number] for number in chosen])
            return
        if spent + self._least(rows) >= self.best[0] or self.branches > _BRANCHES:
            return
        narrowest = min(rows, key=int.bit_count)
        left = [bit.bit_length() - 1 for bit in each_bit(narrowest)]
        left.sort(key=lambda number: (-sum(row >> number & 1 for row in rows), self.prices[number]))
        tried = 0
        for number in left:
            # What was tried first is out of the later branches, so no choice is looked at twice.
            rest = [row & ~tried for row in rows if not row >> number & 1]
            tried |= 1 << number
            if all(rest):
                self._branch(rest, spent + self.prices[number], [*chosen, number])

    def _least(self, rows: list[int]) -> int:
        """A price that is surely paid: rows without a cube in common need a cube each."""
        used = total = 0
        for row in sorted(rows, key=int.bit_count):
            if not row & used:
                used |= row
                total += self.prices[(row & -row).bit_length() - 1]
        return total
