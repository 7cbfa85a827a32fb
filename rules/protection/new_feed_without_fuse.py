"""A new wire that is taken where nothing protects it wants a fuse of its own, close to where it is taken.

What it looks for
A wire that the plan makes to a feed terminal of a fitted part, taken from a conductor that was live before
without a fuse, always or with the ignition.

Why it matters
What the factory left without a fuse it laid short, thick and clear of metal. A thin new wire beside it burns
from end to end when it is pinched, and everything behind the dash with it.

Before
A voltmeter in a dash without a fuse box, fed from the ignition switch.

After
As planned, with a remark, of which the verdict speaks too; beside the plan the offer of a holder in that
wire, where the catalogue has one that bears the loads behind it.

Limits
Never for the feed of a fuse box. A wire on which every beam of the headlamps hangs is offered no fuse; the
plan is then not settled.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.headlamps import darkens_both_headlamps
from planner.engine.suiting import weakest_in_line
from planner.messages import tr
from planner.model.delta import EndRef, Reason
from planner.model.elements import Fuse
from planner.model.need import Emission, Fitted, Proposal, Remark
from planner.model.reach import consumers_beyond, fuse_ways
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each unfused new feed, and the smallest fuse in line that bears its loads."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted) or part.battery_posts:
        return
    fused = {way.sides[0] for way in fuse_ways(case.loom, case.catalogue, need.at)}
    for mark in part.terminals:
        at = f"{need.at}:{mark}"
        if mark in fused or case.wants(at) not in ("live", "ignition"):
            continue
        for (wire, taken), source in _unfused(case, at):
            text = tr(
                "{wire} to {at} has no fuse: {source}, where it is taken, has none before it",
                wire=case.end_now(wire, taken),
                at=address_words(case.loom, at),
                source=address_words(case.loom, source),
            )
            fact = f"{address_words(case.loom, source)} was live before without a fuse"
            why = Reason("new-feed-without-fuse", (fact,))
            if darkens_both_headlamps(case, at):
                no_fuse = tr(
                    "{text}, and one fuse there would put out both headlamps. Give each beam, or each side, "
                    "a fuse of its own close to there, and a wire of its own from it",
                    text=text,
                )
                yield Remark(no_fuse, why, is_open=True)
                continue
            put_in = tr("{text}. Put one in, close to there, that suits the wire", text=text)
            yield Remark(put_in, why, but=tr("a new wire has no fuse"))
            beyond = consumers_beyond(case.loom, case.catalogue, at, (source,))
            amps = sum(c.watts for c in beyond) / case.loom.supply.volts
            found = weakest_in_line(case, Fuse, amps)
            if found is not None:
                holder, fuse = found
                insert = draft_insert(case, wire, taken, holder, fuse.between[1], fuse.between[0])
                yield Proposal((insert,), why, offer=True)


def _unfused(case: Case, at: str) -> Iterator[tuple[EndRef, str]]:
    """Yield the end of each new wire to a terminal where it is taken from what is live without a fuse."""
    for wire, number in case.wires_at(at):
        is_new = wire.wire not in case.before.wire_index
        if not is_new or wire.wire.startswith("lead-") or len(wire.ends) != 2:
            continue  # the lead of a part in line goes on from a wire that was there
        taken = 1 - number
        source = wire.ends[taken].at
        fact = case.facts.at(source)
        if fact.nature in ("always-live", "ignition-live") and fact.fuse is None:
            yield (wire.wire, taken), source
