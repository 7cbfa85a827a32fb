"""The meter page of one work: which tests there are, and in which order."""

from collections.abc import Iterator, Mapping, Sequence

from planner.model.meter_page import MeterPage
from planner.model.plan import BehaviourLine
from planner.testing.page.choosing import choose, in_order, place
from planner.testing.page.circuits import at_work, no_longer, own_loads, switched_off
from planner.testing.page.exposing import Exposure
from planner.testing.page.ground import SLIPS, Ground
from planner.testing.page.notes import notes
from planner.testing.page.probes import Probe, across, dead_probes, live_probes
from planner.testing.page.records import Records
from planner.testing.page.setups import Setup
from planner.testing.page.steps import StepsOf
from planner.testing.page.wording import Wording, moved_apart


def meter_page(ground: Ground, behaviours: Sequence[BehaviourLine], steps: StepsOf) -> MeterPage:
    """All tests of one work, in their order."""
    if not ground.wired.touched_ends:
        return MeterPage((), ())
    mistakes = {mistake.id: mistake for mistake in ground.mistakes(SLIPS)}
    must, others = _probes(ground, behaviours)
    exposure = ground.exposer.expose([*must, *others], list(mistakes.values()))
    shown = {probe: exposure.shown(probe) for probe in exposure.good}
    chosen = choose(shown, [probe for probe in must if probe in shown])
    chosen += _one_at_each_place(ground, exposure, chosen)
    rank = list(
        dict.fromkeys(end.at.partition(":")[0] for wire in ground.wired.loom.wires for end in wire.ends)
    )
    ordered = in_order(chosen, rank, lambda one, other: moved_apart(_moved(one), _moved(other)))
    tests = tuple(Records(ground, exposure, mistakes, steps, ordered).all())
    missed = set(mistakes) - frozenset().union(*(shown[probe] for probe in ordered))
    return MeterPage(
        tests,
        notes(ground.wired.loom),
        tuple(mistake.words for name, mistake in mistakes.items() if name in missed),
        Wording(ground.wired, ground.stands.view.net).titles(),
    )


def _moved(probe: Probe) -> Mapping[str, str]:
    return {**probe.setup.moved, **probe.setup.remembered} if probe.setup else {}


def _probes(ground: Ground, behaviours: Sequence[BehaviourLine]) -> tuple[list[Probe], list[Probe]]:
    """The readings that must be taken: loads on and off; and those that may be: changed terminals."""
    wired, stands, survey = ground.wired, ground.stands, ground.seen.survey
    on = stands.merged(at_work(wired, survey, stands))
    off = list(switched_off(wired, on, stands))
    rest = stands.at({})
    setups = [*on, *off, *([] if any(not s.name for s in (*on, *off)) else [rest])]
    must: list[Probe] = []
    for key in own_loads(wired, survey):
        works = [setup for setup in on if key in setup.loads]
        title = f"'{key[1]}' on the {wired.title_of(key[0])}"
        must += _of_load(ground, key, works[:1], f"{title} is on")
        without = [setup for setup in (*off, rest) if works and setup.moved.keys() < works[0].moved.keys()]
        must += _of_load(ground, key, without[:1], f"{title} must be off")
    for line, setup in no_longer(behaviours, stands):
        known = next((own for own in setups if own.name == setup.name), setup)
        why = f"{line.outcome}: '{line.what}' ({line.title}) is {line.after}, was {line.before}"
        must += _of_load(ground, (line.at, line.what), [known], why)
    return must, [*dead_probes(wired), *(probe for setup in setups for probe in live_probes(wired, setup))]


def _of_load(ground: Ground, key: tuple[str, str], setups: Sequence[Setup], why: str) -> Iterator[Probe]:
    for setup in setups:
        probe = across(ground.wired, ground.grid, ground.catalogue, key, setup, why)
        if probe is not None:
            yield probe


def _one_at_each_place(ground: Ground, exposure: Exposure, chosen: Sequence[Probe]) -> Iterator[Probe]:
    """Yield a live reading for each changed place that has none yet: the one that shows most."""
    done = {place(probe) for probe in chosen if probe.setup is not None}
    setups = {probe.setup for probe in chosen}
    for name in sorted(ground.wired.touched_places - done):
        own = [p for p in exposure.good if p.setup is not None and place(p) == name and exposure.wrong[p]]
        if own:
            yield max(own, key=lambda p: (p.setup in setups, len(exposure.shown(p)), p.id))
