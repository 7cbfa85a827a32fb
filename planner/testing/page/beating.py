"""What a meter shows where a flasher beats: readings are computed while its lamps are lit, and again dark."""

from collections.abc import Iterator, Mapping

from planner.currents.laws import Filament
from planner.currents.solver import Branch
from planner.model.loom import Loom
from planner.testing.meter import TEST_LAMP_WATTS
from planner.testing.page.exposing import Exposer
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe

SWINGS_VOLTS = 0.5  # between the halves of a beat; less is what the lamps' current drops
PULSED = frozenset({"49a", "C", "C2", "L", "R"})  # roles of DIN 72552 behind a flasher, also at a loom's edge
Dark = tuple[float, float]  # volts that a meter shows, and those across a test lamp instead


class Beating:
    """Knows which readings of one vehicle swing with a flasher, its own or one beyond the loom's edge."""

    def __init__(self, exposer: Exposer, loom: Loom) -> None:
        self.exposer = exposer
        self.pulsed = frozenset(name for name, feed in loom.feeds.items() if feed.role in PULSED)

    def dark(self, lit: Mapping[Probe, float], volts: float) -> dict[Probe, Dark]:
        """What live probes that swing read while the lamps are dark; ``lit`` are all with their readings."""
        lamp = Filament(volts, TEST_LAMP_WATTS / volts)
        points = {probe: list(self._closed(probe)) for probe in lit if self._beats(probe)}
        sets = [
            branches
            for probe, own in points.items()
            for branches in (own, [*own, Branch(("lamp",), probe.at, probe.to, lamp)])
        ]
        solved = iter(solve_sets(sets, self.exposer.live.grid.zero))
        found = {}
        for probe in points:
            meter, tester = (self.exposer.live.read(next(solved), probe.at, probe.to) for _ in range(2))
            if abs(meter - lit[probe]) > SWINGS_VOLTS:
                found[probe] = meter, tester
        return found

    def _beats(self, probe: Probe) -> bool:
        assert probe.setup is not None
        return probe.setup.dark is not None or any(
            self.exposer.live.grid.bare[index].name[:2] == ("feed", name)
            for index in self.exposer.live.grid.closed(probe.setup.position)
            for name in self.pulsed
        )

    def _closed(self, probe: Probe) -> Iterator[Branch]:
        assert probe.setup is not None
        grid = self.exposer.live.grid
        for index in grid.closed(probe.setup.dark or probe.setup.position):
            branch = grid.bare[index]
            if branch.name[0] != "feed" or branch.name[1] not in self.pulsed:
                yield branch
