"""Many faulted networks at once: one network, solved once, seen from the few places where each differs.

The whole network is solved, and inverted with the tangent of each curved branch at its own volts. A fault is
then a few ports: the branches that it takes away or adds. Lamps and diodes whose volts it moves so far that
their tangent no longer holds become ports too; those of many faults are solved together by Newton's method.
So a fault costs as many unknowns as it changes branches and lamps, not as the network has nodes.
"""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array
from planner.currents.laws import Emf, Filament, Junction, Law, Resistance
from planner.currents.solver import Branch
from planner.testing.hunt.port_laws import PortLaws

Numbers = NDArray[np.intp]
# From every node to zero, in S: a node that nothing joins any more reads 0 V, as on a meter. Large enough for
# the digits to last beside joints of a milliohm, small enough to change no reading: 12 uA at 12 V.
LEAK = 1e-7
# What hangs on nothing is held to zero by this, until a fault joins it to something: with the leak alone its
# ohms to zero are so large that those of its joints are lost in their last digits.
HELD = Resistance(1.0)
SETTLED_V = 1e-5
STRAIGHT_V = 1e-5  # what a tangent's error may move volts at its own branch
MOST_ROUNDS = 40
TOGETHER = 256  # faults that are solved together: as many as fit into a processor's cache, or nearly


@dataclass(frozen=True, slots=True)
class Difference:
    """How one faulted network differs: branches of the whole one that are gone, by index, and new ones."""

    gone: frozenset[int]
    added: tuple[Branch, ...]


