"""A feed has no fuse, as from the factory.

What it looks for
A wire on a feed terminal of a fitted part that was live before without a fuse, always or with the ignition.

Why it matters
Headlamp, ignition and charging leads were often unfused. It is not the fault of the swap and not a reason to
refuse it, but the wire is in the hand now and a holder costs little.

Before
The brown feed of the lighting switch, straight from the battery.

After
As before, with a remark; beside the plan the offer of a fuse holder in line, if the catalogue has one that
bears the loads behind it.

Limits
Never for the feed of a fuse box, which is fused there; never in the output of a generator or its regulator,
never where the fuse would carry both headlamps. The loads are added up from their rated watts, all on at
once.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_insert, parts_of
from planner.engine.feeding import has_own_supply, headlamps_beyond
from planner.model.delta import Reason
from planner.model.elements import Fuse, Source
from planner.model.need import Emission, Fitted, Proposal, Remark
from planner.model.reach import consumers_beyond, fuse_ways
from planner.model.wording import address_words

FAMILY = "in-line-fuse"
GENERATING_ROLES = ("B+", "D+", "51")


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each unfused feed, and the smallest fuse in line that bears its loads."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted) or any(isinstance(e, Source) for e in part.inside):
        return
    fused = {way.sides[0] for way in fuse_ways(part, case.catalogue)}
    for mark, terminal in part.terminals.items():
        at = f"{need.at}:{mark}"
        if case.wants(at) not in ("live", "ignition") or terminal.role in GENERATING_ROLES or mark in fused:
            continue
        for wire, number in case.ends_at(at):
            if wire not in case.before.wire_index:
                continue
            was = case.before.find(wire).ends[number].at
            fact = case.facts.at(was)
            if (
                fact.nature not in ("always-live", "ignition-live")
                or fact.fuse
                or not has_own_supply(case, was)
            ):
                continue
            end = case.old_end(wire, number)
            why = Reason(
                "factory-unfused-feed",
                (f"{end} on {address_words(case.loom, at)} is live without a fuse, as it was before",),
                leans_on=((wire, number),),
            )
            yield Remark(f"{end} on {address_words(case.loom, at)} has no fuse, as from the factory", why)
            yield from _offer(case, wire, number, why)


def _offer(case: Case, wire: str, end: int, why: Reason) -> Iterator[Proposal]:
    at = case.loom.find(wire).ends[end].at
    behind = consumers_beyond(case.loom, case.catalogue, at)
    amps = sum(c.watts for c in behind) / case.loom.supply.volts
    holders = [(e.amps, p, e) for p in parts_of(case, FAMILY) for e in p.inside if isinstance(e, Fuse)]
    fitting = sorted((h for h in holders if h[0] >= amps), key=lambda h: (h[0], h[1].part))
    if not fitting or len(headlamps_beyond(case, at)) > 1:
        return
    rated, holder, fuse = fitting[0]
    facts = (*why.facts, f"the loads behind it draw {amps:.1f} A together; the fuse bears {rated:g} A")
    insert = draft_insert(case, wire, end, holder, *fuse.between)
    yield Proposal((insert,), Reason(why.rule, facts, why.source, why.leans_on), offer=True)
