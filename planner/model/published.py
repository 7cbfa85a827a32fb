"""Published figures: a value with its source and basis, and how two rows of a table are read between."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import isfinite
from typing import TypeVar

from planner.problems import FilePlace, InputError, Problem

Row = TypeVar("Row")
MEMORY = "memory"


@dataclass(frozen=True, slots=True)
class Published:
    """A figure from a published table; the unit is said by whatever gives it."""

    value: float
    source: str
    basis: str

    @property
    def is_from_memory(self) -> bool:
        """Whether nobody has seen the figure, or one that it was reckoned from, in print."""
        return self.basis.startswith(MEMORY)


def weakest(bases: Iterable[str]) -> str:
    """The bases of all rows a figure rests on, each once and memory first."""
    once = dict.fromkeys(bases)
    return "; ".join(sorted(once, key=lambda basis: not basis.startswith(MEMORY)))


def once(texts: Iterable[str]) -> str:
    """Texts in their order, each once."""
    return "; ".join(dict.fromkeys(texts))


def around(rows: Sequence[Row], at: float, key: Callable[[Row], float]) -> tuple[Row, Row]:
    """The rows at or next below and at or next above a place; beyond the ends, the end row twice.

    ``rows`` ascend by ``key`` and are not empty.
    """
    below = [row for row in rows if key(row) <= at] or [rows[0]]
    above = [row for row in rows if key(row) >= at] or [rows[-1]]
    return below[-1], above[0]


def share_between(low: float, high: float, at: float) -> float:
    """How far a place lies on the way from one number to another, 0 to 1; 0 if they are the same."""
    return (at - low) / (high - low) if high > low else 0.0


def must_be_positive(name: str, value: float) -> None:
    """Refuse what is no number above 0; raises ValueError."""
    if not (isfinite(value) and value > 0):
        raise ValueError(f"{name} must be a number above 0, got {value:g}")


def no_row(table: str, wanted: str) -> InputError:
    """The error to raise where a table that was read lacks what it has to hold."""
    return InputError([Problem(FilePlace(f"standards/{table}.csv"), f"holds no row for {wanted}")])
