"""A catalogue part that explains what a meter said, and what the meter would say at its other terminals."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.assign import Way
from planner.inquiry.part.bench_view import BenchView, Matrix, Setting
from planner.inquiry.part.element_ohms import Ohms, element_ohms
from planner.inquiry.part.likeness import are_own_names, called, misfit, unseen
from planner.inquiry.part.search import NOT_READ
from planner.inquiry.part.symmetry import alike_marks
from planner.model.elements import Coil
from planner.model.part import Part
from planner.model.readings import Reading


@dataclass(frozen=True)
class Explanation:
    """A part with its terminals and settings called by a person's names.

    ``ways`` are all that a meter cannot tell apart in the positions read; the first stands for them. The
    ``likely`` ones are the first of them, which meet most of the person's names.
    """

    view: BenchView
    ways: tuple[Way, ...]
    asked: Asked
    likely: int = 1

    @property
    def part(self) -> Part:
        """The catalogue's part."""
        return self.view.part

    @property
    def wrong(self) -> tuple[Reading, ...]:
        """The readings that it does not explain."""
        return self.ways[0].wrong

    @property
    def count(self) -> int:
        """In how many ways the terminals and positions can be called so."""
        return sum(way.times for way in self.ways)

    @cached_property
    def marks(self) -> Mapping[str, str]:
        """The mark of each of the person's terminals."""
        return dict(zip(self.asked.bench.terminals, self.ways[0].marks, strict=True))

    @cached_property
    def settings(self) -> Mapping[str, tuple[Setting, ...]]:
        """The settings of the part that each position that was read can be."""
        return {
            name: self.view.alike[place].settings
            for name, place in zip(self.asked.bench.positions, self.ways[0].places, strict=True)
            if place != NOT_READ
        }

    @cached_property
    def other_marks(self) -> Mapping[str, tuple[str, ...]]:
        """For each terminal the marks that it may have as well, since a meter finds them alike."""
        alike = alike_marks(self.view)
        return {
            name: tuple(
                dict.fromkeys(
                    mark
                    for way in self.ways[: self.likely]
                    for mark in alike[way.marks[number]]
                    if mark != self.ways[0].marks[number]
                )
            )
            for number, name in enumerate(self.asked.bench.terminals)
        }

    @cached_property
    def other_settings(self) -> Mapping[str, tuple[tuple[Setting, ...], ...]]:
        """For each position that was read the groups of settings that it may be as well."""
        return {
            name: tuple(
                self.view.alike[place].settings
                for place in dict.fromkeys(way.places[number] for way in self.ways[: self.likely])
                if place != self.ways[0].places[number]
            )
            for number, name in enumerate(self.asked.bench.positions)
            if name in self.settings
        }

    def ohms(self, position: int, red: int, black: int) -> Ohms:
        """What a meter would find, by the numbers of a position and of the terminals at its leads."""
        return self._matrices[position][self._numbers[red]][self._numbers[black]]

    @cached_property
    def _matrices(self) -> tuple[Matrix, ...]:
        """What a meter finds in each position; in one that was not read, whatever it may find in any."""
        bench = self.asked.bench
        return tuple(
            self.view.anywhere[name in bench.powered] if place == NOT_READ else self.view.alike[place].ohms
            for name, place in zip(bench.positions, self.ways[0].places, strict=True)
        )

    @cached_property
    def _numbers(self) -> tuple[int, ...]:
        return tuple(self.view.marks.index(mark) for mark in self.ways[0].marks)

    @cached_property
    def unseen(self) -> tuple[str, ...]:
        """Positions of its controls, and fed coils, that none of the positions read can be."""
        return tuple(unseen(self.part, list(self.settings.values())))

    @cached_property
    def names_met(self) -> int:
        """How many of the person's names are the part's own: marks, labels and what they mean.

        Terminals that are lettered or numbered through have names of the person's own making.
        """
        met = 0
        if not are_own_names(self.asked.bench.terminals):
            met = sum(name.lower() == mark.lower() for name, mark in self.marks.items())
        for name, settings in self.settings.items():
            met += any(name.lower() in called(self.part, setting) for setting in settings)
        return met

    @cached_property
    def contrary(self) -> tuple[str, ...]:
        """Positions that read as one setting and are called as another: a switch that works the other way."""
        every = [setting for alike in self.view.alike for setting in alike.settings]

        def is_called(name: str, settings: Iterable[Setting]) -> bool:
            return any(name.lower() in called(self.part, setting) for setting in settings)

        return tuple(
            name
            for name, settings in self.settings.items()
            if is_called(name, every)
            and not any(is_called(name, group) for group in (settings, *self.other_settings[name]))
        )

    @cached_property
    def misfit(self) -> float:
        """How far what was read is from what the part has, as a mean."""
        off = [
            misfit(q.found.most, q.reading.says, self.ohms(q.position, q.red, q.black))
            for q in self.asked.questions
            if q.reading not in self.wrong
        ]
        return sum(off) / max(len(off), 1)

    @property
    def left_out(self) -> tuple[str, ...]:
        """Terminals connected by its mounting that the person did not name."""
        return tuple(mark for mark in self.part.terminals if mark not in self.marks.values())

    @cached_property
    def other_coils(self) -> tuple[tuple[str, float, float], ...]:
        """Coils that read other ohms than the catalogue's: the armature, ohms as read, ohms there."""
        if not self.view.any_coil:
            return ()
        names = {mark: name for name, mark in self.marks.items()}
        found = {}
        for element in self.part.inside:
            if isinstance(element, Coil):
                pair = {names.get(mark) for mark in element.between}
                for q in self.asked.questions:
                    says = q.reading.says
                    usual = element_ohms(element, self.part.volts, {})
                    if set(q.reading.pair) == pair and isinstance(says, float) and not q.found.agrees(usual):
                        found[element.name] = (element.name, says, element.ohms)
        return tuple(found.values())

    @property
    def rank(self) -> tuple[object, ...]:
        """Where it stands among others: the lowest first."""
        unread = len(self.unseen) + len(self.left_out)
        return len(self.wrong), unread, -self.names_met, round(self.misfit, 6), self.part.part

    @cached_property
    def foretold(self) -> tuple[tuple[Ohms, ...], ...]:
        """All that a meter would find, in every position at every pair of terminals, either way round."""
        return tuple(
            tuple(matrix[red][black] for black in self._numbers)
            for matrix in self._matrices
            for red in self._numbers
        )


def explanations(view: BenchView, asked: Asked, ways: Sequence[Way]) -> Iterator[Explanation]:
    """Yield the explanations by one part: one for all ways that a meter cannot tell apart."""
    alike: dict[tuple[object, ...], list[Way]] = {}
    for way in ways:
        alike.setdefault((Explanation(view, (way,), asked).foretold, way.wrong), []).append(way)
    for group in alike.values():
        if len(group) == 1:
            yield Explanation(view, tuple(group), asked)
            continue
        met = {way: Explanation(view, (way,), asked).names_met for way in group}
        group.sort(key=lambda way: -met[way])
        yield Explanation(view, tuple(group), asked, sum(met[way] == met[group[0]] for way in group))
