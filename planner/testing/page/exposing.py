"""Which readings show which mistakes: each mistake is made in each setup, and every reading taken again."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import inf, isinf
from types import MappingProxyType

import numpy as np

from planner.currents.curves import Array
from planner.currents.grid import BODY, Position, is_met
from planner.currents.solver import Branch
from planner.model.observations import OPEN_OHMS
from planner.testing.mistakes.applied import Edit, Editor
from planner.testing.mistakes.mistake import BranchName, Mistake
from planner.testing.page.around import Around, secant
from planner.testing.page.blocked import Blocked
from planner.testing.page.dead import DeadNet
from planner.testing.page.edited import Link, ohms_with, volts_with
from planner.testing.page.exposure import APART, Exposure, Good, Name
from planner.testing.page.generating import Generating
from planner.testing.page.levels import Level, Levels
from planner.testing.page.live import Leaning, Live, Stand
from planner.testing.page.misread_leads import misread_leads
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup
from planner.testing.page.stabilised import Stabilised, cold_branches, heaters_of
from planner.testing.page.tolerance import JOINT_TIMES, LOAD_SHARE, meter_error

MOST_OHMS = 1e3  # of a good circuit: more is told from an open one by nobody who holds the tips by hand
NEAR_OHMS = 1.0  # a wire and its joints have less; above it are loads


class Exposer:
    """Takes readings of one vehicle as it should be, and with each mistake.

    With the battery off, the leads on its earthed ``posts`` are off them. A mistake is shown by what it makes
    wrong at every one of its ``levels``, and wherever a motor or a stepping relay was ``left``; with the
    battery off also whatever is ``unsteady``, and whether or not a stabiliser has a heater. A fuse goes
    before anybody reads at more than the amps of ``blows_at``.
    """

    def __init__(
        self,
        live: Live,
        editor: Editor,
        rest: Position,
        posts: frozenset[str],
        generating: Generating,
        levels: Levels,
        electronic: frozenset[tuple[str, ...]],
        left: Sequence[Position] = (),
        blows_at: Mapping[BranchName, float] = MappingProxyType({}),
        unsteady: frozenset[BranchName] = frozenset(),
    ) -> None:
        self.live, self.editor, self.rest, self.posts = live, editor, rest, posts
        self.generating, self.levels, self.blows_at = generating, levels, blows_at
        self._held = Stabilised(editor.loom, editor.catalogue.parts).outputs.keys()
        self.leaning: dict[tuple[Setup, Level | None], Leaning] = {}
        whole = cold_branches(live.grid.bare[i] for i in live.grid.closed(rest))
        self.dead = self._off_posts(whole)
        self.dead_at = {
            level: self._off_posts(cold_branches(live.grid.bare[i] for i in live.grid.closed(position)))
            for level, position in levels.of(rest)
        }
        self.left = [
            (position, self._off_posts(cold_branches(live.grid.bare[i] for i in live.grid.closed(position))))
            for position in left
        ]
        closed = [live.grid.bare[i] for i in live.grid.closed(rest)]
        heaters = heaters_of(closed)
        self.left += [(rest, [*self.dead, *heaters])] if heaters else []
        self.blocked = Blocked([b for b in closed if not {b.a, b.b} & posts], electronic)
        self._steady = [branch for branch in self.blocked.dead if branch.name not in unsteady]
        self._clamped = whole if len(whole) > len(self.dead) + 1 else self.dead

    def _off_posts(self, branches: Sequence[Branch]) -> list[Branch]:
        return [branch for branch in branches if not {branch.a, branch.b} & self.posts]

    def expose(
        self, probes: Sequence[Probe], mistakes: Sequence[Mistake], failures: Sequence[Mistake] = ()
    ) -> Exposure:
        """Every probe that can be read, and what mistakes make of it; ``failures`` are asked for later."""
        misread = misread_leads(self.editor.loom, self.editor.catalogue, mistakes)
        edits = self.edits(mistakes)
        by_setup: dict[Setup | None, list[Probe]] = {}
        for probe in probes:
            by_setup.setdefault(probe.setup, []).append(probe)
        beside = _points(probes, [edit for _, edit in (*edits, *self.edits(failures))])
        dead = by_setup.pop(None, [])
        setups = {setup: own for setup, own in by_setup.items() if setup is not None}
        good: dict[Probe, Good] = {}
        wrong: dict[Probe, dict[Name, float]] = {}
        for probe, own, readings in (
            *self._dead(dead, [edit for _, edit in edits], beside),
            *self._live(setups, [edit for _, edit in edits], beside),
        ):
            good[probe] = own
            is_wrong = np.logical_and.reduce([own.wrong_among(level) for level in readings])
            wrong[probe] = {
                edits[n][0]: float(readings[0][n])
                for n in np.flatnonzero(is_wrong).tolist()
                if not misread.get(edits[n][0][0], frozenset()) & {probe.at, probe.to}
            }
        return Exposure(good, wrong, dict(edits), misread)

    def failed(
        self, good: Mapping[Probe, Good], failures: Sequence[Mistake]
    ) -> dict[Probe, dict[Name, float]]:
        """What failures make of some good readings that were exposed with them, where it is not good."""
        edits = self.edits(failures)
        changes = [edit for _, edit in edits]
        found: dict[Probe, dict[Name, float]] = {}
        dead = [probe for probe in good if probe.setup is None]
        beside = _points(dead, changes)
        nets = [
            self._with_edits(own, self.rest, dead, changes, beside) for own in (self.dead, self.blocked.dead)
        ]
        read = {probe: [net[:, n] for net in nets] for n, probe in enumerate(dead)}
        by_setup: dict[Setup, list[Probe]] = {}
        for probe in good:
            if probe.setup is not None:
                by_setup.setdefault(probe.setup, []).append(probe)
        for setup, probes in by_setup.items():
            levels = dict.fromkeys([None, *(level for probe in probes for level, _ in good[probe].at_levels)])
            at = {level: self._with_links(self.leaning[setup, level], probes, changes) for level in levels}
            read |= {probe: [own[:, n] for own in at.values()] for n, probe in enumerate(probes)}
        for probe, readings in read.items():
            apart = APART if probe.setup is None else 1.0
            is_wrong = np.logical_and.reduce([good[probe].wrong_among(own, apart) for own in readings])
            found[probe] = {edits[n][0]: float(readings[0][n]) for n in np.flatnonzero(is_wrong).tolist()}
        return found

    def dead_readings(
        self, probes: Sequence[Probe], mistakes: Sequence[Mistake]
    ) -> dict[Probe, dict[str, float]]:
        """The ohms that mistakes make of some readings, by the mistake; of each its first change."""
        edits = {name[0]: edit for name, edit in self.edits(mistakes) if name[1] == 0}
        changes = list(edits.values())
        net = self._with_edits(self.dead, self.rest, probes, changes, _points(probes, changes))
        return {probe: dict(zip(edits, net[:, n].tolist(), strict=True)) for n, probe in enumerate(probes)}

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
    ) -> Iterator[tuple[Probe, Good, Sequence[Array]]]:
        """Yield each reading of ohms: good, and with every edit, at each level that it hangs on.

        Left out is a reading that hangs on what nobody knows: whether the leads of a post hold together,
        what is inside a machine, where a motor was left, what the meter's own volts open. With an edit it is
        worked out with these and without; it shows where it is wrong in all, and the first is the one told.
        """
        probes = [probe for probe in probes if not self.posts & {probe.at, probe.to}]
        if not probes:
            return
        net, clamped, steady = DeadNet(self.dead), DeadNet(self._clamped), DeadNet(self._steady)
        nets = {level: DeadNet(branches) for level, branches in self.dead_at.items()}
        found = self._with_edits(self.dead, self.rest, probes, edits, beside)
        without = self._with_edits(self.blocked.dead, self.rest, probes, edits, beside)
        felt_steady = self._with_edits(self._steady, self.rest, probes, edits, beside)
        left = [DeadNet(branches) for _, branches in self.left]
        felt_left = [self._with_edits(own, position, probes, edits, beside) for position, own in self.left]
        felt: dict[Level, Array] = {}
        for n, probe in enumerate(probes):
            good = good_ohms(net.ohms(probe.at, probe.to))
            if good.is_wrong(as_read(clamped.ohms(probe.at, probe.to))):
                continue  # it hangs on whether the leads of the post hold together, off as they are
            if good.is_other(as_read(steady.ohms(probe.at, probe.to))):
                continue  # it hangs on brushes, or on contacts inside a machine
            if any(good.is_other(as_read(own.ohms(probe.at, probe.to))) for own in left):
                continue  # it hangs on where a motor or a stepping relay was left, or on a heater
            plus = self.blocked.plus(probe.at, probe.to, _not_other(good))
            if plus is None:
                continue  # it hangs on the meter, or on electronics
            good = replace(good, plus=plus)
            good = good_at_levels(good, {level: own.ohms(probe.at, probe.to) for level, own in nets.items()})
            for level in {level for level, _ in good.at_levels} - felt.keys():
                position = {**self.rest, level[0]: level[1]}
                felt[level] = self._with_edits(self.dead_at[level], position, probes, edits, beside)
            if isinf(good.reading) or good.reading < MOST_OHMS:
                # A mistake may lead through electronics or brushes: it shows what is wrong with and without.
                yield (
                    probe,
                    good,
                    [
                        without[:, n],
                        found[:, n],
                        felt_steady[:, n],
                        *(felt[level][:, n] for level, _ in good.at_levels),
                        *(own[:, n] for own in felt_left),
                    ],
                )

    def _with_edits(
        self,
        dead: Sequence[Branch],
        position: Position,
        probes: Sequence[Probe],
        edits: Sequence[Edit],
        beside: Sequence[str],
    ) -> Array:
        """Ohms of each probe with each edit, at one level."""
        return ohms_with(
            Around(dead, {}, BODY, beside),
            [(probe.at, probe.to) for probe in probes],
            [list(self._dead_links(edit, position)) for edit in edits],
        )

    def _dead_links(self, edit: Edit, position: Position) -> Iterator[Link]:
        closed = set(self.live.grid.closed(position))
        known = (self.live.grid.bare[index] for index in sorted(edit.gone & closed))
        gone = [branch for branch in known if not self.posts & {branch.a, branch.b}]
        added = (gated.branch for gated in edit.added if is_met(gated.guard, position))
        coming = [branch for branch in added if not self.posts & {branch.a, branch.b}]
        for sign, branches in ((-1.0, gone), (1.0, coming)):
            for branch in cold_branches(branches):
                yield branch.a, branch.b, sign * secant(branch, 0.0)

    def _live(
        self, setups: Mapping[Setup, Sequence[Probe]], edits: Sequence[Edit], beside: Sequence[str]
    ) -> Iterator[tuple[Probe, Good, Sequence[Array]]]:
        """Yield each reading of volts: good, and with every edit, at each level that it hangs on."""
        asked: list[tuple[Setup, Level | None, Position]] = [
            (setup, None, state) for setup in setups for state in setup.states
        ]
        asked += [(setup, level, own) for setup in setups for level, own in self.levels.of(setup.position)]
        stands: dict[Setup, list[Stand]] = {}
        at_levels: dict[Setup, dict[Level, Stand]] = {setup: {} for setup in setups}
        for (setup, level, _), stand in zip(asked, self.live.solve([s for *_, s in asked]), strict=True):
            if level is None:
                stands.setdefault(setup, []).append(stand)
            else:
                at_levels[setup][level] = stand
        for setup, probes in setups.items():
            first, *others = stands[setup]
            leaning = self.leaning[setup, None] = Leaning(self.live, first, beside)
            kept: dict[Probe, Good] = {}
            for probe in probes:
                own = self._good_volts(probe, leaning)
                if own and (setup.dark or all(self._agrees(probe, own, other) for other in others)):
                    kept[probe] = self._good_at_levels(probe, own, at_levels[setup])
            for level in dict.fromkeys(level for own in kept.values() for level, _ in own.at_levels):
                self.leaning[setup, level] = Leaning(self.live, at_levels[setup][level], beside)
            found = {
                level: self._with_links(self.leaning[setup, level], list(kept), edits)
                for level in [None, *at_levels[setup]]
                if (setup, level) in self.leaning
            }
            for n, (probe, own) in enumerate(kept.items()):
                yield (
                    probe,
                    own,
                    [found[level][:, n] for level in (None, *(level for level, _ in own.at_levels))],
                )

    def _with_links(self, leaning: Leaning, probes: Sequence[Probe], edits: Sequence[Edit]) -> Array:
        """Volts of each probe with each edit, at one level."""
        links = [list(self._live_links(edit, leaning)) for edit in edits]
        return self.live.sign * volts_with(leaning.net, [(p.at, p.to) for p in probes], links)

    def _good_at_levels(self, probe: Probe, good: Good, stands: Mapping[Level, Stand]) -> Good:
        """A good reading with what it is at other levels."""
        read = {level: self.live.read(stand.point, probe.at, probe.to) for level, stand in stands.items()}
        least = meter_error(good.reading, "V")
        felt = tuple((level, volts) for level, volts in read.items() if abs(volts - good.reading) > least)
        return replace(good, at_levels=felt)

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
        return Good(reading, self._width(probe, leaning) + meter_error(reading, "V"))

    def _width(self, probe: Probe, leaning: Leaning) -> float:
        """By how much good volts may be off; those that a stabiliser holds are no straight line's."""
        if probe.at not in self._held or probe.to != BODY:
            return leaning.width(probe.at, probe.to)
        corners = [leaning.corner(probe.at, probe.to, high=is_high) for is_high in (False, True)]
        ends = [
            self.live.read(point, probe.at, probe.to) for point in solve_sets(corners, self.live.grid.zero)
        ]
        reading = self.live.read(leaning.stand.point, probe.at, probe.to)
        return max(abs(end - reading) for end in ends)

    def _agrees(self, probe: Probe, good: Good, other: Stand) -> bool:
        """Whether a reading stays good in another state that the setup goes through."""
        return abs(self.live.read(other.point, probe.at, probe.to) - good.reading) <= good.off


