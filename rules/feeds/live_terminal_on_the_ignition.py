"""A terminal that is meant for a feed that is always live got one that goes off with the ignition.

What it looks for
A terminal of a fitted part that wants a feed that is always live, whose conductors are all live with the
ignition only, and that takes current with everything at rest.

Why it matters
With the key off the part is dead and its memory lost. All that worked works as before, so no load shows it.

Before
A recorder with a memory that would empty the battery in days, moved to the ignition fuse.

After
As planned, with a remark on what it loses by that; the verdict says so too.

Limits
What takes nothing at rest, such as the contacts of a switch or relay, may be fed from either.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.at_rest import fed_at_rest, taken_at_rest
from planner.engine.case import Case
from planner.engine.feeding import natures_on
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.need import Emission, Fitted, Remark
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each such terminal."""
    need = case.need
    for at in fed_at_rest(case, need.at) if isinstance(need, Fitted) else ():
        if not isinstance(need, Fitted) or case.wants(at) != "live":
            continue
        if natures_on(case, at) != {"ignition-live"}:
            continue
        where, title = address_words(case.loom, at), case.loom.place_title(need.at)
        fact = f"always live it would take {taken_at_rest(case, need.at, at)}"
        text = tr(
            "{where} is meant for a feed that is always live, and goes on the ignition here: {fact}. So with "
            "the key off it is dead, and what it keeps in a memory is lost; if it has to keep that, give it "
            "an always live feed with a switch in it, for when the vehicle stands for long",
            where=where,
            fact=fact,
        )
        but = tr("the {place} is dead with the key off, and keeps nothing in a memory", place=title)
        yield Remark(text, Reason("live-terminal-on-the-ignition", (fact,)), but=but)
