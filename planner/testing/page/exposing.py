"""Which readings show which mistakes: each mistake is made in each setup, and every reading taken again."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf, isinf

import numpy as np

from planner.currents.curves import Array
from planner.currents.grid import BODY, Position, is_met
from planner.model.observations import OPEN_OHMS
from planner.testing.mistakes.applied import Edit, Editor
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.around import Around, secant
from planner.testing.page.dead import DeadNet, dead_branches
from planner.testing.page.edited import Link, ohms_with, volts_with
from planner.testing.page.generating import Generating
from planner.testing.page.live import Leaning, Live, Stand
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup
from planner.testing.page.tolerance import JOINT_TIMES, LOAD_SHARE, meter_error

APART = 2.0  # a wrong reading may be as far off as a good one: twice that lies between the two
MOST_OHMS = 1e3  # of a good circuit: more is told from an open one by nobody who holds the tips by hand
NEAR_OHMS = 1.0  # a wire and its joints have less; above it are loads
Name = tuple[str, int]  # of a mistake, and which of its changes


@dataclass(frozen=True, slots=True)
class Good:
    """A reading of a good circuit: computed, and by how much it may be off, about."""

    reading: float
    off: float

    def is_wrong(self, reading: float) -> bool:
        """Whether a reading cannot be one of a good circuit, however far off either is."""
        if isinf(self.reading) or isinf(reading):
            return isinf(self.reading) != isinf(reading)
        return abs(reading - self.reading) > APART * self.off

    def wrong_among(self, readings: Array) -> list[int]:
        """Which of many readings are wrong, by their place."""
        if isinf(self.reading):
            return np.flatnonzero(~np.isinf(readings)).tolist()
        return np.flatnonzero(np.abs(readings - self.reading) > APART * self.off).tolist()


@dataclass(frozen=True)
class Exposure:
    """The probes that can be read at all, what is good, and what each mistake makes of them if it shows."""

    good: Mapping[Probe, Good]
    wrong: Mapping[Probe, Mapping[Name, float]]
    edits: Mapping[Name, Edit]

    def shown(self, probe: Probe) -> frozenset[str]:
        """The mistakes that a probe shows, whatever their size."""
        return frozenset(mistake for mistake, _ in self.wrong[probe])


class Exposer:
    """Takes readings of one vehicle as it should be, and with each mistake.

    With the battery off, the leads on its earthed ``posts`` are off them.
    """

    def __init__(
        self, live: Live, editor: Editor, rest: Position, posts: frozenset[str], generating: Generating
    ) -> None:
        self.live, self.editor, self.rest, self.posts = live, editor, rest, posts
        self.generating = generating
        self.leaning: dict[Setup, Leaning] = {}
        whole = dead_branches(live.grid.bare[i] for i in live.grid.closed(rest))
        self.dead = [branch for branch in whole if not {branch.a, branch.b} & posts]
        self._clamped = whole if len(whole) > len(self.dead) + 1 else self.dead

    def expose(self, probes: Sequence[Probe], mistakes: Sequence[Mistake]) -> Exposure:
        """Every probe that can be read, with what each mistake makes of it."""
        edits = self.edits(mistakes)
        by_setup: dict[Setup | None, list[Probe]] = {}
        for probe in probes:
            by_setup.setdefault(probe.setup, []).append(probe)
        beside = _points(probes, [edit for _, edit in edits])
        dead = by_setup.pop(None, [])
        setups = {setup: own for setup, own in by_setup.items() if setup is not None}
        good: dict[Probe, Good] = {}
        wrong: dict[Probe, dict[Name, float]] = {}
        for probe, own, readings in (
            *self._dead(dead, [edit for _, edit in edits], beside),
            *self._live(setups, [edit for _, edit in edits], beside),
        ):
            good[probe] = own
            wrong[probe] = {edits[n][0]: float(readings[n]) for n in own.wrong_among(readings)}
        return Exposure(good, wrong, dict(edits))

    def edits(self, mistakes: Sequence[Mistake]) -> list[tuple[Name, Edit]]:
        """The changes of mistakes as branches, where all that they add is moved by what this vehicle has."""
        edits = [
            ((mistake.id, number), self.editor.edit(change))
            for mistake in mistakes
            for number, change in enumerate(mistake.changes)
        ]
        known = self.rest
        return [
            (name, edit)
            for name, edit in edits
            if all(variable in known for gated in edit.added for variable, _ in gated.guard)
        ]

    def _dead(
        self, probes: Sequence[Probe], edits: Sequence[Edit], beside: Sequence[str]
    ) -> Iterator[tuple[Probe, Good, Array]]:
        """Yield each reading of ohms: good, and with every edit."""
        probes = [probe for probe in probes if not self.posts & {probe.at, probe.to}]
        if not probes:
            return
        net, clamped = DeadNet(self.dead), DeadNet(self._clamped)
        found = ohms_with(
            Around(self.dead, {}, BODY, beside),
            [(probe.at, probe.to) for probe in probes],
            [list(self._dead_links(edit)) for edit in edits],
        )
        for n, probe in enumerate(probes):
            good = good_ohms(net.ohms(probe.at, probe.to))
            if good.is_wrong(as_read(clamped.ohms(probe.at, probe.to))):
                continue  # it hangs on whether the leads of the post hold together, off as they are
            if isinf(good.reading) or good.reading < MOST_OHMS:
                yield probe, good, found[:, n]

    def _dead_links(self, edit: Edit) -> Iterator[Link]:
        closed = set(self.live.grid.closed(self.rest))
        known = (self.live.grid.bare[index] for index in sorted(edit.gone & closed))
        gone = [branch for branch in known if not self.posts & {branch.a, branch.b}]
        added = (gated.branch for gated in edit.added if is_met(gated.guard, self.rest))
        coming = [branch for branch in added if not self.posts & {branch.a, branch.b}]
        for sign, branches in ((-1.0, gone), (1.0, coming)):
            for branch in dead_branches(branches):
                yield branch.a, branch.b, sign * secant(branch, 0.0)

    def _live(
        self, setups: Mapping[Setup, Sequence[Probe]], edits: Sequence[Edit], beside: Sequence[str]
    ) -> Iterator[tuple[Probe, Good, Array]]:
        """Yield each reading of volts: good, and with every edit."""
        states = [(setup, state) for setup in setups for state in setup.states]
        stands: dict[Setup, list[Stand]] = {}
        for (setup, _), stand in zip(states, self.live.solve([s for _, s in states]), strict=True):
            stands.setdefault(setup, []).append(stand)
        for setup, probes in setups.items():
            first, *others = stands[setup]
            leaning = self.leaning[setup] = Leaning(self.live, first, beside)
            good = {probe: self._good_volts(probe, leaning) for probe in probes}
            kept = {
                probe: own
                for probe, own in good.items()
                if own and (setup.dark or all(self._agrees(probe, own, other) for other in others))
            }
            links = [list(self._live_links(edit, leaning)) for edit in edits]
            found = self.live.sign * volts_with(leaning.net, [(p.at, p.to) for p in kept], links)
            for n, (probe, own) in enumerate(kept.items()):
                yield probe, own, found[:, n]

    @staticmethod
    def _live_links(edit: Edit, leaning: Leaning) -> Iterator[Link]:
        net, stand = leaning.net, leaning.stand
        for index in sorted(edit.gone):
            n = leaning.where.get(index)
            if n is not None:
                branch = leaning.live.grid.bare[index]
                yield branch.a, branch.b, -float(net.siemens[n])
        for gated in edit.added:
            if is_met(gated.guard, stand.position):
                a, b = gated.branch.a, gated.branch.b
                over = float(net.volts[net.number[a]] - net.volts[net.number[b]])
                yield a, b, secant(gated.branch, over)

    def _good_volts(self, probe: Probe, leaning: Leaning) -> Good | None:
        """Volts of a good circuit; none where they hang on the meter itself, or on what a motor generates."""
        reading = self.live.read(leaning.stand.point, probe.at, probe.to)
        if abs(reading) > meter_error(0.0, "V") and not leaning.is_firm(probe.at, probe.to):
            return None
        if self.generating.is_felt(leaning, probe.at, probe.to):
            return None
        return Good(reading, leaning.width(probe.at, probe.to) + meter_error(reading, "V"))

    def _agrees(self, probe: Probe, good: Good, other: Stand) -> bool:
        """Whether a reading stays good in another state that the setup goes through."""
        return abs(self.live.read(other.point, probe.at, probe.to) - good.reading) <= good.off


def _points(probes: Sequence[Probe], edits: Sequence[Edit]) -> list[str]:
    """All points that may be read or joined, also those that nothing reaches in some position."""
    read = [node for probe in probes for node in (probe.at, probe.to)]
    joined = [node for edit in edits for g in edit.added for node in (g.branch.a, g.branch.b)]
    return list(dict.fromkeys([BODY, *read, *joined]))


def as_read(ohms: float) -> float:
    """Ohms as a meter shows them: open above what it can read."""
    return inf if ohms >= OPEN_OHMS else ohms


def good_ohms(ohms: float) -> Good:
    """Ohms of a good circuit: joints may have more by their factor, loads by their share."""
    reading = as_read(ohms)
    if isinf(reading):
        return Good(inf, 0.0)
    more = min(ohms, NEAR_OHMS) * (JOINT_TIMES - 1.0) if ohms < NEAR_OHMS else ohms * LOAD_SHARE
    return Good(ohms, more + meter_error(ohms, "ohm"))
