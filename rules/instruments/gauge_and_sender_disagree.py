"""A gauge that shows something else than its sender means gets a sender of its range, or the sender a gauge.

What it looks for
A gauge that is off by more than a tenth of its scale, or that reads otherwise than before, and the sender
on its conductor whose ohms do not suit it.

Why it matters
Ranges of ohms changed with the years. The gauge works, the pointer moves, and the tank is empty earlier than
it says.

Before
A gauge for 33 to 240 ohms on a sender of 20 to 180 ohms: it shows 41 % where its face means empty.

After
A sender of the gauge's range; or a gauge of the sender's.

Limits
Judged by the ohms in the catalogue, at the volts that the gauge is made for, in every state that its face
has a mark for. Only a part that takes the same wires is proposed, and none in place of what the job fits.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.exchanging import parts_that_take_the_wires
from planner.engine.instruments import sender_of
from planner.model.delta import Reason
from planner.model.elements import Gauge, Sender
from planner.model.gauges import belong_together, gauges_of, readings, senders_of
from planner.model.need import Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.wording import small


def propose(case: Case) -> Iterator[Emission]:
    """Yield senders that suit the gauge, then gauges that suit the sender."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fault) else None
    if not isinstance(need, Fault) or part is None or not (need.what == "gauge" or need.kind == "changed"):
        return
    for gauge in gauges_of(part):
        place = sender_of(case, need.at, gauge)
        sending = case.part(place) if place else None
        if place is None or sending is None or not _names(need, gauge):
            continue
        (sender, *_) = senders_of(sending)
        if belong_together(gauge, part, sender):
            continue
        shown = "; ".join(
            f"{s} {now:.0%}, should be {mark:.0%}" for s, now, mark in readings(gauge, part, sender)
        )
        fact = f"the {gauge.does} with this sender would show: {shown}"
        suited = 0
        for other, operations in parts_that_take_the_wires(case, place):
            if any(belong_together(gauge, part, one) for one in senders_of(other)):
                facts = (fact, f"the {small(other.title)} suits it and takes the same wires")
                yield Proposal(operations, Reason("gauge-and-sender-disagree", facts), offer=suited > 0)
                suited += 1
        for other, operations in parts_that_take_the_wires(case, need.at):
            if _suits(other, gauge, sender):
                facts = (fact, f"the {small(other.title)} suits the sender and takes the same wires")
                yield Proposal(operations, Reason("gauge-and-sender-disagree", facts), offer=suited > 0)
                suited += 1


def _names(need: Fault, gauge: Gauge) -> bool:
    """Whether a fault is about this gauge: by its name, or as a strain of its place."""
    return need.what == gauge.does or (need.strain is not None and (need.at, gauge.does) in need.strain.loads)


def _suits(other: Part, gauge: Gauge, sender: Sender) -> bool:
    """Whether another part has a gauge of the same name that belongs to a sender."""
    found = [g for g in gauges_of(other) if g.does == gauge.does]
    return any(belong_together(g, other, sender) for g in found)
