"""A page's walk through one loom, and the truth beside it."""

import random
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache, partial
from itertools import chain, product

from planned import catalogue
from truth import Truth
from walker import ORDER, Walker, side_of

from planner.engine.packs import installed_rules
from planner.live.passing import NOT_TOLD
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.page_states import NONE, LiveRow, Look, PageStates
from planner.pipeline import settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job

THROWS = 50


@lru_cache
def looms_of(name: str) -> tuple[Loom, Loom]:
    """The loom before, and the one after as it is chosen by the wiring alone."""
    job, loom = read_job(name, catalogue())
    choice = settle(job, loom, catalogue(), installed_rules(), Prover(loom, catalogue(), job))
    return loom, choice.chosen.candidate.loom


class Beside:
    """The page's walk through one loom, and the truth beside it."""

    def __init__(
        self, states: PageStates, loom: Loom, side: int, seed: int, known: Catalogue | None = None
    ) -> None:
        self.states, self.side = states, side
        rows = [row for row in states.terminals if side_of(row, side) is not None]
        self.page = Walker(states, side)
        self.truth = Truth(loom, known or catalogue(), [row.name for row in rows], seed)
        self.hidden = {
            g: tuple(states.variables[v] for v in states.groups[g].hidden) for g in self.page.endings
        }
        self.ways: dict[int, list[tuple[list[list[tuple[str, ...]]], bool]]] = {}
        self.begin({g: [tuple(self.truth.rest[v] for v in names)] for g, names in self.hidden.items()})

    def begin(self, starts: Mapping[int, list[tuple[str, ...]]]) -> None:
        for group, states in starts.items():
            self.ways[group] = [self.truth.settle(self.hidden[group], state) for state in states]

    def throw(self, control: int, detent: int) -> None:
        chosen = self.states.controls[control]
        self.page.throw(chosen, chosen.detents[detent])
        variable, value = side_of(chosen, self.side), side_of(chosen.detents[detent], self.side)
        if NONE in (variable, value):
            return
        label = self.truth.net.variables[chosen.name].values[value]
        if self.truth.controls[chosen.name] != label:
            self.truth.controls[chosen.name] = label
            self.begin({group: self._last(group) for group in self.hidden})

    def _last(self, group: int) -> list[tuple[str, ...]]:
        """Where it may stand now; a flasher that is started anew begins at rest."""
        beats = {law.variable for law in self.truth.net.beats.values()}
        states = {state for ends, _ in self.ways[group] for end in ends for state in end}
        return sorted(
            {
                tuple("rest" if v in beats else s for v, s in zip(self.hidden[group], state, strict=True))
                for state in states
            }
        )

    def looks(self, row: LiveRow, see: Callable[[Mapping[str, str]], str | None]) -> set[str] | None:
        """How a row truly looks, by every way to have come here; None if a short makes it doubtful."""
        look = side_of(row, self.side)
        assert isinstance(look, Look)
        names = [name for group in look.groups for name in self.hidden[group]]
        found: set[str] = set()
        for ways in product(*(self.ways[group] for group in look.groups)):
            seen = set()
            for ends in product(*(ends for ends, _ in ways)):
                states = product(*ends)
                values = {see(dict(zip(names, chain(*state), strict=True))) for state in states}
                if None in values:
                    return None
                is_many = len(values) > 1
                seen.add(_many(row.kind, any(c for _, c in ways)) if is_many else values.pop())
            found.add(seen.pop() if len(seen) == 1 else ORDER)
        return found

    def truths(self) -> Iterator[tuple[str, LiveRow, set[str]]]:
        """Yield each row, by its list, with how it truly looks; those that are told and not doubtful."""
        lists = (
            ("loads", self.truth.load, self.states.loads),
            ("terminals", self.truth.terminal, self.states.terminals),
            ("wires", self.truth.leg, self.states.wires),
        )
        for name, see, rows in lists:
            for row in rows:
                if side_of(row, self.side) is not None and NOT_TOLD not in self.page.values(row):
                    true = self.looks(row, partial(see, row.name))
                    if true is not None:
                        yield name, row, true


def _many(kind: str, chatters: bool) -> str:
    if not kind:
        return "comes and goes"
    return "turns" if kind == "cam" else "chatters" if chatters else "flashes"


def throws(states: PageStates, seed: int) -> Iterator[tuple[int, int]]:
    """Yield controls and detents by lot, the first of them at rest."""
    lots = random.Random(seed)
    yield 0, 0
    for _ in range(THROWS):
        control = lots.randrange(len(states.controls))
        yield control, lots.randrange(len(states.controls[control].detents))
