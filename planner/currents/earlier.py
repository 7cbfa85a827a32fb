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

from planner.currents.amps import NO_AMPS, Amps
from planner.currents.grid import Gated, Grid, Position
from planner.currents.laws import Emf, Resistance
from planner.currents.positions import Positions
from planner.currents.sample import Moved, Sample
from planner.currents.solver import Point

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
        self.is_aligned = old.numbered == new.numbered

    @cached_property
    def samples(self) -> Mapping[Moved, Sample]:
        """Those that are the same in every respect if their points still hold."""
        if not self._samples or not self.is_aligned or not self.positions.is_like(self._samples[0].positions):
            return {}
        return {sample.moved: sample for sample in self._samples}

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
    def _to_new(self) -> Mapping[int, int]:
        """Where each branch of the earlier loom stands, those left out that went; of those that came none."""
        came = frozenset(self.came)
        names = {g.branch.name: i for i, g in enumerate(self.new.branches) if i not in came}
        return {
            i: names[gated.branch.name]
            for i, gated in enumerate(self.old.branches)
            if gated.branch.name in names
        }

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
        return replace(
            point,
            places=self._places(point, met, tuple(volts)),
            numbers=array("d", [*point.numbers, *volts.values()]),
            afloat=point.afloat if point.afloat.isdisjoint(volts) else point.afloat - volts.keys(),
            amps=self._renumbered(Amps.of(amps)),
            rounds=0,
        )

    def _places(self, point: Point, met: bytes, came: tuple[str, ...]) -> Mapping[str, int]:
        """Where the volts of nodes stand, also of those that came; nothing reaches some any more."""
        bare = [node for node, guards in self._left.items() if not any(met[guard] for guard in guards)]
        key = (id(point.places), *bare, *came)
        if key not in self._placed:
            new = {node: at for at, node in enumerate(came, len(point.numbers))}
            self._placed[key] = (point.places, {**point.places, **dict.fromkeys(bare, -1), **new})
        return self._placed[key][1]

    @cached_property
    def _placed(self) -> dict[object, tuple[Mapping[str, int], Mapping[str, int]]]:
        """By what the places were, which is kept, and what is different: few are met in many points."""
        return {}

    def _renumbered(self, amps: Amps) -> Amps:
        """The same currents by the numbers that branches have now."""
        place = self._to_new
        live = sorted((place[i], own) for i, own in zip(amps.live, amps.own, strict=True) if i in place)
        return Amps(
            array("i", [i for i, _ in live]), array("d", [own for _, own in live]), len(self.new.branches)
        )

    def _joined(self, came: list[int], point: Point) -> dict[str, float] | None:
        """The volts of nodes that only new branches have; None if one of those would carry current."""
        near: dict[str, set[str]] = {}
        for index in came:
            branch = self.new.branches[index].branch
            near.setdefault(branch.a, set()).add(branch.b)
            near.setdefault(branch.b, set()).add(branch.a)
        known = {node: at for node in near if (at := point.at(node)) is not None}
        if any(not is_joined for _, is_joined in known.values()):
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
            held = [known[node][0] for node in group if node in known]
            if held and max(held) - min(held) > SAME_VOLTS:
                return None
            if held:
                found |= dict.fromkeys((node for node in group if node not in known), held[0])
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
