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
Never for the cable of a starter, nor for the feed of a fuse box, which is fused there; never in the output of
a generator or its regulator, never where no beam is left when the fuse blows, which is said. A wire that is
only assumed is passed over: it is measured first. The loads are added up from their rated watts, all on at
once; where none is seen behind the end, as before a ballast resistor, no fuse is chosen.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.feeding import has_own_supply
from planner.engine.headlamps import darkens_both_headlamps
from planner.engine.suiting import weakest_in_line
from planner.messages import tr
from planner.model.delta import Reason, copy_loom
from planner.model.elements import Fuse, Source
from planner.model.loom import Wire
from planner.model.need import Emission, Fitted, Proposal, Remark
from planner.model.reach import consumers_beyond, fuse_ways
from planner.model.wording import address_words

STARTER = "starter"  # its studs take main cables
GENERATING_ROLES = ("B+", "D+", "51")


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each unfused feed, and the smallest fuse in line that bears its loads."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted) or any(isinstance(e, Source) for e in part.inside):
        return
    fused = {way.sides[0] for way in fuse_ways(case.loom, case.catalogue, need.at)}
    for mark, terminal in part.terminals.items():
        at = f"{need.at}:{mark}"
        if case.wants(at) not in ("live", "ignition") or terminal.role in GENERATING_ROLES or mark in fused:
            continue
        if part.family == STARTER and terminal.fitting.startswith("stud"):
            continue
        leads = [w for w, _ in case.wires_at(at) if w.wire not in case.before.wire_index]
        joiners = dict.fromkeys(e.at for w in leads for e in w.ends if e.at.startswith("joint:"))
        for wire, number in (*case.ends_at(at), *(end for joint in joiners for end in case.ends_at(joint))):
            if wire not in case.before.wire_index or _is_assumed(case.before.find(wire)):
                continue
            was = case.before.find(wire).ends[number].at
            before = case.facts.at(was)
            if (
                before.nature not in ("always-live", "ignition-live")
                or before.fuse
                or not has_own_supply(case, was)
            ):
                continue
            end = tr("{wire} on {at}", wire=case.end_now(wire, number), at=address_words(case.loom, at))
            fact = f"{end} is live without a fuse, as it was before"
            why = Reason("factory-unfused-feed", (fact,), leans_on=((wire, number),))
            if darkens_both_headlamps(case, at):
                text = tr(
                    "{wire} has no fuse, as from the factory; none is offered, since one fuse would carry "
                    "both headlamps with all their beams",
                    wire=end,
                )
                yield Remark(text, why)
                continue
            yield Remark(tr("{wire} has no fuse, as from the factory", wire=end), why)
            yield from _offer(case, wire, number, why)


def _is_assumed(wire: Wire) -> bool:
    """Whether an end of a wire has not been seen: then it may have a fuse, or not be there at all."""
    return any(wire.end_known(n) == "assumed" or end.at == "unknown" for n, end in enumerate(wire.ends))


def _offer(case: Case, wire: str, end: int, why: Reason) -> Iterator[Proposal]:
    at = case.loom.find(wire).ends[end].at
    # What else hangs on the wire's conductor is before a fuse that sits at this end.
    off = copy_loom(case.loom, wires=tuple(w for w in case.loom.wires if w.wire != wire))
    behind = consumers_beyond(off, case.catalogue, at)
    if not behind:
        return
    amps = sum(c.watts for c in behind) / case.loom.supply.volts
    found = weakest_in_line(case, Fuse, amps)
    if found is None:
        return
    holder, fuse = found
    facts = (*why.facts, f"the loads behind it draw {amps:.2g} A together; the fuse bears {fuse.amps:g} A")
    insert = draft_insert(case, wire, end, holder, *fuse.between)
    yield Proposal((insert,), Reason(why.rule, facts, why.source, why.leans_on), offer=True)
