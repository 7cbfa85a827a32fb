"""What readings are relied on for is solved, in few rounds also where much of what was reckoned falls."""

from collections.abc import Mapping, Sequence

from metered import metered

from planner.testing.as_built.as_built import WIRING
from planner.testing.as_built.cover import Cover
from planner.testing.page.candidates import Candidates
from planner.testing.page.confirming import Confirmer, with_edit
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe


def test_on_the_whole_van_all_that_is_relied_on_holds_after_few_choices() -> None:
    """One wrong claim after another, it took more than thirty choices and four minutes."""
    ground = metered("whole-van").ground
    exposer, choices = ground.exposer, 0
    mistakes = ground.mistakes(WIRING)
    reckoned = exposer.expose(list(Candidates(ground).probes()), mistakes)
    confirmer = Confirmer(exposer, reckoned)

    def fewest(shown: Mapping[Probe, frozenset[str]]) -> Sequence[Probe]:
        nonlocal choices
        choices += 1
        number = {mistake.id: n for n, mistake in enumerate(mistakes)}
        cover = Cover([sum(1 << number[name] for name in own) for own in shown.values()])
        assert len(cover.best) == cover.at_least
        return [list(shown)[n] for n in cover.best]

    chosen = confirmer.choose(fewest)
    assert 1 < choices <= 6
    found = confirmer.exposure
    dead = frozenset().union(*(found.shown(probe) for probe in chosen if probe.setup is None))
    claims = [
        (probe, name)
        for probe in chosen
        if probe.setup is not None
        for name in found.wrong[probe]
        if name[0] not in dead
    ]
    points = solve_sets(
        [with_edit(exposer, probe, found.edits[name]) for probe, name in claims], ground.grid.zero
    )
    assert len(claims) > 40
    for (probe, name), point in zip(claims, points, strict=True):
        assert found.good[probe].is_wrong(exposer.live.read(point, probe.at, probe.to)), (probe.id, name)
    shown = frozenset().union(*(found.shown(probe) for probe in chosen))
    assert shown == frozenset().union(*(found.shown(probe) for probe in found.good))
    assert len(shown) > 0.95 * len(mistakes)
