"""What flows where nothing should: current with everything at rest, and loads fed by way of others."""

from collections.abc import Iterator, Mapping
from functools import partial

from planner.circuit.appearance import DIM_FROM, GLOWS_FROM
from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.currents.tracing import LEAST_AMPS
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
    infos = seen.survey.positions.view.net.loads
    for key, (share, sample) in _worst(seen).items():
        index, info = seen.survey.grid.loads[key], infos[key]
        others = _loads_on(seen, index, sample)
        if others:
            yield Strain(
                "sneak", key[0], share, GLOWS_FROM, "of its rated power", PRACTICE, PRACTICE,
                sample.told, (key, *others), path=seen.path(index, sample),
                duty=info.duty, note=f"{key[1]} {'glows' if share < DIM_FROM else 'is dim or more'}",
            )  # fmt: skip


def _worst(seen: Inspection) -> Mapping[LoadKey, tuple[float, Sample]]:
    """By load the greatest share of its rated power that it takes while not meant to work, and where."""
    view = seen.survey.positions.view
    passed = passed_through_in(view)
    rated = {
        index: info.rated_amps**2 * info.ohms
        for key, index in seen.survey.grid.loads.items()
        if (info := view.net.loads.get(key)) and info.is_task and info.kind != "gauge"
    }
    worst: dict[LoadKey, tuple[float, Sample]] = {}
    survey = seen.survey
    takes = seen.once.of_each("takes", survey.samples, survey.changed, partial(_takes, rated))
    for number in sorted(takes):
        sample = survey.samples[number]
        for key, share in takes[number]:
            if key in worst and share <= worst[key][0] + 1e-9:
                continue
            if not any(each.holds(sample.position) for each in passed):
                worst[key] = (share, sample)
    return worst


def _takes(rated: Mapping[int, float], sample: Sample) -> Iterator[tuple[LoadKey, float]]:
    """Yield the loads that take more of their rated power than goes unseen, though not meant to work.

    ``rated`` are the rated watts of loads, by their branch.
    """
    at_work = sample.at_work
    for key, index, amps in sample.live_loads:
        if amps > LEAST_AMPS and index in rated and key not in at_work:
            share = abs(sample.across(index)) * amps / rated[index]
            if share > GLOWS_FROM / 4:
                yield key, share


def _loads_on(seen: Inspection, index: int, sample: Sample) -> tuple[tuple[str, str], ...]:
    """The other loads with a task that a load's current goes through."""
    way = {*sample.flow.before(index), *sample.flow.after(index)}
    loads = seen.survey.positions.view.net.loads
    return tuple(
        key for key, at in seen.survey.grid.loads.items() if at in way and key in loads and loads[key].is_task
    )