def _points(probes: Sequence[Probe], edits: Sequence[Edit]) -> list[str]:
    """All points that may be read or joined, also those that nothing reaches in some position."""
    read = [node for probe in probes for node in (probe.at, probe.to)]
    joined = [node for edit in edits for g in edit.added for node in (g.branch.a, g.branch.b)]
    return list(dict.fromkeys([BODY, *read, *joined]))


def _not_other(good: Good) -> Callable[[float], bool]:
    return lambda ohms: not good.is_other(as_read(ohms))


def as_read(ohms: float) -> float:
    """Ohms as a meter shows them: open above what it can read."""
    return inf if ohms >= OPEN_OHMS else ohms


def good_at_levels(good: Good, ohms: Mapping[Level, float]) -> Good:
    """Ohms of a good circuit with those that it has at other levels."""
    if isinf(good.reading):
        return good
    least = meter_error(good.reading, "ohm")
    felt = tuple((level, own) for level, own in ohms.items() if abs(own - good.reading) > least)
    off = max([good.off, *(good_ohms(own).off for _, own in felt)])
    return replace(good, off=off, at_levels=felt)


def good_ohms(ohms: float) -> Good:
    """Ohms of a good circuit: joints may have more by their factor, loads by their share."""
    reading = as_read(ohms)
    if isinf(reading):
        return Good(inf, 0.0)
    more = min(ohms, NEAR_OHMS) * (JOINT_TIMES - 1.0) if ohms < NEAR_OHMS else ohms * LOAD_SHARE
    return Good(ohms, more + meter_error(ohms, "ohm"))
