"""What each of two parts does, thing by thing, with the positions in words."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from planner.proof.condition import shortest_condition
from planner.proof.part_bench import Bench
from planner.proof.part_differences import NOT_THERE, Difference, Naming, Outcome
from planner.proof.part_facts import TURNED_BY
from planner.proof.part_settings import PairedPosition
from planner.proof.words import say

_ORDER = ("unintended", "lost", "changed", "gained", "kept")


@dataclass(frozen=True, slots=True)
class BehaviourRow:
    """What one thing does in both parts, and in which positions."""

    position: str
    what: str
    original: str
    other: str
    outcome: Outcome

    @property
    def still_works(self) -> bool:
        """Whether something that the original did is still done."""
        return self.outcome in ("kept", "gained") and self.original != NOT_THERE


def compare_behaviours(
    bench: Bench, naming: Naming
) -> tuple[tuple[BehaviourRow, ...], list[tuple[str, int, int]]]:
    """Compare all positions; also gives the loads that both parts have, by name and place in each part."""
    gathered = _Gathered(bench, naming)
    rows = [*gathered.detents(), *gathered.laws(), *gathered.rows()]
    return tuple(sorted(rows, key=lambda row: _ORDER.index(row.outcome))), list(gathered.matched)


class _Gathered:
    """Gathers what differs in each position, and says in which positions it does."""

    def __init__(self, bench: Bench, naming: Naming) -> None:
        self.bench, self.naming = bench, naming
        self.where: dict[Difference, set[tuple[str, ...]]] = {}
        self.matched: dict[tuple[str, int, int], None] = {}
        self.base: set[tuple[str, ...]] = set()
        for position in bench.settings.positions:
            found = list(bench.compare(position, naming))
            if position.original_has_it and not position.is_new:
                self.base.add(position.values)
                if position.other_has_it:
                    for difference in found[0]:
                        self._add(difference, position)
                else:
                    self._missing(position, found)
            elif position.other_has_it:
                self._new(position, found)

    def rows(self) -> Iterator[BehaviourRow]:
        """Yield a row for each thing that does the same in some positions."""
        for found in self.where:
            yield BehaviourRow(self._when(found), found.what, found.original, found.other, found.outcome)

    def detents(self) -> Iterator[BehaviourRow]:
        """Yield values that only one of the parts has."""
        for variable in self.bench.settings.variables:
            for value in variable.values:
                what = f"{variable.name}: {value}"
                if value not in variable.other and variable.other:
                    yield BehaviourRow("always", what, "a position", NOT_THERE, "lost")
                elif value not in variable.original and variable.original:
                    yield BehaviourRow("always", what, NOT_THERE, "a position", "gained")

    def laws(self) -> Iterator[BehaviourRow]:
        """Yield what moves by itself or springs back."""
        ours, theirs = (facts.laws for facts in self.bench.facts)
        here, there = (facts.loads for facts in self.bench.facts)
        known = {v.name for v in self.bench.settings.variables if v.original}
        for about, law in sorted(ours | theirs):
            if (about, law) in ours & theirs:
                yield BehaviourRow("always", about, law, law, "kept")
            elif (about, law) in ours:
                # A load that is not there turns nothing; that it is missing is a row of its own.
                if not law.startswith(TURNED_BY) or law.removeprefix(TURNED_BY) in there:
                    yield BehaviourRow("always", about, law, NOT_THERE, "lost")
            elif not law.startswith(TURNED_BY) or law.removeprefix(TURNED_BY) in here:
                outcome: Outcome = "unintended" if about in known else "gained"
                yield BehaviourRow("always", about, NOT_THERE, law, outcome)

    def _missing(self, position: PairedPosition, found: list[list[Difference]]) -> None:
        """A position that only the original has: lost is what the other does in none of its own."""
        lost = [{(d.what, d.original) for d in each if d.outcome in ("lost", "changed")} for each in found]
        for what, here in sorted(set.intersection(*lost)):
            self._add(Difference(what, here, NOT_THERE, "lost"), position)

    def _new(self, position: PairedPosition, found: list[list[Difference]]) -> None:
        """A position that only the other has: gained is what the original does in none of its own."""
        new = [{(d.what, d.other) for d in each if d.outcome not in ("kept", "lost")} for each in found]
        for what, there in sorted(set.intersection(*new)):
            self._add(Difference(what, NOT_THERE, there, "gained"), position)

    def _add(self, difference: Difference, position: PairedPosition) -> None:
        if difference.elements:
            self.matched[difference.what, *difference.elements] = None
        self.where.setdefault(replace(difference, elements=None), set()).add(position.values)

    def _when(self, difference: Difference) -> str:
        variables = {v.name: v.values for v in self.bench.settings.variables}
        everywhere = {p.values for p in self.bench.settings.positions}
        possible = everywhere if difference.outcome == "gained" else self.base
        return say(shortest_condition(variables, self.where[difference], possible))
