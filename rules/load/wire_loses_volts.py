"""A load that loses a little too much on its way gets one of its wires thicker.

What it looks for
A load that loses more volts on its way than is usual, and a wire of that way in which the size alone makes up
for what is too much.

Why it matters
A relay with its feed, fuse and earth is much work for a tenth of a volt. Often one long thin wire loses most
of what is lost.

Before
Headlamps that are a tenth of a volt short, by three metres of 1.5 mm2.

After
That wire in 2.5 mm2, the same way, colour and ends. What is less work is taken: this, or a relay.

Limits
One leg, the shortest that does, and only the load's own current is reckoned with. None thicker than what its
push-on terminals take. Contacts and terminals on the way lose as before.

Source
wire resistances after ISO 6722; the practice is common, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.sizing import draft_thicker, strain_of, thicker_for_drop
from planner.model.delta import Reason
from planner.model.need import Emission, Proposal
from planner.model.wording import wire_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield one leg in a size with which the load no longer loses too many volts."""
    strain = strain_of(case, "drop")
    found = thicker_for_drop(case, strain) if strain is not None else None
    if strain is None or found is None:
        return
    wire, leg, mm2 = found
    record = case.loom.find(wire)
    old = record.leg_mm2(leg)
    facts = (
        f"{strain.value:.2f} V are lost on the way, {strain.limit:.2f} V are usual",
        f"{wire_words(record, leg)} ({wire}) is {old:g} mm2: in {mm2:g} mm2 it loses that much less",
    )
    yield Proposal((draft_thicker(case, wire, leg, mm2),), Reason("wire-loses-volts", facts, strain.source))
