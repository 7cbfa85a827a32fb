"""Which positions of a loom are worth solving: a load alone, what meets in a branch, what drags volts down.

What was found for a loom whose loads behave alike is not searched for again; what is new is searched for
together, question by question of one kind.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial

from planner.circuit.fitted import LoadKey
from planner.currents.bundled import fullest
from planner.currents.found import Answer, Assignment
from planner.currents.grid import Grid
from planner.currents.meetings import Meetings
from planner.currents.positions import LEAST_AMPS, Positions
from planner.currents.seek import Seek, Wanted
from planner.currents.shared_ohms import Ohms
from planner.currents.sums import Row
from planner.currents.tied import ties

# Where a load is on its own in one row of its table: first with no generator at work.
Alone = tuple[LoadKey, Row, Sequence[Answer]]
Dragged = tuple[LoadKey, tuple[Row, ...], Ohms]  # a load in some rows, and the ohms that it shares there


class Questions:
    """What is asked of the positions of one loom."""

    def __init__(self, grid: Grid, positions: Positions, meetings: Meetings) -> None:
        self.grid, self.positions, self.meetings = grid, positions, meetings
        self.seek = Seek(positions)
        numbers = positions.view.variable_number
        guards = {
            variable for gated in grid.branches if gated.kind == "source" for variable, _ in gated.guard
        }
        self.drivers = sorted(numbers[name] for name in guards)  # what decides whether a generator gives
        self.answers = positions.alike.answers.setdefault((positions.kind, *self.drivers), {})
        self.stopped, *self.driven = self._driven()

    def _driven(self) -> Iterator[Assignment]:
        """Yield the states of what drives generators: all at rest, then each at work on its own."""
        yield dict.fromkeys(self.drivers, 0)
        for driver in self.drivers:
            for value in range(1, self.positions.sizes[driver]):
                yield dict.fromkeys(self.drivers, 0) | {driver: value}

    def _asked(self, question: object, search: Callable[[], Iterable[Answer]]) -> Sequence[Answer]:
        """The answer to a question, searched for once for all looms whose loads behave alike."""
        known = self.answers.get(question)
        if known is None:
            known = self.answers[question] = tuple(search())
        return known

    def rest(self) -> Answer:
        """All at rest, as far as that can be."""
        (found,) = self._asked("rest", lambda: (self.seek.heaviest({}, self.stopped),))
        return found

    def alone(self) -> Iterator[Alone]:
        """Yield where each load is on its own in each row of its table that it takes anything in."""
        asked = {}
        for key, table in self.positions.loads.items():
            most = max(table.rows.values(), default=0.0)
            for row, amps in table.rows.items():
                if amps >= LEAST_AMPS:
                    asked[key, row] = [self.stopped, *(self.driven if amps == most else ())]
        new = {each: self.seek.alone_in(*each) for each in asked if ("alone", *each) not in self.answers}
        self.seek.look_up(
            ((wanted, held) for each, wanted in new.items() for held in asked[each]), quiet=True
        )
        for each, held in asked.items():
            yield *each, self._asked(("alone", *each), partial(self._alone, new.get(each, {}), held))

    def _alone(self, wanted: Wanted, held: Iterable[Assignment]) -> Iterator[Answer]:
        for each in held:
            yield self.seek.heaviest(wanted, each, quiet=True)

    def crowds(self) -> Iterator[Answer]:
        """Yield where the loads that meet in a branch take most, also with no lever held."""
        names = {number: self.meetings.name_of(number) for number in self.meetings.crowded()}
        new = {n: self.meetings.crowd(n) for n, name in names.items() if name not in self.answers}
        asked = [(n, w, held) for n, w in new.items() for held in (self.stopped, *self.driven)]
        self.seek.look_up(((wanted, held) for _, wanted, held in asked), quiet=True)
        found = [(n, w, held, self.seek.heaviest(w, held, quiet=True)) for n, w, held in asked]
        self.seek.look_up(
            ((w, held) for _, w, held, where in found if self._is_sprung(where)), quiet=True, lasting=True
        )
        answers: dict[int, list[Answer]] = {}
        for number, wanted, held, where in found:
            own = answers.setdefault(number, [])
            own.append(where)
            if self._is_sprung(where):
                own.append(self.seek.heaviest(wanted, held, quiet=True, lasting=True))
        for number, name in names.items():
            yield from self._asked(name, partial(answers.__getitem__, number))

    def _is_sprung(self, where: Answer) -> bool:
        """Whether a lever or button is held against its spring there."""
        return where is not None and self.positions.held(where) > 0

    def bundles(self) -> Iterator[Answer]:
        """Yield where the wires of each bundle carry most together, for good."""
        for branches in self.grid.bundles:
            numbers = self.meetings.met_in(branches)
            name = ("bundle", *map(self.meetings.name_of, numbers))
            yield from self._asked(name, partial(self._bundle, numbers))

    def _bundle(self, numbers: Sequence[int]) -> Iterator[Answer]:
        for wanted in fullest(self.meetings, numbers):
            for held in (self.stopped, *self.driven):
                yield self.seek.heaviest(wanted, held, quiet=True, lasting=True)

    def drags(self, *, thorough: bool) -> Iterator[Answer]:
        """Yield where the others drag a load's volts down most, and where least; or only those of relays."""
        loads = self.positions.view.net.loads
        asked = [each for each in self.meetings.drags() if thorough or loads[each[0]].kind == "coil"]
        new = {
            each: (*self.meetings.dragged(*each), self.meetings.relieved(*each))
            for each in asked
            if ("drag", *each) not in self.answers
        }
        *_, at_work = self.stopped, *self.driven  # a generator at work gives most volts
        for n, held, lasting in ((0, self.stopped, True), (1, self.stopped, True), (2, at_work, False)):
            self.seek.look_up(((wanted[n], held) for wanted in new.values()), lasting=lasting)
        for each in asked:
            yield from self._asked(("drag", *each), partial(self._drag, new, each, at_work))

    def _drag(
        self, new: Mapping[Dragged, tuple[Wanted, Wanted, Wanted]], asked: Dragged, at_work: Assignment
    ) -> Iterator[Answer]:
        near, far, relieved = new[asked]
        lasting = self.seek.heaviest(near, self.stopped, far, lasting=True)
        yield lasting or self.seek.heaviest(near, self.stopped, far)
        yield self.seek.heaviest(relieved, at_work)

    def ties(self) -> Iterator[Answer]:
        """Yield where sources are tied to one another, whatever else is on; generators at rest."""
        for sums in ties(self.grid, self.positions):
            name = ("tie", *((scope, tuple(own)) for scope, own in sums.items()))
            parts = {self.positions.parts.of_variable(variable) for scope in sums for variable in scope}
            wanted: Wanted = {tuple(sorted(parts)): (name, partial(dict, sums))}
            yield self.seek.heaviest(wanted, self.stopped, quiet=True)
