"""Operating points of one loom that hold in another: what is changed carries no current there.

Two looms of one job differ in a few branches. In a position in which none of those that went carried current,
and none of those that came joins two different voltages, every volt and ampere is as it was. A branch that
only got other ohms acts as if a source of its current times the difference were put in (the compensation
theorem): no voltage anywhere moves by more than that.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from planner.currents.grid import Gated, Grid, Position
from planner.currents.laws import Emf, Resistance
from planner.currents.solver import Point

NO_AMPS = 1e-12
SAME_VOLTS = 1e-12
STRAY_VOLTS = 1e-6  # what all branches with other ohms together may move a voltage before it is solved again


class Earlier:
    """The solved positions of one grid, seen from another whose loom has some ``variables``.

    Positions are the same if they agree in the variables of both looms.
    """

    def __init__(
        self,
        old: Grid,
        points: Sequence[tuple[Position, Mapping[int, float], Point]],
        new: Grid,
        variables: Iterable[str],
    ) -> None:
        came = [i for i, gated in enumerate(new.branches) if gated not in old.as_set]
        went = [i for i, gated in enumerate(old.branches) if gated not in new.as_set]
        lengthened = dict(_lengthened(old, went, new, came))
        self.other_ohms = tuple((there, ohms) for there, ohms in lengthened.values())
        kept = {there for there, _ in lengthened.values()}
        self.came = frozenset(i for i in came if i not in lengthened)
        self.went = tuple(i for i in went if i not in kept)
        self.new = new
        self.is_aligned = [b[:3] for b in old.bare] == [b[:3] for b in new.bare]  # numbered alike, that is
        self.names = {gated.branch.name: i for i, gated in enumerate(old.branches)}
        there = points[0][0] if points else {}
        self.common = tuple(name for name in variables if name in there)
        self.points: dict[tuple[str, ...], tuple[Mapping[int, float], Point]] = {}
        if old.zero == new.zero and not any(_is_source(new.branches[i]) for i in self.came):
            for position, amps, point in points:
                self.points.setdefault(tuple(position[name] for name in self.common), (amps, point))

    def point(self, position: Position, closed: Sequence[int]) -> Point | None:
        """The operating point in a position, if it is the same as that of the earlier loom.

        The very one where all branches are numbered alike and the same ones are closed.
        """
        found = self.points.get(tuple(position[name] for name in self.common))
        if found is None:
            return None
        amps, point = found
        if any(abs(amps.get(i, 0.0)) > NO_AMPS for i in self.went):
            return None
        stray = sum(abs(amps.get(i, 0.0)) * ohms for i, ohms in self.other_ohms)
        if stray > STRAY_VOLTS:
            return None
        if self.is_aligned and self.came.isdisjoint(closed) and list(amps) == closed:
            return point
        volts = self._joined([i for i in closed if i in self.came], point)
        if volts is None:
            return None
        names = self.names
        here = [
            0.0 if i in self.came else amps.get(names[self.new.branches[i].branch.name], 0.0) for i in closed
        ]
        return Point({**point.volts, **volts}, point.floating, here, point.residual_amps, 0, point.unsettled)

    def _joined(self, came: list[int], point: Point) -> dict[str, float] | None:
        """The volts of nodes that only new branches have; None if one of those would carry current."""
        near: dict[str, set[str]] = {}
        for index in came:
            branch = self.new.branches[index].branch
            near.setdefault(branch.a, set()).add(branch.b)
            near.setdefault(branch.b, set()).add(branch.a)
        if any(node in point.floating for node in near):
            return None
        found: dict[str, float] = {}
        left = set(near)
        while left:
            stack = [left.pop()]
            group = set(stack)
            while stack:
                more = near[stack.pop()] - group
                group |= more
                stack += more
            left -= group
            held = [point.volts[node] for node in group if node in point.volts]
            if held and max(held) - min(held) > SAME_VOLTS:
                return None
            if held:
                found |= dict.fromkeys((node for node in group if node not in point.volts), held[0])
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


def _is_source(gated: Gated) -> bool:
    return isinstance(gated.branch.law, Emf)
