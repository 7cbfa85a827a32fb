"""A loose end that is or can be live and has no terminal to go to is insulated at once and tied back.

What it looks for
An end at the start or finish of a wire that came off a removed part, on a conductor that was live in some
position.

Why it matters
A bare live end finds the body. It is never left bare, and never cut off while the wire may be wanted again.

Before
The constant feed of a five-terminal relay, always live.

After
The four-terminal relay has no use for it: sleeved, folded back, tied, tagged.

Limits
Only taken where no other rule has a place for the end. Live means live before, some of it perhaps through the
removed part itself: the end is covered all the same.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Cover, Reason
from planner.model.fitted_fuse import fuse_words
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a cover for an outer end that was live in any position."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    fact = case.facts.at(need.was)
    if fact.live == "never" or case.is_middle(need.wire, need.end):
        return
    end = case.old_end(need.wire, need.end)
    when = "always live" if fact.live == "always" else f"live {fact.when}".strip()
    fused = f", fused with {fuse_words(fact.fuse_amps, fact.fuse_marked)}" if fact.fuse_amps else ""
    facts = (
        f"{end} came off {address_words(case.before, need.was)} and is {when}{fused}",
        "no terminal of the fitted parts has a use for it",
    )
    why = Reason("live-end-without-home", facts, leans_on=((need.wire, need.end),))
    yield Proposal((Cover(need.was, need.wire, need.end),), why)
