"""What readings are relied on for is solved, in few rounds also where much of what was reckoned falls."""

from collections.abc import Mapping, Sequence

from metered import metered

from planner.testing.as_built.as_built import WIRING
from planner.testing.as_built.cover import Cover
from planner.testing.page.candidates import Candidates
from planner.testing.page.confirming import Confirmer, solved
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
    assert len(claims) > 40
    read = solved(exposer, [(probe, found.edits[name]) for probe, name in claims])
    for (probe, name), (reading, _) in zip(claims, read, strict=True):
        assert found.good[probe].is_wrong(reading), (probe.id, name)
    shown = frozenset().union(*(found.shown(probe) for probe in chosen))
    assert shown == frozenset().union(*(found.shown(probe) for probe in found.good))
    assert len(shown) > 0.95 * len(mistakes)


def test_what_drives_its_fuse_far_beyond_its_amps_is_read_with_the_fuse_gone() -> None:
    """With 85 and 87 traded the fan's relay shorts its own feed: nobody ever reads the 5 V of that."""
    van = metered("electric-fan")
    traded = [m for m in van.slips.values() if m.kind == "ends traded" and m.words.endswith(": 85 and 87")]
    told = [(w, t) for t in van.page.tests for w in t.wrong for m in traded if m.words in w.words]
    assert len(traded) == 1 and told
    for wrong, test in told:
        assert f"{traded[0].words} (a dead short: its fuse has gone" in wrong.words, test.where_words
        assert wrong.high <= 0.4, test.where_words
