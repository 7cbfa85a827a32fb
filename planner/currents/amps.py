"""The currents of one operating point: most branches of a large loom carry none, and take no room."""

from array import array
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import Protocol, overload

NO_AMPS = 1e-12  # less is lack of digits


class ByBranch(Protocol):
    """Currents by the index of a branch, as quick to look up as can be; negative ones are not to be asked."""

    def __getitem__(self, index: int, /) -> float:
        """The current of a branch."""
        ...


class _Live:
    """Those of live branches; of all others none flows."""

    __slots__ = ("live", "own")

    def __init__(self, live: "array[int]", own: "array[float]") -> None:
        self.live, self.own = live, own

    def __getitem__(self, index: int, /) -> float:
        at = bisect_left(self.live, index)
        return self.own[at] if at < len(self.live) and self.live[at] == index else 0.0


class Amps(Sequence[float]):
    """Currents in the order of the branches: ``own`` those of the ``live`` ones, whose indices rise; else 0.

    ``row`` has those of every branch, if there are few: it is quicker to look up.
    """

    def __init__(
        self, live: "array[int]", own: "array[float]", branches: int, row: Sequence[float] | None = None
    ) -> None:
        self.live, self.own, self.branches = live, own, branches
        if row is not None:
            self.by_branch = row

    @classmethod
    def of(cls, amps: Sequence[float]) -> "Amps":
        """The same currents, from those of every branch."""
        if isinstance(amps, cls):
            return amps
        live = [index for index, own in enumerate(amps) if own > NO_AMPS or own < -NO_AMPS]
        return cls(array("i", live), array("d", [amps[index] for index in live]), len(amps), amps)

    @cached_property
    def by_branch(self) -> ByBranch:
        """The current of each branch by its index."""
        return _Live(self.live, self.own)

    @overload
    def __getitem__(self, index: int) -> float: ...

    @overload
    def __getitem__(self, index: slice) -> list[float]: ...

    def __getitem__(self, index: int | slice) -> float | list[float]:
        if isinstance(index, slice):
            return [self.by_branch[each] for each in range(self.branches)[index]]
        return self.by_branch[range(self.branches)[index]]

    def __len__(self) -> int:
        return self.branches

    def __iter__(self) -> Iterator[float]:
        return map(self.by_branch.__getitem__, range(self.branches))
