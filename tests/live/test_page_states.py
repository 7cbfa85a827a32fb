"""The states of a page against the vehicle worked one position at a time, throw by throw."""

import random
from collections.abc import Callable, Mapping
from functools import partial

import pytest
from planned import catalogue, settled
from truth import Truth
from walker import AFTER, BEFORE, ORDER, Walker, side_of

from planner.live.flows import NOT_TOLD
from planner.live.page_states import page_states
from planner.model.loom import Loom
from planner.model.page_states import NONE, LiveRow, Look, PageStates
from planner.reading.catalogue import read_job

JOBS = (
    "whole-van",
    "hazard-flasher-insulated-panel",
    "dip-relay-four-to-five",
    "changeover-relay-layout",
    "car-to-negative-earth",
    "tractor-to-12-volts",
    "led-indicators",
    "trailer-socket-converter",
    "regulator-of-three-units",
    "launch-two-speed-wiper",
    "minibus-courtesy-delay",
    "forestry-electronic-ignition",
)
THROWS = 50


class Beside:
    """The page's walk through one loom, and the truth beside it."""

    def __init__(self, states: PageStates, loom: Loom, side: int, seed: int) -> None:
        self.states, self.side = states, side
        rows = [row for row in states.terminals if side_of(row, side) is not None]
        self.page = Walker(states, side)
        self.truth = Truth(loom, catalogue(), [row.name for row in rows], seed)
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
        if look.group == NONE:
            seen = see({})
            return None if seen is None else {seen}
        found: set[str] = set()
        for ends, chatters in self.ways[look.group]:
            ways = set()
            for end in ends:
                values = {see(dict(zip(self.hidden[look.group], s, strict=True))) for s in end}
                if None in values:
                    return None
                ways.add(values.pop() if len(values) == 1 else _many(row.kind, chatters))
            found.add(ways.pop() if len(ways) == 1 else ORDER)
        return found


def _many(kind: str, chatters: bool) -> str:
    if not kind:
        return "comes and goes"
    return "turns" if kind == "cam" else "chatters" if chatters else "flashes"


def _walk(states: PageStates, seed: int) -> list[tuple[int, int]]:
    lots = random.Random(seed)
    throws = []
    for _ in range(THROWS):
        control = lots.randrange(len(states.controls))
        throws.append((control, lots.randrange(len(states.controls[control].detents))))
    return throws


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("side", [BEFORE, AFTER], ids=["before", "after"])
def test_every_look_is_true_in_fifty_positions(job: str, side: int) -> None:
    before = read_job(job, catalogue())[1]
    after = settled(job)[1]
    states = page_states(before, after, catalogue())
    beside = Beside(states, (before, after)[side], side, seed=7)
    checked = 0
    for control, detent in [(0, 0), *_walk(states, seed=11)]:
        beside.throw(control, detent)
        checked += _compare(beside)
    assert checked > THROWS * (len(states.terminals) + len(states.wires)) / 2


def _compare(beside: Beside) -> int:
    """Compare every row that no short makes doubtful; how many that were."""
    truth, page, side, states = beside.truth, beside.page, beside.side, beside.states
    where = {name: label for name, label in truth.controls.items() if label != truth.rest[name]}
    checked = 0
    for see, rows in (
        (truth.load, states.loads),
        (truth.terminal, states.terminals),
        (truth.leg, states.wires),
    ):
        for row in rows:
            if side_of(row, side) is None or NOT_TOLD in page.values(row):
                continue
            true = beside.looks(row, partial(see, row.name))
            assert true is None or page.words(row) == true, (row.name, where)
            checked += true is not None
    return checked
