"""An ammeter that comes out leaves the leads of both its terminals, and they belong together.

What it looks for
A loose end that was on an ammeter, where what is there now, if anything, has no terminal of its role and none
that is in line as an ammeter is.

Why it matters
Everything that the battery feeds goes through an ammeter. One side tied back, the vehicle is dead; joined, it
works as before. A voltmeter in its place takes a feed and an earth, and nothing goes through it.

Before
The battery's lead on one terminal, the dynamo's and the fuse box's on the other.

After
All three on one stud.

Limits
What the joint has to carry is told by the size of its wires. A voltmeter is then fed as any instrument is.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.in_line import ends_of_what_was_in_line
from planner.model.delta import Join, Reason
from planner.model.elements import Gauge
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.part import Part
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield one joint for all the ends that were on the two terminals of an ammeter."""
    need = case.need
    found = ends_of_what_was_in_line(case, need, _in_line) if isinstance(need, LooseEnd) else None
    if found is None or not isinstance(need, LooseEnd):
        return
    pair, ends = found
    place, _ = split_address(need.was)
    one, other = (address_words(case.before, f"{place}:{mark}") for mark in pair)
    facts = (
        f"the ammeter was in series between {one} and {other}",
        "all that the battery feeds went through it",
    )
    why = Reason("ammeter-comes-out", facts, leans_on=tuple((wire, number) for wire, number, _ in ends))
    yield Proposal((Join(ends, f"joint:{place}.{pair[0]}"),), why)


def _in_line(part: Part) -> list[tuple[str, str]]:
    """The pairs of terminals that an ammeter in a part is between."""
    return [e.between for e in part.inside if isinstance(e, Gauge) and e.is_in_series]
