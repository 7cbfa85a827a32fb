"""Of several ends on one overloaded push-on terminal, one goes to another terminal of the same node.

What it looks for
A push-on terminal, piggyback included, that passes more than it is tested with, and another terminal of the
same part that is the same node inside.

Why it matters
A piggyback makes room for an end, not for its current: all of it goes through the one blade. Its spring
softens, and then it gets hotter by itself.

Before
Heater, radio and a pair of fog lamps by piggyback on one blade of the fuse box.

After
One of the ends sits on the fuse's second blade, by a piggyback of its own if that is taken too.

Limits
One end at a time, each that is there; the end that comes last on the work list first. What the other blade
then carries is checked as well. Where the part has no second terminal of the node, thicker wire or another
feed is for other rules.

Source
UL 310 for the currents at which tabs are tested; the practice itself is common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.relieving import put_end
from planner.engine.sizing import strain_of
from planner.model.delta import Piggyback, Reason
from planner.model.need import Emission, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield each end of an overloaded terminal on each terminal of the same node that takes it."""
    strain = strain_of(case, "tab")
    ends = case.ends_at(strain.at) if strain else ()
    if strain is None or len(ends) < 2:
        return
    at = address_words(case.loom, strain.at)
    for other in case.equal_terminals(strain.at):
        has_room = case.room(other) > 0
        if not has_room and not case.takes_piggyback(other):
            continue
        facts = (
            f"{at} passes {strain.value:.1f} A and is tested with {strain.limit:g} A on that wire",
            f"{address_words(case.loom, other)} is the same node inside",
        )
        tab = () if has_room else (Piggyback(other),)
        for wire, end in reversed(ends):
            why = Reason("terminal-carries-too-much", facts, strain.source)
            yield Proposal((*tab, *put_end(case, wire, end, other)), why)
