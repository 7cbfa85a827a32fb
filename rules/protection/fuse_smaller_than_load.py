"""A fuse too small for its load gives way to the next rating that the wires stand, or the load is split.

What it looks for
A fuse that carries more than it does for good.

Why it matters
A fuse at its limit ages and blows on some cold, wet night. The quick cure, a larger one, is only a cure if
every wire behind it stands that.

Before
A stronger heater fan on the 8 A fuse of the small one.

After
The least fuse that carries the loads with a fifth to spare, if every wire on its fused side stands it. Else
one of the wires there comes off the fuse and gets one of its own, from the unfused side.

Limits
Looks at the wires up to the next switch or load; what lies beyond is checked afterwards. A wire is split off
only if another stays on the fuse, and the conductor before is live always or with the ignition. The ratings
are those of blade fuses.

Source
ISO 8820-3 for ratings, 80 % of a rating for good; cable table after DIN VDE 0298-4
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.relieving import draft_splits
from planner.engine.sizing import draft_fuse, fuse_at, strain_of
from planner.model.delta import Reason
from planner.model.fitted_fuse import AT_ITS_RATING, fuse_words, rated_for_good
from planner.model.need import Emission, Proposal
from planner.model.reach import conductor
from planner.model.strain import Strain
from planner.model.surroundings import carries_for_good, leg_surroundings
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a larger fuse if the wires stand it, else a fuse of its own for a wire that may be split off."""
    strain = strain_of(case, "fuse")
    fuse = fuse_at(case, strain.at) if strain else None
    if strain is None or fuse is None:
        return
    at = address_words(case.loom, strain.at)
    amps = strain.value * (AT_ITS_RATING if strain.momentary else 1.0)
    rated = case.catalogue.standards.fuse_for_load(amps)
    fact = (
        f"the fuse of {fuse_words(fuse.amps, fuse.marked)} at {at} carries {strain.value:.1f} A; "
        f"{strain.limit:g} A is what it does"
    )
    stands = _stands(case, strain.at)
    if rated is not None and rated_for_good(fuse.amps, fuse.marked) < rated.value <= stands:
        facts = (fact, f"every wire on its fused side stands {rated.value:g} A")
        change = draft_fuse(case, strain.at, fuse, rated.value)
        yield Proposal((change,), Reason("fuse-smaller-than-load", facts, strain.source))
        return
    yield from _split(case, strain, f"{fact}; the weakest wire behind it stands {stands:g} A")


def _stands(case: Case, at: str) -> float:
    """What the weakest wire on the fused side carries for good, in A; in a bundle, with all of it loaded."""
    on = {wire for address in conductor(case.loom, at) for wire, _ in case.ends_at(address)}
    wires = [case.loom.find(wire) for wire in on]
    tables, bundles = case.catalogue.standards, case.loom.bundles
    stood = []
    for wire in wires:
        together = len(bundles[wire.bundle]) if wire.bundle else 1
        for leg in range(len(wire.ends) - 1):
            around = leg_surroundings(case.loom, wire, leg, together)
            stood.append(carries_for_good(tables, wire.leg_mm2(leg), around).value)
    return min(stood, default=0.0)


def _split(case: Case, strain: Strain, fact: str) -> Iterator[Proposal]:
    """Yield each wire of the fuse on a fuse of its own, if what stays is then no more than the fuse does."""
    for split in draft_splits(case, strain.at):
        if strain.value - split.amps > strain.limit:
            continue
        facts = (fact, f"{split.words} leads to {split.amps:.1f} A of it: a fuse of its own bears that")
        yield Proposal(split.operations, Reason("fuse-smaller-than-load", facts, strain.source))
