"""A loose end of which nobody knows what it is has no terminal to go to: insulated as if it were live.

What it looks for
An end at the start or finish of a wire that came off a removed part, on a conductor that is drawn dead
although one of its ends has not been seen, or is only assumed.

Why it matters
Dead on the drawing is not dead in the hand: a feed that is live only with the lamps on, or with a switch that
somebody added, finds the body on the first night.

Before
A blue wire on contact 2 of a trailer socket that disappears into the frame.

After
Sleeved, folded back, tied and tagged as a live end would be, until the meter has told what it is.

Limits
Only taken where no other rule has a place for the end. What is surely earthed, or was live, is not unknown.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Cover, Reason
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a cover for an outer end whose conductor is not known."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    if case.is_middle(need.wire, need.end) or not case.is_unknown(need.was):
        return
    end, was = case.old_end(need.wire, need.end), address_words(case.before, need.was)
    facts = (
        f"{end} came off {was}; what it is is not known: treat it as live",
        f"tag it: was on {was}",
    )
    why = Reason("unknown-end-without-home", facts, leans_on=((need.wire, need.end),))
    yield Proposal((Cover(need.was, need.wire, need.end),), why)
