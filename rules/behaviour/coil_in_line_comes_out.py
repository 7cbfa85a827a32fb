"""A coil that its loads' current went through comes out: the ends of its two terminals belong together.

What it looks for
A loose end that was on one terminal of a coil which pulls in on the current of what it is in line with, where
what is there now, if anything, has no such coil and no terminal of the end's role.

Why it matters
A bulb check is fed on one side and feeds its lamps on the other. With both sides tied back the lamps that it
watched are dark, and nobody took out the lamps.

Before
A bulb check in the feed of both tail lamps.

After
The feed and the lamps' wire in one joiner.

Limits
What watched is gone: a lamp that fails is not told any more. A coil across the supply is none of this.

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
from planner.model.part import Part
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield one joint for all the ends that were on the two terminals of a coil in line."""
    need = case.need
    found = ends_of_what_was_in_line(case, need, _in_line) if isinstance(need, LooseEnd) else None
    if found is None or not isinstance(need, LooseEnd):
        return
    pair, ends = found
    place, _ = split_address(need.was)
    one, other = (address_words(case.before, f"{place}:{mark}") for mark in pair)
    facts = (
        f"a coil was in line between {one} and {other}, and pulled in on what went through it",
        "what is fed on the one side was fed through it",
    )
    why = Reason("coil-in-line-comes-out", facts, leans_on=tuple((wire, n) for wire, n, _ in ends))
    yield Proposal((Join(ends, f"joint:{place}.{pair[0]}"),), why)


def _in_line(part: Part) -> list[tuple[str, str]]:
    """The pairs of wired terminals that a coil in line is between."""
    coils = (e for e in part.inside if isinstance(e, Coil) and e.is_in_series)
    return [
        coil.between
        for coil in coils
        if all(m in part.terminals and part.terminals[m].by == "wire" for m in coil.between)
    ]
