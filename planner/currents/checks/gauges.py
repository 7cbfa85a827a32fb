"""Instruments: what they show against what their face says, and the volts they are fed with."""

from collections.abc import Iterator, Mapping

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.model.elements import Gauge, Sender
from planner.model.gauges import GAUGE_SHARE, gauge_volts
from planner.model.strain import Strain

PRACTICE = "common practice, no source"
# A gauge for a stabilised supply dies of the full one (12 V on a gauge for 10 V): common practice, no source.
# What wire and battery do to a gauge's own volts stays below a tenth; a generator's volts are not looked at.
OVER_VOLTS = 1.1
MOST_SHOWN = 1.5  # of the scale: the pointer is at its stop
# What the earths of other loads push through a gauge that is not fed moves no pointer: ours (invented).
LEAST_SHARE = 0.005


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield gauges that show something else than their sender means, or that are fed with too much."""
    for key, info in seen.survey.positions.view.net.loads.items():
        if info.kind == "gauge":
            index = seen.survey.grid.loads[key]
            element = seen.element(index)
            assert isinstance(element, Gauge)
            if gauge_volts(element, seen.part_of(key[0])) < seen.loom.supply.volts:
                yield from _over(seen, key, index, element)
            if element.marks:
                yield from _reading(seen, key, index, element)


def _samples(seen: Inspection, index: int) -> Iterator[Sample]:
    """Yield where a gauge shows something for good, on the battery alone."""
    for sample in seen.survey.carried.lasting_at(index):
        if abs(sample.amps[index]) > 1e-6 and not sample.is_generating:
            yield sample


def _reading(seen: Inspection, key: LoadKey, index: int, element: Gauge) -> Iterator[Strain]:
    """Yield the reading that is furthest from what the face says, with those of all states beside it."""
    worst: dict[str, tuple[float, float, Sample]] = {}
    for sample in _samples(seen, index):
        state = _sender_state(seen, sample, index)
        if state not in element.marks or abs(sample.amps[index]) < LEAST_SHARE * element.full_scale_amps:
            continue
        shown = min(abs(sample.amps[index]) / element.full_scale_amps, MOST_SHOWN)
        wrong = abs(shown - element.marks[state])
        if state not in worst or wrong > worst[state][0] + 1e-9:
            worst[state] = (wrong, shown, sample)
    if worst:
        wrong, _, sample = max(worst.values(), key=lambda found: found[0])
        told = {state: shown for state, (_, shown, _) in worst.items()}
        yield Strain(
            "gauge", key[0], wrong, GAUGE_SHARE, "of the scale", PRACTICE, PRACTICE,
            sample.told, (key,), note=f"{key[1]}: {_readings(told, element.marks)}",
        )  # fmt: skip


def _readings(shown: Mapping[str, float], marks: Mapping[str, float]) -> str:
    """What a gauge shows in each state, in the order of its face: ``empty 12 %, should be 0 %``."""
    order = sorted(shown, key=lambda state: marks[state])
    return "; ".join(f"{state} {shown[state]:.0%}, should be {marks[state]:.0%}" for state in order)


def _sender_state(seen: Inspection, sample: Sample, index: int) -> str:
    """The state of the sender that a gauge's current goes through; "" if there is none."""
    for at in (*sample.flow.after(index), *sample.flow.before(index)):
        gated = seen.survey.grid.branches[at]
        if gated.kind == "load" and isinstance(_sender(seen, gated.branch.name), Sender):
            return gated.branch.name[2].split(" ", 1)[1]  # its key is "#index state"
    return ""


def _sender(seen: Inspection, name: tuple[str, ...]) -> object:
    number = name[2].split(" ", 1)[0].removeprefix("#")
    inside = seen.part_of(name[1]).inside
    return inside[int(number)] if number.isdigit() else None


def _over(seen: Inspection, key: LoadKey, index: int, element: Gauge) -> Iterator[Strain]:
    """Yield the most that a gauge and its sender together are fed with."""
    branch = seen.branch(index)
    volts = gauge_volts(element, seen.part_of(key[0]))
    most: tuple[float, Sample] | None = None
    for sample in _samples(seen, index):
        fed = max(abs(sample.point.volts.get(node, 0.0)) for node in (branch.a, branch.b))
        if most is None or fed > most[0] + 1e-9:
            most = (fed, sample)
    if most is not None:
        yield Strain(
            "over-voltage", key[0], most[0], OVER_VOLTS * volts, "V", PRACTICE, PRACTICE,
            most[1].told, (key,), note=f"{key[1]}, made for {volts:g} V",
        )  # fmt: skip
