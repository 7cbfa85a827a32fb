"""Earths: the volts that a load loses on its way to the earthed pole."""

from collections.abc import Iterator, Sequence
from functools import partial

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.currents.checks.loads import STARTER_WATTS, is_ammeter
from planner.currents.sample import Sample
from planner.model.elements import Winding
from planner.model.strain import Strain

DIGITS = 9  # of volts: what differs less is the same, and the first position that has it is told
EARTH_KINDS = ("wire", "mounting", "body")  # what a way to earth consists of; a switch in it is no earth


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield what each load loses to the earthed pole while nothing else is switched on that need not be.

    From the last switch in its return, if there is one. A starter's cables have another limit, and what only
    works with a generator is earthed at that. Where there is no body the way back is a wire like the way
    there, and counts in what the whole circuit loses.
    """
    for key, index in seen.survey.grid.loads.items():
        info = seen.survey.positions.view.net.loads.get(key)
        samples = [s for s in seen.lasting(seen.survey.alone.get(key, ())) if not s.is_generating]
        if info is None or not info.is_task or not samples or _has_another_way(seen, index):
            continue
        if not seen.loom.zones[seen.loom.places[key[0]].zone].body:
            continue
        yield from seen.once(("earth", index), tuple(samples), partial(_earth, seen, key, index, samples))


def _earth(seen: Inspection, key: LoadKey, index: int, samples: Sequence[Sample]) -> Iterator[Strain]:
    """Yield the most that a load loses."""
    limit, info = seen.standards.section_drop_limit("earth"), seen.survey.positions.view.net.loads[key]
    lost = [(*_lost(seen, index, sample), sample) for sample in samples]
    volts, path, sample = max(lost, key=lambda found: round(found[0], DIGITS))
    yield Strain(
        "earth", key[0], volts, limit.value, "V", limit.source, limit.basis, sample.told, (key,),
        path=path if volts > limit.value else (), duty=info.duty, note=key[1],
    )  # fmt: skip


def _has_another_way(seen: Inspection, index: int) -> bool:
    """Whether it is a starter, or an ammeter, whose way to earth is that of what it shows."""
    element = seen.element(index)
    return is_ammeter(element) or (isinstance(element, Winding) and element.watts >= STARTER_WATTS)


def _lost(seen: Inspection, index: int, sample: Sample) -> tuple[float, tuple[str, ...]]:
    """Volts lost from a load, or the switch in its return, to the earthed pole, and the way there."""
    flow = sample.flow
    way, path = flow.after(index), seen.path(index, sample)
    if seen.loom.supply.live_volts < 0:  # with the positive pole earthed the current comes from there
        way = flow.before(index)[::-1]
    volts, length = 0.0, 0
    for branch in reversed(way):
        gated = seen.survey.grid.branches[branch]
        if gated.kind not in EARTH_KINDS:
            break
        volts += abs(sample.point.across(gated.branch))
        length += 1
    return volts, path[-length - 1 :]
