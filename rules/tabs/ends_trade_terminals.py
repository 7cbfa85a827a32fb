"""Two ends that must trade terminals: one is held off, insulated, until the other has moved.

What it looks for
In the settled plan, ends of one place that go round in a ring: each to a terminal that another of them had.

Why it matters
Worked one wire at a time, the first of them meets a terminal that is still taken. Two ends on one terminal
for a moment, or two bare ends in one hand, is how they are crossed.

Before
Black/red on 30 and black/white on 86, which change places on the new relay.

After
Black/red comes off and is insulated, black/white moves, then black/red goes on.

Limits
One end a ring is held. It changes nothing in the finished loom, only the order of work.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Hold, Reason
from planner.model.need import Emission, Fitted, Proposal
from planner.model.wording import address_words

_Trip = tuple[str, str, str, int]  # from, to, wire, end


def propose(case: Case) -> Iterator[Emission]:
    """Yield a hold for the first end of each ring."""
    need = case.need
    if not isinstance(need, Fitted):
        return
    trips: list[_Trip] = []
    for wire, number, mark in case.before.ends_of_place(need.at):
        was = f"{need.at}:{mark}"
        now = case.loom.find(wire).ends[number].at if wire in case.loom.wire_index else was
        if now != was and now.startswith(f"{need.at}:"):
            trips.append((was, now, wire, number))
    while ring := next((found for trip in trips if (found := _ring(trips, trip))), []):
        was, _, wire, number = ring[0]
        places = ", ".join(address_words(case.loom, trip[0]) for trip in ring)
        facts = (
            f"the ends on {places} trade terminals",
            f"{case.old_end(wire, number)} waits, insulated, until the others have moved",
        )
        yield Proposal((Hold(wire, number, was),), Reason("ends-trade-terminals", facts))
        trips.remove(ring[0])


def _ring(trips: list[_Trip], first: _Trip) -> list[_Trip]:
    """The shortest ring of moves that begins with one and comes back to its terminal; empty if none does."""
    ways = [[first]]
    passed = set()
    for way in ways:
        if way[-1][1] == first[0]:
            return way
        if way[-1][1] not in passed:
            passed.add(way[-1][1])
            ways.extend([*way, trip] for trip in trips if trip[0] == way[-1][1])
    return []
