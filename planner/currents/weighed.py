"""What is to be most, or least, in a part of the loom: what loads bring to some meetings, each weighed."""

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from planner.currents.met import Brings, Met, Numbers
from planner.currents.sums import IMPOSSIBLE, Row, Scope, Sums

if TYPE_CHECKING:  # numpy is slow to import
    from planner.currents.curves import Array

Only = tuple[Scope, Sequence[bool]]  # of the table of one load: which of its rows may be


class Weighed:
    """What loads of a part bring to some meetings, times a weight each, and what they bring besides."""

    def __init__(
        self,
        met: Met,
        part: int,
        meetings: Sequence[tuple[int, float]],
        besides: Sequence[tuple[Brings, float]] = (),
        only: Only | None = None,
    ) -> None:
        self.met, self.part, self.all_meetings, self.besides, self.only = met, part, meetings, besides, only
        self.row: Array | None = None  # the numbers without regard to ``only``, if numpy worked them out

    @cached_property
    def meetings(self) -> Sequence[tuple[int, float]]:
        """The meetings that loads of the part come to."""
        brings, part = self.met.brings, self.part
        return [each for each in self.all_meetings if part in brings[each[0]]]

    def __call__(self) -> Sums:
        """The numbers, scope by scope."""
        return self._sums

    @cached_property
    def _sums(self) -> Sums:
        sums = self.met.by_scope(self.part, self._numbers())
        if self.only is not None:
            scope, may_be = self.only
            own = sums.get(scope) or [0.0] * len(may_be)
            sums[scope] = [volts if may else IMPOSSIBLE for volts, may in zip(own, may_be, strict=True)]
        return sums

    def _numbers(self) -> Numbers:
        met, found = self.met, dict[int, Numbers]()
        if self.row is not None:
            return [float(each) for each in self.row.tolist()]
        for brings, weight in self.besides:
            met.add(found, self.part, brings, weight)
        for number, weight in self.meetings:
            met.add(found, self.part, met.brings[number][self.part], weight)
        return found.get(self.part) or [0.0] * met.sizes[self.part]


def only(scope: Scope, rows: Sequence[Row], wanted: Sequence[Row]) -> Only:
    """Some of the rows of a table and no other."""
    return scope, [row in wanted for row in rows]
