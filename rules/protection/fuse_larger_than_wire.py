"""A fuse that lets through more than the wire behind it stands gives way to a smaller one.

What it looks for
A wire behind a fuse whose continuous rating is more than the wire carries for good.

Why it matters
The fuse is there for the wire. If it is the larger of the two, a chafed wire burns its length before the fuse
opens.

Before
A reproduction fuse box comes with fuses of 25 A; behind one of them runs a wire of 1 mm2 in the engine bay.

After
A wire that the plan makes anyway is made thicker. Else the least fuse that carries the loads with a fifth to
spare, if the wire stands that one; of 5 A at least where the wire stands so much, for lamps that are still
cold would blow a smaller one. Else one of the wires on the fuse gets a fuse of its own and a smaller one does
for the rest, or the wire is laid thicker.

Limits
What the fuse carries is what the loads behind it take at most together, as computed. The ratings are those of
blade fuses; take the next lower one of a box for others. Only wires between a fuse and its loads count, and
of those that are there only the ones up to the first switch are laid thicker: beyond it there are too many,
and a fuse of their own is the better answer.

Source
ISO 8820-3 for ratings, 80 % of a rating for good; cable table after DIN VDE 0298-4
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.relieving import draft_splits
from planner.engine.sizing import (
    draft_fuse,
    draft_thicker,
    fuse_at,
    least_mm2,
    strain_of,
)
from planner.model.delta import Reason
from planner.model.fitted_fuse import fuse_words, rated_for_good
from planner.model.need import Emission, Proposal
from planner.model.reach import conductor
from planner.model.strain import Strain
from planner.model.surroundings import leg_surroundings
from planner.model.wording import address_words, wire_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a smaller fuse if it carries the loads, else a thicker wire."""
    strain = strain_of(case, "fuse-over-wire")
    fuse = fuse_at(case, strain.path[0]) if strain and strain.path else None
    if strain is None or fuse is None or strain.leg is None:
        return
    record, at = case.loom.find(strain.at), strain.path[0]
    carries = max(strain.carries or 0.0, 0.1)
    rated = case.catalogue.standards.fuse_between(carries, strain.limit)
    facts = (
        f"the fuse of {fuse_words(fuse.amps, fuse.marked)} at {address_words(case.loom, at)} lets "
        f"{strain.value:g} A through",
        f"{wire_words(record, strain.leg)} ({strain.at}) behind it, {record.leg_mm2(strain.leg):g} mm2, "
        f"carries {strain.limit:g} A for good",
        f"for the loads behind it a fuse has to do {carries:.1f} A for good",
    )
    why = Reason("fuse-larger-than-wire", facts, strain.source)
    thicker = tuple(_thicker(case, strain, strain.leg, why))
    if thicker and strain.at not in case.before.wire_index:
        yield from thicker
        return
    if rated is not None and rated.value < rated_for_good(fuse.amps, fuse.marked):
        yield Proposal((draft_fuse(case, at, fuse, rated.value),), why)
        return
    for split in draft_splits(case, at):
        rest = case.catalogue.standards.fuse_for_load(min(carries, split.rest))
        if rest is not None and rest.value <= strain.limit:
            change = draft_fuse(case, at, fuse, rest.value)
            more = f"{split.words} leads to {split.amps:.1f} A of it: without that a smaller fuse does"
            shared = Reason(why.rule, (*facts, more), why.source)
            yield Proposal((change, *split.operations), shared)
    if {end.at for end in case.loom.find(strain.at).ends} <= set(conductor(case.loom, at)):
        yield from thicker


def _thicker(case: Case, strain: Strain, leg: int, why: Reason) -> Iterator[Proposal]:
    """Yield the wire in the thinnest size that stands the fuse, if there is one and it is thicker."""
    record = case.loom.find(strain.at)
    around = leg_surroundings(case.loom, record, leg, strain.loaded)
    mm2 = least_mm2(case, strain.value, around, (record.ends[n].at for n in (leg, leg + 1)))
    if mm2 is not None and mm2 > record.leg_mm2(leg):
        yield Proposal((draft_thicker(case, strain.at, leg, mm2),), why)
