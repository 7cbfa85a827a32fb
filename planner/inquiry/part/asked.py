"""The readings of one part as the search asks them: by numbers, with what each leaves possible."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from planner.inquiry.part.meter import Found, found
from planner.model.readings import BenchReadings, Reading


@dataclass(frozen=True, slots=True)
class Question:
    """One reading by the numbers of its position and terminals, the red lead's first."""

    position: int
    red: int
    black: int
    found: Found
    reading: Reading


@dataclass(frozen=True)
class Asked:
    """All readings, and the names behind the numbers."""

    bench: BenchReadings
    leads_ohms: float | None = None

    @cached_property
    def questions(self) -> tuple[Question, ...]:
        """The readings, in the order in which they were written."""
        terminals = {name: number for number, name in enumerate(self.bench.terminals)}
        positions = {name: number for number, name in enumerate(self.bench.positions)}
        known: dict[object, Found] = {}
        return tuple(
            Question(
                positions[r.position],
                terminals[r.red],
                terminals[r.black],
                known.setdefault(r.says, found(r, self.leads_ohms)),
                r,
            )
            for r in self.bench.readings
        )

    @cached_property
    def by_position(self) -> Mapping[int, tuple[Question, ...]]:
        """The readings of each position that has any."""
        return {
            number: here
            for number in range(len(self.bench.positions))
            if (here := tuple(q for q in self.questions if q.position == number))
        }

    @cached_property
    def met(self) -> Mapping[int, Mapping[int, tuple[int, int]]]:
        """For each position and terminal to how many others it is joined, and to how many it reads open."""
        found: dict[int, Mapping[int, tuple[int, int]]] = {}
        for position, questions in self.by_position.items():
            opens: dict[int, dict[int, bool]] = {}
            for q in questions:
                for one, other in ((q.red, q.black), (q.black, q.red)):
                    here = opens.setdefault(one, {})
                    here[other] = here.get(other, False) or q.found.is_open
            found[position] = {
                terminal: (len(here) - sum(here.values()), sum(here.values()))
                for terminal, here in opens.items()
            }
        return found

    @cached_property
    def by_terminal(self) -> Mapping[int, tuple[Question, ...]]:
        """The readings of each terminal."""
        return {
            number: tuple(q for q in self.questions if number in (q.red, q.black))
            for number in range(len(self.bench.terminals))
        }
