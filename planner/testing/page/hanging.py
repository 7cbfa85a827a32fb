"""What a reading hangs on though the test does not set it: breaker points, a motor that is not home yet.

Each is moved, and where the reading then is another one the test says how it has to stand. What changes
nothing is not asked of anybody.
"""

from collections.abc import Iterator, Mapping, Sequence

from planner.testing.page.dead import DeadNet, dead_branches
from planner.testing.page.exposing import Exposer, as_read
from planner.testing.page.exposure import Exposure
from planner.testing.page.left_anywhere import elsewhere
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup, Stands


def hanging(
    exposer: Exposer, exposure: Exposure, stands: Stands, names: Sequence[str], probes: Sequence[Probe]
) -> dict[Probe, tuple[str, ...]]:
    """For each probe those of some variables, all at rest unless its setup moves them, that it hangs on."""
    by_setup: dict[Setup | None, list[Probe]] = {}
    for probe in probes:
        by_setup.setdefault(probe.setup, []).append(probe)
    found: dict[Probe, list[str]] = {probe: [] for probe in probes}
    for name, own, readings in _readings(exposer, stands, names, by_setup):
        for probe in own:
            if name not in found[probe] and exposure.good[probe].is_other(readings[probe]):
                found[probe].append(name)
    return {probe: tuple(own) for probe, own in found.items()}


def _with(stands: Stands, setup: Setup | None, name: str, value: str) -> Mapping[str, str]:
    """The position of a setup with one variable moved; what has to be remembered stays as it is."""
    if setup and setup.remembered:
        return {**setup.position, name: value}
    return stands.at({**(setup.moved if setup else {}), name: value}).position


def _readings(
    exposer: Exposer, stands: Stands, names: Sequence[str], by_setup: Mapping[Setup | None, Sequence[Probe]]
) -> Iterator[tuple[str, Sequence[Probe], Mapping[Probe, float]]]:
    """Yield what probes read with one variable moved, or with a motor or a stepping relay left elsewhere."""
    asked = [
        (name, setup, _with(stands, setup, name, value))
        for setup in by_setup
        for name in names
        if not setup or name not in setup.moved
        for value in stands.variables[name].values[1:]
    ]
    asked += [
        (name, setup, position)
        for setup in by_setup
        if setup
        for name, position in elsewhere(stands.variables, setup.position)
        if name not in setup.remembered
    ]
    grid = exposer.live.grid
    closed = [[grid.bare[index] for index in grid.closed(position)] for *_, position in asked]
    live = [own for (_, setup, _), own in zip(asked, closed, strict=True) if setup]
    points = iter(solve_sets(live, grid.zero))
    for (name, setup, _), branches in zip(asked, closed, strict=True):
        probes = by_setup[setup]
        if setup:
            point = next(points)
            yield name, probes, {p: exposer.live.read(point, p.at, p.to) for p in probes}
        else:
            net = DeadNet(dead_branches(b for b in branches if not {b.a, b.b} & exposer.posts))
            yield name, probes, {p: as_read(net.ohms(p.at, p.to)) for p in probes}
