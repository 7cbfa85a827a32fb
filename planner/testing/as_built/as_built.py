"""The fewest readings that prove the work as built, what they leave open, and which mistakes are alike."""

from collections.abc import Mapping

from planner.model.meter_page import AsBuilt
from planner.testing.as_built.cover import Cover
from planner.testing.mistakes.mistake import Kind, Mistake
from planner.testing.page.candidates import Candidates, put_in_order
from planner.testing.page.confirming import Confirmer
from planner.testing.page.exposure import APART, Exposure
from planner.testing.page.ground import SLIPS, Ground
from planner.testing.page.probes import Probe
from planner.testing.page.records import Records
from planner.testing.page.steps import StepsOf

WIRING: frozenset[Kind] = SLIPS | {"wrong terminal", "wrong part"}


def as_built(ground: Ground, steps: StepsOf) -> AsBuilt:
    """The smallest set of readings for one work, over every single wiring mistake at its changed ends.

    What the chosen readings show is solved in full; what others would show, which bears on whether a smaller
    set could do, is reckoned with curved branches as they are on a good circuit.
    """
    mistakes = {mistake.id: mistake for mistake in ground.mistakes(WIRING)}
    exposure = ground.exposer.expose(list(Candidates(ground).probes()), list(mistakes.values()))
    confirmer = Confirmer(ground.exposer, exposure)
    at_least = 0

    def fewest(shown: Mapping[Probe, frozenset[str]]) -> list[Probe]:
        nonlocal at_least
        probes, number = list(shown), {name: n for n, name in enumerate(mistakes)}
        cover = Cover([sum(1 << number[name] for name in shown[probe]) for probe in probes])
        at_least = cover.at_least
        return [probes[n] for n in cover.best]

    chosen = put_in_order(ground, confirmer.choose(fewest))
    exposure = confirmer.exposure
    seen = frozenset().union(*(exposure.shown(probe) for probe in chosen))
    return AsBuilt(
        tests=tuple(Records(ground, exposure, mistakes, steps, chosen).all()),
        at_least=at_least,
        mistakes=len(mistakes),
        exposed=len(seen),
        alike=_alike(exposure, mistakes, seen),
        missed=tuple(mistake.words for name, mistake in mistakes.items() if name not in seen),
    )


def _alike(
    exposure: Exposure, mistakes: Mapping[str, Mistake], seen: frozenset[str]
) -> tuple[tuple[str, ...], ...]:
    """Mistakes that no reading of all tells apart, as their words."""
    groups: dict[frozenset[Probe], list[str]] = {}
    shown_by: dict[str, list[Probe]] = {name: [] for name in mistakes}
    for probe in exposure.good:
        for name in exposure.shown(probe):
            shown_by[name].append(probe)
    for name, probes in shown_by.items():
        if name in seen:
            groups.setdefault(frozenset(probes), []).append(name)
    found = []
    for shows, names in groups.items():
        left = list(names)
        while left:
            first = left[0]
            one = mistakes[first]
            same = [
                name for name in left if all(_agree(exposure, probe, one, mistakes[name]) for probe in shows)
            ]
            left = [name for name in left if name not in same]
            if len(same) > 1:
                found.append(tuple(mistakes[name].words for name in same))
    return tuple(found)


def _agree(exposure: Exposure, probe: Probe, one: Mistake, other: Mistake) -> bool:
    """Whether two mistakes make a probe read the same, as far as anybody can tell, size by size.

    A joint of unknown ohms shows in some sizes only: what one makes wrong, the other has to make wrong too.
    """
    wrong, off = exposure.wrong[probe], exposure.good[probe].off
    for number in range(max(len(one.changes), len(other.changes))):
        first, second = wrong.get((one.id, number)), wrong.get((other.id, number))
        if first is None or second is None:
            if first is not second:
                return False
        elif first != second and abs(first - second) > APART * max(off, 0.05 * abs(first)):
            return False
    return True