class Ports:
    """One network of closed branches over a fixed set of nodes; ``whole`` are its volts without any fault.

    ``is_held``: what hangs on nothing is held to zero, so that only volts are right there, and not ohms.
    """

    def __init__(
        self, nodes: dict[str, int], branches: Sequence[Branch], zero: str, *, is_held: bool = False
    ) -> None:
        self.nodes, self.branches = nodes, branches
        self.a, self.b = _ends(nodes, branches)
        self.curved = [n for n, branch in enumerate(branches) if not branch.law.is_linear]
        self.port_of = {n: port for port, n in enumerate(self.curved)}
        siemens = np.array([_chord(branch.law) for branch in branches])
        pushed = np.array([b.law.volts / b.law.ohms if isinstance(b.law, Emf) else 0.0 for b in branches])
        self.laws = PortLaws.of([branches[n].law for n in self.curved])
        self.laws.siemens -= siemens[self.curved]
        size = len(nodes)
        matrix = np.zeros((size, size))
        np.add.at(matrix, (self.a, self.a), siemens)
        np.add.at(matrix, (self.b, self.b), siemens)
        np.add.at(matrix, (self.a, self.b), -siemens)
        np.add.at(matrix, (self.b, self.a), -siemens)
        matrix[np.arange(size), np.arange(size)] += LEAK
        self.zero = nodes[zero]
        self.island = islands(size, self.a, self.b, self.zero) if is_held else np.full(size, self.zero)
        held = np.setdiff1d(self.island, [self.zero])
        matrix[held, held] += HELD.siemens(0.0)
        sources = np.zeros(size)
        np.add.at(sources, self.a, pushed)
        np.add.at(sources, self.b, -pushed)
        kept = np.arange(size) != self.zero
        self.ohms = np.zeros((size, size))
        self.ohms[np.ix_(kept, kept)] = np.linalg.inv(matrix[np.ix_(kept, kept)])
        self.whole = self.ohms @ sources
        self._bend()

    def _bend(self) -> None:
        """Put the tangents of the curved branches at their own volts in the place of their chords."""
        a, b = self.a[self.curved], self.b[self.curved]
        seen = self.ohms[a] - self.ohms[b]
        between = seen[:, a] - seen[:, b]
        first = self.whole[a] - self.whole[b]
        across = _newton(between[None], first[None], first[None], self.laws)[0][0]
        amps, slopes = (own[0] for own in self.laws.at(across[None]))  # beside those of the chords
        self.whole = self.whole - amps @ seen
        tangent = np.eye(len(a)) + slopes[:, None] * between
        self.ohms = self.ohms - seen.T @ np.linalg.solve(tangent, slopes[:, None] * seen)
        self.across = self.whole[a] - self.whole[b]
        amps, slopes = (own[0] for own in self.laws.at(self.across[None]))
        self.laws.siemens -= slopes
        self.laws.pushed -= amps - slopes * self.across
        self.seen = self.ohms[a] - self.ohms[b]  # volts of each node for each ampere through a curved branch
        self.own_ohms = self.seen[np.arange(len(a)), a] - self.seen[np.arange(len(a)), b]

    def volts(self, differences: Sequence[Difference]) -> tuple[Array, NDArray[np.bool_]]:
        """Volts of every node (column) in every faulted network (row), and which of these settled."""
        out = np.empty((len(differences), len(self.nodes)))
        settled = np.zeros(len(differences), dtype=bool)
        sizes = [len(d.added) + len(d.gone) for d in differences]
        order = sorted(range(len(differences)), key=sizes.__getitem__)
        for start in range(0, len(order), TOGETHER):
            chunk = order[start : start + TOGETHER]
            out[chunk], settled[chunk] = self._solve([differences[n] for n in chunk])
        return out, settled

    def _solve(self, differences: Sequence[Difference]) -> tuple[Array, NDArray[np.bool_]]:
        """The same of a few, whose lamps and diodes are let go from their tangents where they have to be."""
        out, settled = np.empty((len(differences), len(self.nodes))), np.zeros(len(differences), dtype=bool)
        bent = np.zeros((len(differences), len(self.curved)), dtype=bool)
        rows = np.arange(len(differences))
        while rows.size:
            order = rows[np.argsort(bent[rows].sum(axis=1), kind="stable")]
            for start in range(0, len(order), TOGETHER // 4):
                some = order[start : start + TOGETHER // 4]
                out[some], settled[some] = self._bent([differences[n] for n in some.tolist()], bent[some])
            more = self._is_off(out[rows], [differences[n] for n in rows.tolist()]) & ~bent[rows]
            bent[rows] |= more
            rows = rows[more.any(axis=1) & settled[rows]]
        return out, settled

    def _is_off(self, volts: Array, differences: Sequence[Difference]) -> NDArray[np.bool_]:
        """Where a tangent no longer holds at some volts: a row a network, a column a curved branch."""
        across = volts[:, self.a[self.curved]] - volts[:, self.b[self.curved]]
        found: NDArray[np.bool_] = np.abs(self.laws.at(across)[0]) * self.own_ohms > STRAIGHT_V
        for row, difference in enumerate(differences):
            for n in difference.gone & self.port_of.keys():
                found[row, self.port_of[n]] = False
        return found

    def _bent(
        self, differences: Sequence[Difference], bent: NDArray[np.bool_]
    ) -> tuple[Array, NDArray[np.bool_]]:
        """The same with some curved branches as they are and all others by their tangents."""
        count = len(differences)
        let_go = [self._let_go(d) for d in differences]
        own = max(len(d.gone) + len(d.added) + len(held) for d, held in zip(differences, let_go, strict=True))
        width = own + int(bent.sum(axis=1).max())
        a, b = np.zeros((count, width), dtype=int), np.zeros((count, width), dtype=int)
        laws = PortLaws(count, width)
        for row, difference in enumerate(differences):
            for column, n in enumerate(sorted(difference.gone)):
                a[row, column], b[row, column] = self.a[n], self.b[n]
                if n in self.port_of:
                    laws.take_out(row, column, self.laws, self.port_of[n])
                else:
                    laws.put(row, column, self.branches[n].law, -1.0)
            for column, branch in enumerate(difference.added, len(difference.gone)):
                a[row, column], b[row, column] = self.nodes[branch.a], self.nodes[branch.b]
                laws.put(row, column, branch.law, 1.0)
            for column, node in enumerate(let_go[row], len(difference.gone) + len(difference.added)):
                a[row, column], b[row, column] = node, self.zero
                laws.put(row, column, HELD, -1.0)
        rows, bends = np.nonzero(bent)
        columns = own + np.concatenate([np.arange(n) for n in bent.sum(axis=1)])
        a[rows, columns], b[rows, columns] = self.a[self.curved][bends], self.b[self.curved][bends]
        laws.copy(rows, columns, self.laws, bends)
        ohms = self._between(a, b)
        alone = self.whole[a] - self.whole[b]
        across, settled = _newton(ohms, alone, alone, laws)
        amps = laws.at(across)[0]
        out = np.repeat(self.whole[None], count, axis=0)
        for column in range(width):
            out -= amps[:, column, None] * (self.ohms[a[:, column]] - self.ohms[b[:, column]])
        return out, settled

    def _let_go(self, difference: Difference) -> list[int]:
        """Where what is held has to be let go, since a new branch joins it to something else."""
        found: set[int] = set()
        for branch in difference.added:
            one, other = self.island[self.nodes[branch.a]], self.island[self.nodes[branch.b]]
            if one != other:
                found |= {int(one), int(other)}
        return sorted(found - {self.zero})

    def _between(self, a: Numbers, b: Numbers) -> Array:
        """Ohms between ports: the volts across one for each ampere through another."""
        one, other = (a[:, :, None], b[:, :, None]), (a[:, None, :], b[:, None, :])
        found: Array = self.ohms[one[0], other[0]] - self.ohms[one[0], other[1]]
        return found - self.ohms[one[1], other[0]] + self.ohms[one[1], other[1]]


def _newton(ohms: Array, alone: Array, first: Array, laws: PortLaws) -> tuple[Array, NDArray[np.bool_]]:
    """The volts across all ports: what is there without them, less what their currents make.

    Each port is replaced by its tangent at some volts; where the next ones are laid ``PortLaws`` says.
    """
    across = first.copy()
    settled = np.zeros(len(alone), dtype=bool)
    left = np.arange(len(alone))
    own, here, base, at = laws, ohms, alone, first
    diagonal = np.arange(alone.shape[1])
    for _ in range(MOST_ROUNDS):
        amps, slopes = own.at(at)
        tangent = here * slopes[:, None, :]
        tangent[:, diagonal, diagonal] += 1.0
        driven = base - np.einsum("fpq,fq->fp", here, amps - slopes * at)
        volts = _solved(tangent, driven)
        is_lost: NDArray[np.bool_] = np.logical_or.reduce(np.isnan(volts), axis=1)
        there = np.logical_or(np.abs(volts - at).max(axis=1, initial=0.0) < SETTLED_V, is_lost)
        across[left] = np.where(is_lost[:, None], 0.0, volts)
        settled[left[there & ~is_lost]] = True
        if there.all():
            break
        at = own.nearer(at, volts, amps, slopes)
        if there.any():
            keep = np.flatnonzero(~there)
            left, at, here, base, own = left[keep], at[keep], here[keep], base[keep], own.some(keep)
    return across, settled


def _solved(tangent: Array, driven: Array) -> Array:
    """The solution of each set of equations; no numbers where there is none to the last digit."""
    try:
        return np.asarray(np.linalg.solve(tangent, driven[:, :, None])[:, :, 0])
    except np.linalg.LinAlgError:
        found = np.full(driven.shape, np.nan)
        for row, (matrix, right) in enumerate(zip(tangent, driven, strict=True)):
            with suppress(np.linalg.LinAlgError):
                found[row] = np.linalg.solve(matrix, right)
        return found


def islands(size: int, a: Numbers, b: Numbers, zero: int) -> Numbers:
    """By node, the node that stands for all that it is joined to: zero itself where that is."""
    found = np.arange(size)
    while True:
        least = found.copy()
        np.minimum.at(least, a, found[b])
        np.minimum.at(least, b, found[a])
        least = least[least]
        if (least == found).all():
            break
        found = least
    return np.where(found == found[zero], zero, found)


def _chord(law: Law) -> float:
    """What stands in the straight network for a branch: itself, or about what a curved one does at work."""
    if isinstance(law, Filament):
        return 1.0 / law.hot_ohms
    return LEAK if isinstance(law, Junction) else law.siemens(0.0)


def _ends(nodes: dict[str, int], branches: Sequence[Branch]) -> tuple[Numbers, Numbers]:
    a = np.array([nodes[branch.a] for branch in branches], dtype=int)
    return a, np.array([nodes[branch.b] for branch in branches], dtype=int)
