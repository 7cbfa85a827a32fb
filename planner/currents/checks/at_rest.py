"""What flows where nothing should: current with everything at rest, and loads fed by way of others."""

from collections.abc import Iterator

from planner.circuit.appearance import DIM_FROM, GLOWS_FROM
from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.model.drains import DRAIN_AMPS, drain_words
from planner.model.elements import Source
from planner.model.strain import Strain
from planner.proof.running import passed_through_in

PRACTICE = "common practice, no source"


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield what each battery or feed gives at rest, and sneak paths with their numbers."""
    yield from _drain(seen)
    yield from _sneaks(seen)


def _drain(seen: Inspection) -> Iterator[Strain]:
    rest = seen.rest_sample
    for index, branch in (*seen.of_kind("source"), *seen.of_kind("feed")):
        amps = abs(rest.amps[index])
        if amps < 1e-6:
            continue
        amp_hours = None
        if branch.name[0] == "source":
            element = seen.element(index)
            assert isinstance(element, Source)
            if element.when:
                continue
            amp_hours = element.amp_hours
        yield Strain(
            "drain", branch.a, amps, DRAIN_AMPS, "A", PRACTICE, PRACTICE, {},
            seen.loads_in(index, rest), note=drain_words(amps, amp_hours),
        )  # fmt: skip


def _sneaks(seen: Inspection) -> Iterator[Strain]:
    """Yield, for each load, the most power it takes by way of another load without coming on.

    What shows only until an engine stands that was switched off is none.
    """
    positions = seen.survey.positions
    passed = passed_through_in(positions.view)
    most_volts = 10.0 * abs(positions.view.net.volts)  # more than any load ever gets
    for key, index in seen.survey.grid.loads.items():
        info = positions.view.net.loads.get(key)
        if info is None or not info.is_task or info.kind == "gauge":
            continue
        worst: tuple[float, Sample] | None = None
        rated_watts = info.rated_amps**2 * info.ohms
        least_amps = (
            rated_watts * GLOWS_FROM / 4 / most_volts
        )  # with less nothing glows: not looked at closely
        for sample in seen.survey.carried.at(index):
            amps = sample.amps[index]
            if -least_amps <= amps <= least_amps or key in sample.at_work:
                continue
            share = abs(sample.across(index) * amps) / rated_watts
            if share <= GLOWS_FROM / 4 or (worst is not None and share <= worst[0] + 1e-9):
                continue
            if not any(each.holds(sample.position) for each in passed):
                worst = (share, sample)
        if worst is None:
            continue
        share, sample = worst
        others = _loads_on(seen, index, sample)
        if others:
            yield Strain(
                "sneak", key[0], share, GLOWS_FROM, "of its rated power", PRACTICE, PRACTICE,
                sample.told, (key, *others), path=seen.path(index, sample),
                duty=info.duty, note=f"{key[1]} {'glows' if share < DIM_FROM else 'is dim or more'}",
            )  # fmt: skip


def _loads_on(seen: Inspection, index: int, sample: Sample) -> tuple[tuple[str, str], ...]:
    """The other loads with a task that a load's current goes through."""
    way = {*sample.flow.before(index), *sample.flow.after(index)}
    loads = seen.survey.positions.view.net.loads
    return tuple(
        key for key, at in seen.survey.grid.loads.items() if at in way and key in loads and loads[key].is_task
    )
