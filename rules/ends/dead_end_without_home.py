"""A loose end that is never live and has no terminal to go to is covered, tied back and tagged.

What it looks for
An end at the start or finish of a wire that came off a removed part, on a conductor that was live in no
position.

Why it matters
A spare end that nobody tagged is a riddle for the next person, and one that is dead today may be live after
the next change. Sleeved and tagged it can be used again.

Before
The earth lead of a lamp whose reproduction is earthed through its base.

After
The lead stays in the loom: sleeved, folded back, tagged with the terminal it came from.

Limits
Only taken where no other rule has a place for the end. An end of whose conductor something has not been seen
is not called dead: another rule treats it as live.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Cover, Reason
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a cover for an outer end that was live in no position."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    fact = case.facts.at(need.was)
    if fact.live != "never" or case.is_middle(need.wire, need.end) or case.is_unknown(need.was):
        return
    end = case.old_end(need.wire, need.end)
    was = address_words(case.before, need.was)
    what = "was never live"
    if fact.earthed != "never":
        what = "goes to earth" if fact.earthed == "always" else f"goes to earth {fact.when}".strip()
    facts = (f"{end} came off {was} and {what}", f"tag it: was on {was}")
    why = Reason("dead-end-without-home", facts, leans_on=((need.wire, need.end),))
    yield Proposal((Cover(need.was, need.wire, need.end),), why)
