"""Many faulted networks at once: one network, solved once, seen from the few places where each differs.

The straight part of the network is inverted once, each curved branch standing in it with a chord. What is
left are ports: the curved branches, and the branches that a fault takes away or adds. The ports of each
fault are solved by Newton's method, those of many faults together. So a fault costs as many unknowns as the
network has lamps, not as it has nodes.
"""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array
from planner.currents.laws import Emf, Filament, Junction, Law
from planner.currents.solver import Branch
from planner.testing.hunt.port_laws import PortLaws

Numbers = NDArray[np.intp]
# From every node to zero, in S: a node that nothing joins any more reads 0 V, as on a meter. Large enough for
# the digits to last beside joints of a milliohm, small enough to change no reading: 12 uA at 12 V.
LEAK = 1e-7
SETTLED_V = 1e-5
MOST_ROUNDS = 40
TOGETHER = 256  # faults that are solved together: as many as fit into a processor's cache, or nearly


@dataclass(frozen=True, slots=True)
class Difference:
    """How one faulted network differs: branches of the whole one that are gone, by index, and new ones."""

    gone: frozenset[int]
    added: tuple[Branch, ...]


class Ports:
    """One network of closed branches over a fixed set of nodes; ``whole`` are its volts without any fault."""

    def __init__(self, nodes: dict[str, int], branches: Sequence[Branch], zero: str) -> None:
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
        sources = np.zeros(size)
        np.add.at(sources, self.a, pushed)
        np.add.at(sources, self.b, -pushed)
        kept = np.arange(size) != nodes[zero]
        self.ohms = np.zeros((size, size))
        self.ohms[np.ix_(kept, kept)] = np.linalg.inv(matrix[np.ix_(kept, kept)])
        self.straight = self.ohms @ sources
        self.whole = self.straight
        self.whole = self.volts([Difference(frozenset(), ())])[0][0]

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
        count, own = len(differences), len(self.curved)
        width = own + max(len(d.gone - self.port_of.keys()) + len(d.added) for d in differences)
        a = np.zeros((count, width), dtype=int)
        b = np.zeros((count, width), dtype=int)
        a[:, :own], b[:, :own] = self.a[self.curved], self.b[self.curved]
        laws = self.laws.widened(count, width)
        for row, difference in enumerate(differences):
            column = own
            for n in sorted(difference.gone):
                if n in self.port_of:
                    laws.take_out(row, self.port_of[n])
                else:
                    branch = self.branches[n]
                    a[row, column], b[row, column] = self.a[n], self.b[n]
                    laws.put(row, column, branch.law, -1.0)
                    column += 1
            for branch in difference.added:
                a[row, column], b[row, column] = self.nodes[branch.a], self.nodes[branch.b]
                laws.put(row, column, branch.law, 1.0)
                column += 1
        ohms = self._between(a, b)
        alone = self.straight[a] - self.straight[b]
        across, settled = _newton(ohms, alone, self.whole[a] - self.whole[b], laws)
        amps = laws.at(across)[0]
        out = self.straight - amps[:, :own] @ (
            self.ohms[self.a[self.curved]] - self.ohms[self.b[self.curved]]
        )
        for column in range(own, width):
            out -= amps[:, column, None] * (self.ohms[a[:, column]] - self.ohms[b[:, column]])
        return out, settled

    def _between(self, a: Numbers, b: Numbers) -> Array:
        """Ohms between ports: the volts across one for each ampere through another."""
        one, other = (a[:, :, None], b[:, :, None]), (a[:, None, :], b[:, None, :])
        found: Array = self.ohms[one[0], other[0]] - self.ohms[one[0], other[1]]
        return found - self.ohms[one[1], other[0]] + self.ohms[one[1], other[1]]


def _newton(ohms: Array, alone: Array, first: Array, laws: PortLaws) -> tuple[Array, NDArray[np.bool_]]:
    """The volts across all ports: what is there without them, less what their currents make.

    Each port is replaced by its tangent at some volts; where the next ones are far off, they are taken only
    part of the way, each port by itself.
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
        at = own.nearer(at, volts)
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


def _chord(law: Law) -> float:
    """What stands in the straight network for a branch: itself, or about what a curved one does at work."""
    if isinstance(law, Filament):
        return 1.0 / law.hot_ohms
    return LEAK if isinstance(law, Junction) else law.siemens(0.0)


def _ends(nodes: dict[str, int], branches: Sequence[Branch]) -> tuple[Numbers, Numbers]:
    a = np.array([nodes[branch.a] for branch in branches], dtype=int)
    return a, np.array([nodes[branch.b] for branch in branches], dtype=int)
