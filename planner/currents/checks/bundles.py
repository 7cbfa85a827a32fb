"""Bundles: how many of the wires that lie together warm one another, in one position or at most."""

from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.model.loom import Wire
from planner.model.surroundings import carries_for_good, leg_surroundings

# A wire that carries no more than this share of what it may carry in its bundle does not count for the
# others: IEC 60364-5-52 clause 523.5; from memory.
COUNTS_FROM = 0.3


def loaded_with(seen: Inspection, wire: Wire, sample: Sample) -> int:
    """How many wires of a wire's bundle warm it in a position, itself among them; 1 if it lies alone."""
    if wire.bundle is None:
        return 1
    known = seen.loaded_wires.get((wire.bundle, id(sample)))
    if known is None:
        known = seen.loaded_wires[wire.bundle, id(sample)] = _loaded(seen, wire.bundle, sample)
    return len(known | {wire.wire})


def most_loaded_with(seen: Inspection, wire: Wire) -> int:
    """The most wires of a wire's bundle that warm it for longer than a moment, itself among them."""
    if wire.bundle is None:
        return 1
    return max(loaded_with(seen, wire, sample) for sample in seen.survey.samples if not sample.held)


def _loaded(seen: Inspection, bundle: str, sample: Sample) -> frozenset[str]:
    """The wires that carry enough to count.

    What a wire may carry in its bundle is reckoned with all that carry anything, which is the careful side:
    with fewer it might carry more, and count later.
    """
    carried: dict[str, list[tuple[int, float]]] = {}
    for wire in seen.loom.bundles[bundle]:
        for leg, index in enumerate(seen.legs[wire]):
            amps = abs(sample.amps[index])
            if amps > 0.01:
                carried.setdefault(wire, []).append((leg, amps))
    return frozenset(
        wire
        for wire, legs in carried.items()
        if any(amps > COUNTS_FROM * _may_carry(seen, wire, leg, len(carried)) for leg, amps in legs)
    )


def _may_carry(seen: Inspection, wire: str, leg: int, loaded: int) -> float:
    record = seen.loom.find(wire)
    around = leg_surroundings(seen.loom, record, leg, loaded)
    return carries_for_good(seen.standards, record.leg_mm2(leg), around).value
