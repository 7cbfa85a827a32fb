"""Wires: what they carry against what they stand, and the fuse before them against the same."""

from collections.abc import Iterator, Sequence
from functools import partial

from planner.currents.carried import SAME, Peak
from planner.currents.checks.bundles import loaded_with, most_loaded_with
from planner.currents.checks.fuses import worst_peak
from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.currents.tracing import LEAST_AMPS
from planner.messages import tr
from planner.model.elements import Lamp, Led, Winding
from planner.model.fitted_fuse import AT_ITS_RATING, fuse_words
from planner.model.loom import Wire
from planner.model.published import Published
from planner.model.strain import Strain
from planner.model.surroundings import carries_for_good, leg_surroundings

# Copper at three times its lasting current (24 A/mm2) warms by about 3 K a second, from 1.8e-8 ohm m and
# 3.45 MJ/(m3 K): ten seconds of a horn or starter do no harm. Computed.
MOMENTARY_FACTOR = 3.0
NEAR = 0.5  # of a limit: below it nobody asks whose current it is
# Of the most that a load ever takes: with less it is fed by way of another, and no fuse there is its own:
# ours (invented).
GOOD_PART = 0.3


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield what heats each leg of each wire most, and for each leg the largest fuse before it."""
    flashers = [index for index, _ in seen.of_kind("flasher")]
    for index, branch in seen.of_kind("wire"):
        wire, leg = seen.loom.find(branch.name[1]), int(branch.name[2])
        peak, loaded = seen.peaks.get(index), 1
        if peak is not None and wire.bundle is not None:
            peak, loaded = _worst_in_bundle(seen, index, peak, flashers)
        if peak is None or peak.amps <= 0.01:
            continue
        limit = wire_limit(seen, wire, leg, loaded)
        if peak.amps > limit.value and wire.bundle is None and not peak.momentary:
            peak = _hottest(seen, index, flashers)
        make = partial(_heated, seen, index, wire, peak, loaded)
        yield from seen.once(("wire", index, loaded), (wire, limit, peak), make)
    yield from _fuses_over_wires(seen)


def _heated(seen: Inspection, index: int, wire: Wire, peak: Peak, loaded: int) -> Iterator[Strain]:
    """Yield what heats a leg most, against what it stands."""
    leg = int(seen.branch(index).name[2])
    limit = wire_limit(seen, wire, leg, loaded)
    allowed = limit.value * (MOMENTARY_FACTOR if peak.momentary else 1.0)
    loads = seen.loads_in(index, peak.sample) if peak.amps > NEAR * allowed else ()
    yield Strain(
        "wire", wire.wire, peak.amps, allowed, "A", limit.source, limit.basis,
        peak.sample.told, loads, leg, momentary=peak.momentary,
        path=seen.way(loads, peak.sample) if peak.amps > allowed else (),
        loaded=loaded, note=_beside(wire, loaded),
    )  # fmt: skip


def _beside(wire: Wire, loaded: int) -> str:
    if loaded <= 1:
        return ""
    return tr("one of {count} loaded wires in the bundle '{bundle}'", count=loaded, bundle=wire.bundle)


def _hottest(seen: Inspection, index: int, flashers: Sequence[int]) -> Peak:
    """The current that heats a leg most for good; of equal ones the first."""
    lasting = seen.survey.carried.lasting_at(index)
    light = [abs(sample.amps.by_branch[index]) for sample in lasting]
    found: list[tuple[int, float]] = []
    most = 0.0
    for number in sorted(range(len(lasting)), key=light.__getitem__, reverse=True):
        if light[number] < most:
            break  # a current heats with no more than it is
        found.append((number, _heating_amps(lasting[number], index, flashers)))
        most = max(most, found[-1][1])
    number, amps = min(each for each in found if each[1] >= most - SAME)
    return Peak(amps, lasting[number], momentary=False)


def _heating_amps(sample: Sample, index: int, flashers: Sequence[int]) -> float:
    """What a current heats with: behind a flasher the mean by heat of light and dark."""
    light = abs(sample.amps[index])
    beating = [f for f in flashers if abs(sample.amps[f]) > 0.0]
    flashing = sum(abs(sample.amps[f]) * sample.flow.shares(f).get(index, 0.0) for f in beating)
    dark = max(light - flashing, 0.0)
    return float(((light * light + dark * dark) / 2) ** 0.5)


def _worst_in_bundle(seen: Inspection, index: int, peak: Peak, flashers: Sequence[int]) -> tuple[Peak, int]:
    """The current that comes nearest to what a leg stands beside what is loaded then, and how many are.

    Beside what only flows for a moment all may be warm that ever is.
    """
    name = seen.branch(index).name
    wire, leg = seen.loom.find(name[1]), int(name[2])
    worst = (-1.0, peak, most_loaded_with(seen, wire))
    if peak.momentary:
        return worst[1:]
    for sample in seen.survey.carried.lasting_at(index):
        amps = abs(sample.amps[index])
        if amps < 0.01:
            continue
        loaded = loaded_with(seen, wire, sample)
        limit = wire_limit(seen, wire, leg, loaded).value
        if amps > limit:
            amps = _heating_amps(sample, index, flashers)
        if amps / limit > worst[0] + 1e-9:
            worst = (amps / limit, Peak(amps, sample, momentary=False), loaded)
    return worst[1:]


def wire_limit(seen: Inspection, wire: Wire, leg: int, loaded: int = 1) -> Published:
    """What one leg carries for good, in the warmer of the two zones it runs between."""
    asked = wire.wire, leg, loaded
    limit = seen.wire_limits.get(asked)
    if limit is None:
        joined = (name for end in wire.ends for name in _joined_at(seen, end.at))
        reads = (wire, *map(seen.loom.find, joined))  # a joiner is where the shortest of its wires leads to
        make = partial(_wire_limit, seen, wire, leg, loaded)
        (limit,) = seen.once(("wire limit", *asked), reads, make)
        seen.wire_limits[asked] = limit
    return limit


def _joined_at(seen: Inspection, address: str) -> list[str]:
    """The wires at an address, if that is a joiner."""
    ends = seen.loom.ends_at[address] if address.startswith("joint:") else ()
    return [name for name, _ in ends]


def _wire_limit(seen: Inspection, wire: Wire, leg: int, loaded: int) -> Iterator[Published]:
    around = leg_surroundings(seen.loom, wire, leg, loaded)
    yield carries_for_good(seen.standards, wire.leg_mm2(leg), around)


def _fuses_over_wires(seen: Inspection) -> Iterator[Strain]:
    """Yield for each leg behind a fuse the largest such fuse, against what the leg stands."""
    before = _fuses_before(seen)
    peaks = {fuse: worst_peak(seen, fuse) for fuse in {fuse for guards in before.values() for fuse in guards}}
    for index, guards in sorted(before.items()):
        wire = seen.loom.find(seen.branch(index).name[1])
        loaded, leg = most_loaded_with(seen, wire), int(seen.branch(index).name[2])
        limit = wire_limit(seen, wire, leg, loaded)
        fuse = max(guards, key=lambda guard: _rating(seen, guard))
        peak = peaks[fuse]
        make = partial(_fuse_over_wire, seen, index, wire, fuse, guards[fuse], loaded, peak)
        yield from seen.once(("fuse over wire", index, fuse, loaded), (wire, limit, guards[fuse], peak), make)


def _fuse_over_wire(
    seen: Inspection, index: int, wire: Wire, fuse: int, sample: Sample, loaded: int, peak: Peak | None
) -> Iterator[Strain]:
    leg = int(seen.branch(index).name[2])
    limit = wire_limit(seen, wire, leg, loaded)
    at, element = seen.fuses[fuse]
    opens = seen.standards.fuse_opens_amps(element.amps, element.marked)
    yield Strain(
        "fuse-over-wire", wire.wire, _rating(seen, fuse), limit.value, "A", limit.source,
        _weaker(limit, opens), sample.told, leg=leg, path=(at,), loaded=loaded,
        carries=peak.amps * (AT_ITS_RATING if peak.momentary else 1.0) if peak else 0.0,
        note=tr(
            "fuse marked {amps}; sure to open at {opens:g} A",
            amps=fuse_words(element.amps, element.marked),
            opens=opens.value,
        ),
    )  # fmt: skip


def _rating(seen: Inspection, fuse: int) -> float:
    """What a fuse carries by its continuous rating, in A."""
    _, element = seen.fuses[fuse]
    return element.amps if element.marked == "continuous" else element.amps / 2


def _fuses_before(seen: Inspection) -> dict[int, dict[int, Sample]]:
    """For each leg the fuses that its current comes through, and a sample that shows it.

    Only legs before a load are guarded: one that goes from the load to earth cannot feed a short. What comes
    through a lamp or winding, as to an armature from its charge lamp, is no more than that lets through.
    """
    found: dict[int, dict[int, Sample]] = {}
    for key, samples in seen.survey.followed.items():
        load = seen.survey.grid.loads[key]
        for index, fuse, sample in seen.once(
            ("fuses before", load), tuple(samples), partial(_before_load, seen, load, samples)
        ):
            found.setdefault(index, {}).setdefault(fuse, sample)
    return found


def _before_load(seen: Inspection, load: int, samples: Sequence[Sample]) -> Iterator[tuple[int, int, Sample]]:
    """Yield the legs before one load with the fuse that its current comes through there."""
    branches = seen.survey.grid.branches
    least_amps = max(LEAST_AMPS, GOOD_PART * max(abs(sample.amps[load]) for sample in samples))
    for sample in samples:
        if abs(sample.amps[load]) < least_amps:
            continue
        fuse = seen.fuse_of_edge(load, sample)
        for index in seen.way_to(load, sample):
            if branches[index].kind == "fuse":
                fuse = index
            elif branches[index].kind == "wire" and fuse is not None:
                yield index, fuse, sample
            elif branches[index].kind == "load" and isinstance(seen.element(index), Lamp | Led | Winding):
                fuse = None


def _weaker(first: Published, second: Published) -> str:
    return first.basis if first.is_from_memory or not second.is_from_memory else second.basis
