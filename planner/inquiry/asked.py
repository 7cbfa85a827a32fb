"""The readings of one part as the search asks them: by numbers, with what each leaves possible."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from planner.inquiry.meter import Found, found
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
    def terminal_order(self) -> tuple[int, ...]:
        """The terminals, each the one with most readings to those before it."""
        count = len(self.bench.terminals)
        reads = [[0] * count for _ in range(count)]
        for question in self.questions:
            reads[question.red][question.black] += 1
            reads[question.black][question.red] += 1
        order: list[int] = []
        while len(order) < count:
            left = (n for n in range(count) if n not in order)
            order.append(max(left, key=lambda n: (sum(reads[n][o] for o in order), sum(reads[n]), -n)))
        return tuple(order)

    @cached_property
    def before(self) -> tuple[tuple[Question, ...], ...]:
        """For each terminal in that order its readings to the terminals before it."""
        rank = {terminal: number for number, terminal in enumerate(self.terminal_order)}
        return tuple(
            tuple(
                q
                for q in self.questions
                if number in (rank[q.red], rank[q.black]) and max(rank[q.red], rank[q.black]) == number
            )
            for number in range(len(rank))
        )
