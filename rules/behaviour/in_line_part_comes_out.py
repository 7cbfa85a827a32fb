"""What all the current of a conductor went through comes out: the ends of its two terminals belong together.

What it looks for
A loose end that was on one terminal of an ammeter, or of a coil which pulls in on the current of what it is
in line with, where what is there now, if anything, is not in line as well and has no terminal of the end's
role.

Why it matters
One side tied back, what is fed beyond it is dead: the lamps that a bulb check watched, or all that the
battery feeds through an ammeter. Nobody took these out. Joined, they work as before.

Before
A bulb check in the feed of both tail lamps; an ammeter with the battery's lead on one terminal and those of
dynamo and fuse box on the other.

After
The ends of both terminals in one joiner, or on one stud where the wires are thick.

Limits
What watched is gone: a lamp that fails, a battery that is not charged is not told any more. A coil across the
supply, or a voltmeter, is none of this: nothing goes through it.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.in_line import ends_of_what_was_in_line
from planner.model.delta import Join, Reason
from planner.model.elements import Coil
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield one joint for all the ends that were on the two terminals of what was in line."""
    need = case.need
    found = ends_of_what_was_in_line(case, need) if isinstance(need, LooseEnd) else None
    if found is None or not isinstance(need, LooseEnd):
        return
    element, ends = found
    place, _ = split_address(need.was)
    one, other = (address_words(case.before, f"{place}:{mark}") for mark in element.between)
    facts = (
        f"a coil was in line between {one} and {other}, and pulled in on what went through it"
        if isinstance(element, Coil)
        else f"the ammeter was in line between {one} and {other}",
        "what is fed on the one side was fed through it",
    )
    why = Reason("in-line-part-comes-out", facts, leans_on=tuple((wire, n) for wire, n, _ in ends))
    yield Proposal((Join(ends, f"joint:{place}.{element.between[0]}"),), why)
