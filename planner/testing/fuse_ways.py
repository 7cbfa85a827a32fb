"""Which fuses lie on the way to a load, and to the coils of the relays that let it on."""

from collections.abc import Iterator, Mapping
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.messages import tr
from planner.model.bench_sheet import FuseTest
from planner.proof.facts import place_titles


class FuseWays:
    """The fuses of one vehicle as they lie on the ways to its loads."""

    def __init__(self, seen: Inspection) -> None:
        self.seen, self.grid, self.loom = seen, seen.survey.grid, seen.loom

    @cached_property
    def fuses(self) -> Mapping[int, str]:
        """The fused side of each fuse, or its feed at the edge of the loom, by the number of its branch."""
        return {
            index: gated.branch.name[1] if gated.kind == "feed" else gated.branch.b
            for index, gated in enumerate(self.grid.branches)
            if gated.kind == "fuse"
            or (gated.kind == "feed" and self.loom.feeds[gated.branch.name[1]].fuse_amps)
        }

    def feeding(self, key: LoadKey) -> frozenset[str]:
        """The last fuses on the way to a load, in all settings in which it works; "" is one with none."""
        own = self.seen.survey.alone.get(key, ())
        found = {self._last_fuse(key, sample) for sample in own if not sample.is_generating}
        return frozenset(found or {""})

    def settings(self, key: LoadKey, at: str) -> str:
        """What is set so that a load works by one of its fuses, in words."""
        net, sample = self.seen.survey.positions.view.net, self.least(key, at)
        titles, rest = place_titles(self.loom, net), self.seen.rest_sample.position
        gating = {name for feed in self.loom.feeds.values() for name in feed.when}
        hands = [name for name in net.controls if "/" in name or name in gating]  # no points, no oil, no tank
        moved = {name: sample.position[name] for name in hands if sample.position[name] != rest[name]}
        return tr(" and ").join(f"{titles[name]} {value}" for name, value in moved.items())

    def least(self, key: LoadKey, at: str) -> Sample:
        """A load on its own, by one of its fuses if that feeds it, with as little held as can be."""
        own = self.seen.survey.alone[key]
        by_it = [sample for sample in own if at and self._last_fuse(key, sample) == at]
        return min(by_it or own, key=lambda sample: (sample.is_generating, sample.held))

    def needed(self, test: FuseTest) -> frozenset[str]:
        """The fuses that are in: it, and those on the way to its loads and to the coils that let them on.

        All where none is named.
        """
        if not test.at:
            return frozenset(self.fuses.values())
        before = {test.at}
        for index, sample in self._fed(test):
            on_way, fed = self._fuses_to(index, sample)
            before |= {*on_way, *fed}
        return frozenset(before)

    def unshown(self, test: FuseTest) -> tuple[str, ...]:
        """The feeds at the edge of the loom that a test needs and whose own fuse the loom does not show."""
        found = {feed for index, sample in self._fed(test) for feed in self._bare_feeds(index, sample)}
        return tuple(feed for feed in self.loom.feeds if feed in found)

    def letting_on(self, key: LoadKey, sample: Sample) -> Mapping[str, int]:
        """The armatures without which a load is not on, each with its coil; also those of such coils.

        Of several of which any one is enough it is the last.
        """
        positions = self.seen.survey.positions
        net, numbers = positions.view.net, positions.view.variable_number
        found: dict[str, int] = {}
        asked = [key]
        while asked:
            own, assignment = asked.pop(), dict(sample.assignment)
            for name, law in net.armatures.items():
                is_pulled = sample.position[name] != net.variables[name].values[0]
                if name in found or not is_pulled or law.load not in self.grid.loads:
                    continue
                released = {**assignment, numbers[name]: 0}
                if positions.is_full(own, positions.row_of(own, released)):
                    assignment = released
                else:
                    found[name] = self.grid.loads[law.load]
                    asked.append(law.load)
        return found

    def _fed(self, test: FuseTest) -> Iterator[tuple[int, Sample]]:
        """Yield the loads of a test and the coils that let them on, each while it is on."""
        for load in test.loads:
            if load.key in self.seen.survey.alone:
                sample = self.least(load.key, test.at)
                yield self.grid.loads[load.key], sample
                for index in self.letting_on(load.key, sample).values():
                    yield index, sample

    def _last_fuse(self, key: LoadKey, sample: Sample) -> str:
        on_way, fed = self._fuses_to(self.grid.loads[key], sample)
        return (on_way or fed or [""])[-1]

    def _fuses_to(self, index: int, sample: Sample) -> tuple[list[str], list[str]]:
        """The fuses on the way to a load, and those of the feeds at the loom's edge that it comes from."""
        way = self.seen.way_to(index, sample)
        on_way = [self.fuses[index] for index in way if index in self.fuses]
        return on_way, [feed for feed in self._feeds_of(way) if self.loom.feeds[feed].fuse_amps]

    def _bare_feeds(self, index: int, sample: Sample) -> list[str]:
        """The feeds that a load comes from with no fuse of this loom in its way."""
        if any(self._fuses_to(index, sample)):
            return []
        return self._feeds_of(self.seen.way_to(index, sample))

    def _feeds_of(self, way: list[int]) -> list[str]:
        ends = (node for index in way for node in self.grid.branches[index].branch[1:3])
        return [node for node in ends if node in self.loom.feeds]
