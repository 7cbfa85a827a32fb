"""The rows of a survey's table about the whole vehicle: its nominal volts and which pole is earthed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.model.loom import Pole, Supply
from planner.problems import Problem
from planner.reading.csv_table import TableRow
from planner.reading.row_cells import Cells
from planner.reading.supply_words import read_pole, read_supply_volts
from planner.reading.typed_values import plain

VEHICLE = "vehicle"  # what stands under "part"
VOLTS, POLE = "supply volts", "earthed pole"
BLANK = frozenset(("", "?", "not known", "unknown", "don't know", "do not know"))


@dataclass(frozen=True, slots=True)
class TypedSupply:
    """What a person said of the supply; None is what nobody has said."""

    volts: float | None = None
    earthed: Pole | None = None

    def over(self, pattern: Supply) -> Supply:
        """The supply, the pattern's where nobody has said."""
        return Supply(volts=self.volts or pattern.volts, earthed=self.earthed or pattern.earthed)


def is_about_vehicle(row: TableRow) -> bool:
    """Whether a row is about the vehicle as a whole."""
    return plain(row.cells["part"]) == VEHICLE


def read_supply(rows: Sequence[TableRow]) -> tuple[TypedSupply, tuple[Problem, ...]]:
    """What the rows about the vehicle say, and what is wrong with them."""
    supply = TypedSupply()
    seen: set[str] = set()
    problems: list[Problem] = []
    for row in filter(is_about_vehicle, rows):
        what = plain(row.cells["terminal"])
        cells = Cells(row)
        if what in seen or what not in (VOLTS, POLE):
            is_twice = f"the vehicle's {what} has two rows"
            message = is_twice if what in seen else f"nothing of the vehicle is called {what!r}"
            problems.append(Problem(row.places["terminal"], message, hint=f"{VOLTS} or {POLE}, once"))
        elif what == VOLTS:
            supply = replace(supply, volts=cells.take("meter says", volts_or_blank))
        else:
            pole = cells.take("meter says", pole_or_blank)
            supply = replace(supply, earthed=pole)
        seen.add(what)
        problems += cells.faults
    return supply, tuple(problems)


def volts_or_blank(text: str) -> float | None:
    """Volts as typed, None for what is not known; raises NotUnderstood."""
    return None if plain(text) in BLANK else read_supply_volts(text)


def pole_or_blank(text: str) -> Pole | None:
    """A pole as typed, None for what is not known; raises NotUnderstood."""
    return None if plain(text) in BLANK else read_pole(text)
