"""The terminals of an instrument stabiliser have changed places on the new part: the equal mark is a trap.

What it looks for
An end that came off the input or the output of a stabiliser inside a part, and on the new part an equal mark
on the other side of its stabiliser.

Why it matters
Both are feeds, and both wires fit both terminals. Crossed, the gauges get the battery's volts, which they do
not stand for long, and the stabiliser holds nothing.

Before
An instrument cluster with B for the ignition feed and I for the gauges outside; on that of a later year I is
the input and B the output.

After
A remark; where the ends go is settled by the side that they were on.

Limits
It speaks of stabilisers that both parts have inside. What a stabiliser of its own place is marked, its roles
say.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.instruments import on_same_side_of_stabiliser
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Remark
from planner.model.wording import address_words, mark_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark if the equal mark is on the other side of the stabiliser."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    place, mark = split_address(need.was)
    part = case.part(place)
    if part is None or mark not in part.terminals:
        return
    everywhere = [f"{place}:{m}" for m in part.terminals]
    same_side = on_same_side_of_stabiliser(case, need.was, everywhere)
    if same_side == everywhere or need.was in same_side:
        return
    goes = tr(" or ").join(mark_words(split_address(at)[1]) for at in same_side)
    text = tr(
        "{wire} came off {at}; on the new part {mark} is the other side of the stabiliser: it goes to "
        "{goes}. Crossed, the gauges get more volts than they stand",
        wire=case.old_end(need.wire, need.end),
        at=address_words(case.before, need.was),
        mark=mark_words(mark),
        goes=goes,
    )
    yield Remark(text, Reason("sides-of-a-stabiliser", ("input and output have changed places",)))
