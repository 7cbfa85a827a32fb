"""The terminals of a part as bits of whole numbers, so that many are asked at once."""

from collections.abc import Iterable
from math import inf

from planner.inquiry.bench_view import BenchView
from planner.inquiry.meter import OPEN_ABOVE_OHMS, Found


def bits(numbers: Iterable[int]) -> int:
    """A whole number in which the bits of these numbers are set."""
    found = 0
    for number in numbers:
        found |= 1 << number
    return found


class Masks:
    """For each terminal of a part, in each group of like settings, the other terminals that fit something."""

    def __init__(self, view: BenchView) -> None:
        self.view = view
        self.size = range(len(view.marks))
        self._known: dict[tuple[Found, int], tuple[list[int], list[int]]] = {}
        self._counted: dict[int, tuple[list[int], list[int]]] = {}

    def fitting(self, found: Found, place: int) -> tuple[list[int], list[int]]:
        """Terminals at the black lead by the one at the red, and at the red by the one at the black."""
        if (found, place) not in self._known:
            ohms = self.view.alike[place].ohms
            self._known[found, place] = (
                [bits(n for n in self.size if found.agrees(ohms[m][n])) for m in self.size],
                [bits(n for n in self.size if found.agrees(ohms[n][m])) for m in self.size],
            )
        return self._known[found, place]

    def joints_and_gaps(self, place: int) -> tuple[list[int], list[int]]:
        """How many others may be joined to each terminal, and to how many it may read open, either way."""
        if place not in self._counted:
            ohms = self.view.alike[place].ohms
            others = [[n for n in self.size if n != m] for m in self.size]
            self._counted[place] = (
                [sum(min(ohms[m][n][0], ohms[n][m][0]) < inf for n in others[m]) for m in self.size],
                [
                    sum(max(ohms[m][n][1], ohms[n][m][1]) >= OPEN_ABOVE_OHMS for n in others[m])
                    for m in self.size
                ],
            )
        return self._counted[place]
