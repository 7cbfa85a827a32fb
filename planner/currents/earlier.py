"""Operating points of one loom that hold in another: what is changed carries no current there.

Two looms of one job differ in a few branches. In a position in which none of those that went carried current,
and none of those that came joins two different voltages, every volt and ampere is as it was. A branch that
only got other ohms acts as if a source of its current times the difference were put in (the compensation
theorem): no voltage anywhere moves by more than that.
"""

from array import array
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from planner.currents.grid import Gated, Grid, Position
from planner.currents.laws import Emf, Resistance
from planner.currents.positions import Positions
from planner.currents.sample import Moved, Sample
from planner.currents.solver import NO_AMPS, Point

SAME_VOLTS = 1e-12
STRAY_VOLTS = 1e-6  # what all branches with other ohms together may move a voltage before it is solved again


class Earlier:
    """The solved positions of one grid, seen from another with its own ``positions``.

    Positions are the same if they agree in the variables of both looms.
    """

    def __init__(self, old: Grid, samples: Sequence[Sample], new: Grid, positions: Positions) -> None:
        came = [i for i, gated in enumerate(new.branches) if gated not in old.as_set]
        went = [i for i, gated in enumerate(old.branches) if gated not in new.as_set]
        lengthened = dict(_lengthened(old, went, new, came))
        self.other_ohms = tuple((there, ohms) for there, ohms in lengthened.values())
        kept = {there for there, _ in lengthened.values()}
        self.came = [i for i in came if i not in lengthened]
        self.went = tuple(i for i in went if i not in kept)
        self.old, self.new, self.positions = old, new, positions
        hold = old.zero == new.zero and not any(_is_source(new.branches[i]) for i in self.came)
        self._samples = samples if hold else ()
        self.is_aligned = _numbered(old) == _numbered(new)

    @cached_property
    def samples(self) -> Mapping[Moved, Sample]:
        """Those that are the same in every respect if their points still hold."""
        if not self._samples or not self.is_aligned or not self.positions.is_like(self._samples[0].positions):
            return {}
        return {tuple(sample.assignment.items()): sample for sample in self._samples}

    def near(self, position: Position) -> Point | None:
        """What the earlier loom did in a position that ``samples`` leave open, whether it holds or not."""
        return None if self.samples else self._points.get(tuple(position[name] for name in self._common))

    @cached_property
    def _common(self) -> Sequence[str]:
        """The variables of both looms."""
        there = self._samples[0].position if self._samples else {}
        return [name for name in self.positions.view.net.variables if name in there]

    @cached_property
    def _points(self) -> Mapping[tuple[str, ...], Point]:
        """By the labels of the variables of both."""
        found: dict[tuple[str, ...], Point] = {}
        for sample in self._samples:
            position = sample.position
            found.setdefault(tuple(position[name] for name in self._common), sample.point)
        return found

    @cached_property
    def _left(self) -> Mapping[str, Sequence[int]]:
        """By the ends of what went, the guards of what still reaches them."""
        ends = {node for i in self.went for node in self.old.branches[i].branch[1:3]}
        left: dict[str, list[int]] = {node: [] for node in ends}
        for guard, gated in zip(self.new.guard_of, self.new.branches, strict=True):
            for node in ends.intersection(gated.branch[1:3]):
                left[node].append(guard)
        return left

    @cached_property
    def _from_old(self) -> Sequence[int]:
        """Where the current of each branch stands in the earlier loom; of those that came none flows."""
        names = {gated.branch.name: i for i, gated in enumerate(self.old.branches)}
        came = frozenset(self.came)
        return [
            -1 if i in came else names.get(gated.branch.name, -1) for i, gated in enumerate(self.new.branches)
        ]

    def holds(self, point: Point, met: bytes) -> Point | None:
        """A point of the earlier loom as it is where some guards hold, if it is still true.

        The very one where all branches are numbered alike.
        """
        amps = point.amps
        if any(abs(amps[i]) > NO_AMPS for i in self.went):
            return None
        if sum([abs(amps[i]) * ohms for i, ohms in self.other_ohms]) > STRAY_VOLTS:
            return None
        volts = self._joined([i for i in self.came if met[self.new.guard_of[i]]], point) if self.came else {}
        if volts is None:
            return None
        if self.is_aligned and not volts:
            return point
        bare = {node for node, guards in self._left.items() if not any(met[guard] for guard in guards)}
        places = {node: at for node, at in point.places.items() if node not in bare}
        places |= {node: at for at, node in enumerate(volts, len(point.numbers))}
        return replace(
            point,
            places=places,
            numbers=array("d", [*point.numbers, *volts.values()]),
            amps=array("d", [0.0 if i < 0 else amps[i] for i in self._from_old]),
            rounds=0,
            live=None,
        )

    def _joined(self, came: list[int], point: Point) -> dict[str, float] | None:
        """The volts of nodes that only new branches have; None if one of those would carry current."""
        near: dict[str, set[str]] = {}
        for index in came:
            branch = self.new.branches[index].branch
            near.setdefault(branch.a, set()).add(branch.b)
            near.setdefault(branch.b, set()).add(branch.a)
        if any(node in point.afloat for node in near):
            return None
        found: dict[str, float] = {}
        places = point.places
        left = set(near)
        while left:
            stack = [left.pop()]
            group = set(stack)
            while stack:
                more = near[stack.pop()] - group
                group |= more
                stack += more
            left -= group
            held = [point.numbers[places[node]] for node in group if node in places]
            if held and max(held) - min(held) > SAME_VOLTS:
                return None
            if held:
                found |= dict.fromkeys((node for node in group if node not in places), held[0])
        return found


def _lengthened(
    old: Grid, went: Sequence[int], new: Grid, came: Sequence[int]
) -> Iterator[tuple[int, tuple[int, float]]]:
    """Yield the new branches that are old ones with other ohms: where each was, and the difference."""
    there = {(old.branches[i].branch[:3], old.branches[i].guard): i for i in went}
    for index in came:
        branch, guard = new.branches[index].branch, new.branches[index].guard
        match = there.get((branch[:3], guard))
        if match is None:
            continue
        law = old.branches[match].branch.law
        if isinstance(law, Resistance) and isinstance(branch.law, Resistance):
            yield index, (match, abs(law.ohms - branch.law.ohms))


def _numbered(grid: Grid) -> list[tuple[object, ...]]:
    """What is the same in two grids if what is found of one branch is found of the other by its index."""
    return [(*gated.branch[:3], gated.guard) for gated in grid.branches]


def _is_source(gated: Gated) -> bool:
    return isinstance(gated.branch.law, Emf)
