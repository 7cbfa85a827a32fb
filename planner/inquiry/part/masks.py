"""The terminals and settings of a part as bits of whole numbers, so that many are asked at once."""

from collections.abc import Iterable, Iterator
from functools import cached_property
from math import inf

from planner.inquiry.part.bench_view import BenchView
from planner.inquiry.part.meter import OPEN_ABOVE_OHMS, Found


def bits(numbers: Iterable[int]) -> int:
    """A whole number in which the bits of these numbers are set."""
    found = 0
    for number in numbers:
        found |= 1 << number
    return found


def numbers(found: int) -> Iterator[int]:
    """Yield the numbers whose bits are set, the lowest first."""
    while found:
        lowest = found & -found
        yield lowest.bit_length() - 1
        found ^= lowest


class Masks:
    """What fits what was found, for each terminal of a part and each group of its like settings."""

    def __init__(self, view: BenchView) -> None:
        self.view = view
        self.size = range(len(view.marks))
        self._fitting: dict[tuple[Found, int], tuple[list[int], list[int]]] = {}
        self._places: dict[Found, list[list[int]]] = {}

    def fitting(self, found: Found, place: int) -> tuple[list[int], list[int]]:
        """Terminals at the black lead by the one at the red, and at the red by the one at the black."""
        if (found, place) not in self._fitting:
            ohms = self.view.alike[place].ohms
            self._fitting[found, place] = (
                [bits(n for n in self.size if found.agrees(ohms[m][n])) for m in self.size],
                [bits(n for n in self.size if found.agrees(ohms[n][m])) for m in self.size],
            )
        return self._fitting[found, place]

    def places(self, found: Found, red: int, black: int) -> int:
        """The groups of settings in which it may be found from one terminal to another."""
        if found not in self._places:
            alike = list(enumerate(self.view.alike))
            self._places[found] = [
                [bits(p for p, a in alike if found.agrees(a.ohms[m][n])) for n in self.size]
                for m in self.size
            ]
        return self._places[found][red][black]

    @cached_property
    def joints_and_gaps(self) -> list[tuple[list[int], list[int]]]:
        """By setting: how many others may be joined to each terminal, to how many it may read open."""
        found = []
        for ohms in (alike.ohms for alike in self.view.alike):
            others = [[n for n in self.size if n != m] for m in self.size]
            joints = [sum(min(ohms[m][n][0], ohms[n][m][0]) < inf for n in others[m]) for m in self.size]
            gaps = [
                sum(max(ohms[m][n][1], ohms[n][m][1]) >= OPEN_ABOVE_OHMS for n in others[m])
                for m in self.size
            ]
            found.append((joints, gaps))
        return found
