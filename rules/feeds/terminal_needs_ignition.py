"""A terminal that needs a feed live with the ignition gets one from the nearest protected point with room.

What it looks for
A bare terminal of a fitted part whose role wants a feed that goes off with the ignition, with no terminal of
the same part to share one with. Also an end live with the ignition that came off the same place and has no
terminal of its own role any more: no feed is nearer than that.

Why it matters
Fed from an always-live point, an instrument or a motor drains the battery overnight; not fed at all, it is
dead.

Before
Terminal 15 of a stabiliser whose mechanical forerunner had no feed.

After
A wire from the fused side of an ignition fuse with a free tab; where the tab is taken, a piggyback first.

Limits
Two points at most are tried, the best of them first. A point that is live only while another switch is on as
well does not count, and neither does one that the job takes out, nor what the old part gave itself: the
ignition feed of an old key switch is no feed for the new one.

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
from planner.model.delta import Reason
from planner.model.facts import Nature
from planner.model.need import BareTerminal, Emission, LooseEnd, Proposal
from planner.model.wording import address_words

NATURE: Nature = "ignition-live"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a new feed from each of the best two points, or the ignition end that is already there."""
    need = case.need
    if isinstance(need, LooseEnd):
        at = terminal_for_the_end(case, need, NATURE)
        if at is not None:
            facts = (
                f"{case.old_end(need.wire, need.end)} is live with the ignition and its terminal "
                f"{address_words(case.before, need.was)} is gone",
                f"{address_words(case.loom, at)} needs a feed that goes off with the ignition",
            )
            why = Reason("terminal-needs-ignition", facts, leans_on=((need.wire, need.end),))
            yield Proposal((case.put(need.wire, need.end, at),), why)
    if not isinstance(need, BareTerminal) or case.wants(need.at) != "ignition":
        return
    if is_joined_to_an_end(case, need.at) or find_fed_sibling(case, need.at, NATURE):
        return
    for point, operations in choose_feeds(case, need.at, NATURE):
        facts = (
            f"{address_words(case.loom, need.at)} needs a feed that goes off with the ignition",
            f"{point_words(case, point)} is live with the ignition",
        )
        yield Proposal(operations, Reason("terminal-needs-ignition", facts))
