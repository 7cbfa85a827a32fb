"""What was found for one loom of a job and holds for others: positions, tables, what meets where."""

from collections.abc import Mapping, Sequence

from planner.circuit.fitted import LoadKey
from planner.currents.heaviest import Search
from planner.currents.met import Meeting, Met
from planner.currents.sums import Table

Assignment = Mapping[int, int]  # of variables by number; what is left out is at rest
Answer = Assignment | None  # what was searched for, if there is any such position


class Alike:
    """What was found for looms with the same variables and springs whose hidden variables move alike."""

    def __init__(self, sizes: Mapping[int, int]) -> None:
        self.search = Search(sizes)
        self.heaviest: dict[object, Answer] = {}
        # By how loads behave and what drives generators: what was searched for.
        self.answers: dict[object, dict[object, Sequence[Answer]]] = {}
        # By how loads behave, and by position: those that are meant to work fully.
        self.full: dict[object, dict[object, frozenset[LoadKey]]] = {}
        self.kinds: dict[object, int] = {}  # how the loads of a part behave, each with its number


class Found:
    """Positions found before, shared by looms whose loads and hidden variables behave alike."""

    def __init__(self) -> None:
        self.tables: dict[int, tuple[object, Table]] = {}  # by the function or group, which is kept alive
        self.alike: dict[object, Alike] = {}
        self.meetings: dict[Meeting, int] = {}  # each with its number
        self.met: dict[object, Met] = {}  # by what loads bring where
        self.names: dict[object, int] = {}  # of what is wanted, each with its number: those are long
