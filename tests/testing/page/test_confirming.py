"""What readings are relied on for is solved, in few rounds also where much of what was reckoned falls."""

from collections.abc import Mapping, Sequence

from metered import metered

from planner.currents.laws import Emf, Resistance
from planner.currents.solver import Branch
from planner.testing.as_built.as_built import WIRING
from planner.testing.as_built.cover import Cover
from planner.testing.mistakes.mistake import BranchName
from planner.testing.page.candidates import Candidates
from planner.testing.page.confirming import Confirmer, solved
from planner.testing.page.fuses_gone import with_fuses_gone
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
        assert f"{traded[0].words} (far too much for its fuse, which has gone" in wrong.words, (
            test.where_words
        )
        assert wrong.high <= 0.4, test.where_words


def test_of_two_fuses_in_a_row_the_weaker_one_goes_and_the_other_stays() -> None:
    """A short behind 10 A behind 40 A: what else the main fuse feeds keeps its volts."""
    shorted = [
        Branch(("source",), "+", "earth", Emf(12.6, 0.02)),
        Branch(("fuse", "main"), "+", "box", Resistance(0.002)),
        Branch(("fuse", "own"), "box", "behind", Resistance(0.004)),
        Branch(("short",), "behind", "earth", Resistance(0.02)),
        Branch(("load", "lamp"), "box", "earth", Resistance(6.0)),
    ]
    blows_at: Mapping[BranchName, float] = {("fuse", "main"): 140.0, ("fuse", "own"): 35.0}
    sound = [branch for branch in shorted if branch.name != ("short",)]
    (short, has_gone), (kept, has_kept) = with_fuses_gone([shorted, sound], "earth", blows_at)
    assert has_gone and not has_kept
    assert 12.4 < short.volts["box"] < 12.6 and 12.4 < kept.volts["behind"] < 12.6
    shorted[3] = shorted[3]._replace(a="box")
    ((main_gone, _),) = with_fuses_gone([shorted], "earth", blows_at)
    assert main_gone.volts.get("box", 0.0) == 0.0
