"""A terminal that needs an always-live feed gets one from the nearest protected point with room.

What it looks for
A bare terminal of a fitted part whose role wants a feed that no switch takes away, with no terminal of the
same part to share one with. Also an always-live end that came off the same place and has no terminal of its
own role any more: no feed is nearer than that.

Why it matters
A relay, a flasher or a hazard switch without its constant feed is dead with the ignition off, which is just
when it is wanted.

Before
Terminal 30 of a five-terminal dip relay: the four-terminal one before it had no such feed.

After
A wire from the fused side of an always-live fuse with a free tab; where the tab is taken, a piggyback first.

Limits
Two points at most are tried, the best of them first. An unfused point is used only where there is no fused
one, and then with a fuse of its own in a holder beside it, if one suits the loads that are seen; or where a
beam of both headlamps would hang on a fuse that others use. No fuse at all gets what would leave no beam when
it blows; a flash, whose lamps are fed in another way too, has one. Whether the fuse bears the load is for the
check of currents. A battery isolator gets no feed of its own. What the old part
gave itself is no feed for the new one.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import choose_feeds
from planner.engine.feeding import (
    find_fed_sibling,
    is_joined_to_an_end,
    point_words,
    terminal_for_the_end,
)
from planner.engine.headlamps import darkens_both_headlamps
from planner.engine.relieving import Live, OwnFeed, draft_own_feed
from planner.engine.sizing import amps_beyond
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, LooseEnd, Proposal
from planner.model.reach import fuse_ways
from planner.model.wording import address_words

NATURE: Live = "always-live"
ISOLATED = "isolated-live"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a new feed from each of the best two points, or the live end that is already there."""
    need = case.need
    if isinstance(need, LooseEnd):
        at = terminal_for_the_end(case, need, NATURE)
        if at is not None:
            facts = (
                f"{case.old_end(need.wire, need.end)} is always live and its terminal "
                f"{address_words(case.before, need.was)} is gone",
                f"{address_words(case.loom, at)} needs a feed that is always live",
            )
            why = Reason("terminal-needs-live", facts, leans_on=((need.wire, need.end),))
            yield Proposal((case.put(need.wire, need.end, at),), why)
    if not isinstance(need, BareTerminal) or case.wants(need.at) != "live":
        return
    if is_joined_to_an_end(case, need.at) or find_fed_sibling(case, need.at, NATURE):
        return
    part = case.part(split_address(need.at)[0])
    if part is not None and any(t.role == ISOLATED for t in part.terminals.values()):
        return  # a feed of its own would only look connected: the main lead has to go through it
    needs = f"{address_words(case.loom, need.at)} needs a feed that is always live"
    for point, operations in choose_feeds(case, need.at, NATURE):
        own = _by_a_fuse_of_its_own(case, need.at) if point.fact.fuse is None else None
        if own is not None:
            suits = f"a fuse of {own.rated_amps:g} A suits what hangs on the new wire"
            why = Reason(
                "terminal-needs-live", (needs, f"{point_words(case, own.point)} is always live", suits)
            )
            yield Proposal(own.operations, why)
            return
        why = Reason("terminal-needs-live", (needs, f"{point_words(case, point)} is always live"))
        yield Proposal(operations, why)


def _by_a_fuse_of_its_own(case: Case, at: str) -> OwnFeed | None:
    """A feed by a fuse in a holder close to where it is taken; None where none belongs or none is had."""
    place, mark = split_address(at)
    part = case.part(place)
    if part is None or part.battery_posts or case.role(at) == "B+" or darkens_both_headlamps(case, at):
        return None
    if any(mark == way.sides[0] for way in fuse_ways(case.loom, case.catalogue, place)):
        return None  # it is fused there
    amps = amps_beyond(case, [at])
    return draft_own_feed(case, at, amps, NATURE) if amps else None
