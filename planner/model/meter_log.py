"""What was read at the tests of a meter page, and what it comes to."""

from dataclasses import dataclass
from typing import Literal

from planner.model.meter_page import MeterTest, WrongReading

Verdict = Literal["good", "wrong", "cannot tell"]
# Volts or ohms (infinite: open), or what a test lamp showed.
Read = float | Literal["lit", "dim", "dark", "flashes"]


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading as typed, what it was read as, what it comes to, and what it suggests if it is wrong."""

    test: MeterTest
    typed: str
    read: Read
    verdict: Verdict
    says: tuple[WrongReading, ...] = ()


@dataclass(frozen=True, slots=True)
class MeterLog:
    """All readings of one job, in the order of its tests, and the tests that were not taken.

    ``job`` is what a command line names it.
    """

    job: str
    title: str
    taken: tuple[Taken, ...]
    left: tuple[MeterTest, ...]

    @property
    def wrong(self) -> tuple[Taken, ...]:
        """The readings that no good circuit gives."""
        return tuple(taken for taken in self.taken if taken.verdict == "wrong")
