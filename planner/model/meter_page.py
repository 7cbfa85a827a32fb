"""What is measured after the work: where, with what set, what a meter reads, and what a wrong reading says.

Plain records, with nothing left to compute. Ohms are read with the battery off; volts count from earth to
the live pole: where the positive pole is earthed the probes are changed over, so good readings are positive.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Stage = Literal["dead", "first-power", "live"]
Quantity = Literal["volts", "ohms", "test-lamp"]
LampSays = Literal["lit", "dim", "dark", "flashes", "cannot tell", "none"]


@dataclass(frozen=True, slots=True)
class WrongReading:
    """From what to what a meter reads, and in words what that suggests; either end may be infinite.

    A reading right on a limit counts as the line that is nearer to good.
    """

    low: float
    high: float
    words: str


@dataclass(frozen=True, slots=True)
class MeterTest:
    """One reading: where, with what set, what is good, and what a wrong one suggests."""

    n: int
    id: str  # does not change with the order of the tests
    stage: Stage
    circuit: str  # the title of the place it is about
    settings: tuple[
        tuple[str, str], ...
    ]  # all that is not at rest: variable (place/name or condition), label
    set_words: str  # what must be changed since the test before; empty if nothing
    quantity: Quantity
    at: str
    to: str  # an address; "earth" is the body
    where_words: str
    expected: float  # infinite where nothing joins the two
    low: float
    high: float
    unit: Literal["V", "ohm", ""]
    lamp: LampSays  # what a test lamp there says of a good circuit; none: no lamp goes there
    wrong: tuple[WrongReading, ...]  # in ascending order; with what is good they leave nothing open
    steps: tuple[int, ...]  # numbers of the work list
    why: str
    dark: float | None = None  # what it reads in the dark half of a flasher's beat, if it swings with one
    steady: str = ""  # what it tells if it should swing and does not
    all_set_words: str = ""  # all that is set, for one who comes from everything at rest
    # Its least and its most volts or ohms with a tank at the two ends of its level, if it hangs on one.
    at_levels: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """The smallest set of readings that exposes any single wiring mistake among the changed ends.

    ``at_least`` is how many no smaller set can do without; ``alike`` are mistakes that no reading of them all
    tells apart, ``missed`` those that no reading shows at all.
    """

    tests: tuple[MeterTest, ...]
    at_least: int
    mistakes: int
    exposed: int
    alike: tuple[tuple[str, ...], ...]
    missed: tuple[str, ...]

    @property
    def is_smallest(self) -> bool:
        """Whether no smaller set exposes as much."""
        return len(self.tests) == self.at_least


@dataclass(frozen=True, slots=True)
class MeterPage:
    """All tests in their order, and what holds for each of them.

    ``titles`` say what a variable of the settings is called, ``meter`` how exact the meter is taken to be.
    """

    tests: tuple[MeterTest, ...]
    notes: tuple[str, ...]
    untested: tuple[str, ...] = ()  # mistakes at the changed ends that no test here shows
    titles: Mapping[str, str] | None = None
    after: str = ""  # what has to be put back after the last test
    ends: tuple[str, ...] = ()  # where ends belong that no ohms tell from others: elsewhere they are a short
