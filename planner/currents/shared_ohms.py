"""The ohms that the way of a load's current has in common with those of others, meeting by meeting."""

from collections.abc import Mapping, Sequence
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.laws import Resistance
from planner.currents.met import Met
from planner.currents.solver import Branch
from planner.currents.sums import Row

# In such steps ways are told apart where crowds are ranked. Of two that are nearly equal the lesser may then
# be solved: over all shipped jobs no value is off by more than 0.5 % from what steps a tenth as wide find.
COARSE_OHMS = 0.02

Ohms = tuple[tuple[int, float], ...]  # of a load's way, by the number of the meeting they are shared in
Ways = Mapping[LoadKey, Mapping[Row, Mapping[int, float]]]  # the share of a load's current in each branch


class SharedOhms:
    """Those of one loom; what is the same in another loom ``like`` it is taken from there."""

    def __init__(
        self, met: Met, ways: Ways, branches: Sequence[Branch], like: "SharedOhms | None" = None
    ) -> None:
        self.met, self.ways, self.branches = met, ways, branches
        self.like = like if like is not None and like.met is met else None
        self._known: dict[tuple[LoadKey, Row], Ohms] = {}
        self._rounded: dict[tuple[LoadKey, Row], Ohms] = {}

    def of(self, key: LoadKey, row: Row) -> Ohms:
        """The ohms of a load's way in one row of its table, those of loads left out."""
        known = self._known.get((key, row))
        if known is None:
            way = self.ways[key][row]
            known = self._known[key, row] = self._as_before(key, row, way) or self._along(way)
        return known

    def coarse(self, key: LoadKey, row: Row) -> Ohms:
        """What of them others share, in steps coarse enough that a longer wire changes few.

        It is enough to rank crowds; of two that are nearly equal the lesser may then be solved.
        """
        known = self._rounded.get((key, row))
        if known is None:
            own = self.of(key, row)
            if self.like is not None and own is self.like._known.get((key, row)):  # nothing is different
                known = self.like._rounded.get((key, row))
            known = self._rounded[key, row] = known or self._in_steps(own)
        return known

    def _in_steps(self, ohms: Ohms) -> Ohms:
        steps = [(number, round(own / COARSE_OHMS) * COARSE_OHMS) for number, own in ohms]
        return tuple([each for each in steps if each[1] and len(self.met.meetings[each[0]]) > 1])

    def _as_before(self, key: LoadKey, row: Row, way: Mapping[int, float]) -> Ohms | None:
        """The same as it is known from another loom, if nothing on the way is different."""
        like = self.like
        if like is None or like.ways.get(key, {}).get(row) is not way or not self._changed.isdisjoint(way):
            return None
        return like._known.get((key, row))

    @cached_property
    def _changed(self) -> frozenset[int]:
        """The branches that have other ohms than in the other loom."""
        assert self.like is not None
        pairs = zip(self._branch_ohms, self.like._branch_ohms, strict=True)
        return frozenset(index for index, (own, other) in enumerate(pairs) if own != other)

    def _along(self, way: Mapping[int, float]) -> Ohms:
        found: dict[int, float] = {}
        for branch, share in way.items():
            if ohms := self._branch_ohms[branch]:
                number = self.met.of_branch[branch]
                found[number] = found.get(number, 0.0) + share * ohms
        rank = self.met.rank
        return tuple([(number, round(found[number], 3)) for number in sorted(found, key=rank.__getitem__)])

    @cached_property
    def _branch_ohms(self) -> Sequence[float]:
        """The ohms of what loads may share: of everything but loads, where it is a resistance."""
        return [
            branch.law.ohms if isinstance(branch.law, Resistance) and branch.name[0] != "load" else 0.0
            for branch in self.branches
        ]
