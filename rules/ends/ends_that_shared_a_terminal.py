"""Ends that shared a terminal the new part has not are joined with one another, not covered one by one.

What it looks for
A loose end whose old terminal carried other ends that hang loose too, where nothing was fitted in place of
the old part or the new part has no use for what they carry.

Why it matters
The terminal was the joint. Sleeved one by one, the ends are dead beyond it: the feed that came in on one wire
and went on by the next takes the whole vehicle with it.

Before
Two wires on the battery stud of a regulator that comes out: one from the battery, one to the lighting switch.

After
Both in one insulated joiner, tied back where the regulator was; everything beyond stays fed.

Limits
Only ends of one terminal: what the part joined by a contact or a coil is not joined here. Where the new part
has a terminal of their role, of a terminal that was the same node, or one that wants such a feed or earth,
other rules speak; so they do where a new part is fitted and the role of the old terminal is not known.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import NATURE_WANTED
from planner.model.delta import Join, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.reach import joined_inside
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield one joiner for all the ends that the terminal carried."""
    need = case.need
    if not isinstance(need, LooseEnd) or _has_home(case, need.was):
        return
    place, mark = split_address(need.was)
    ends = tuple(end for end in case.freed_ends(place) if end[2] == need.was)
    if len({wire for wire, _, _ in ends}) < 2:
        return
    named = [case.old_end(wire, number) for wire, number, _ in ends]
    facts = (
        f"{', '.join(named[:-1])} and {named[-1]} shared {address_words(case.before, need.was)}",
        "the terminal joined them: apart, what lies beyond it would be dead",
    )
    leans_on = tuple((wire, number) for wire, number, _ in ends)
    why = Reason("ends-that-shared-a-terminal", facts, leans_on=leans_on)
    yield Proposal((Join(ends, f"joint:{place}.{mark}"),), why)


def _has_home(case: Case, was: str) -> bool:
    """Whether the part there now has a terminal of the role, of the same node, or for such a conductor."""
    place, mark = split_address(was)
    old, new = case.old_part(place), case.part(place)
    if old is None or new is None:
        return False
    roles = {old.terminals[m].role for m in joined_inside(old, mark) if m in old.terminals}
    wanted = NATURE_WANTED.get(case.facts.at(was).nature)
    return None in roles or any(
        terminal.role in roles or case.wants(f"{place}:{m}") == wanted
        for m, terminal in new.terminals.items()
    )
