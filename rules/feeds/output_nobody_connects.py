"""A terminal that needs its counterpart is joined to the terminal of equal role at the other end.

What it looks for
A bare terminal of a fitted part that is of no use alone: an output of a switch and the load it serves, a
flasher's output and the switch it feeds. First among the bare terminals of the other fitted parts; failing
that, a terminal of that role anywhere in the loom.

Why it matters
A new function needs a new conductor, and a second speed or a dimmer that nobody connected is a dead position
of a new switch.

Before
53b of a two-speed wiper switch and 53b of the two-speed motor, both bare.

After
One wire between them.

Limits
Two partners at most, the shortest way first, and one terminal of each conductor: an output comes in where the
wires are as thick as is usual for its role, not through the lead of an indicator lamp. Two ends of loads are
not joined: neither would drive the other. Where a relay of the job lies ready between the two, it is wired.

Source
DIN 72552 for the roles it names; the practice itself is common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_tap
from planner.engine.feeding import is_joined_to_an_end
from planner.engine.in_line import sensing_coil
from planner.engine.partners import partners
from planner.engine.ready_relays import waits_for_relay
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a wire to each of the best partners."""
    need = case.need
    if not isinstance(need, BareTerminal) or case.wants(need.at) != "partner":
        return
    role = case.role(need.at)
    if role is None or is_joined_to_an_end(case, need.at) or waits_for_relay(case, need.at):
        return
    if sensing_coil(case, need.at) is not None:
        return  # its other terminal is in the same conductor, or no current goes through it
    found = list(partners(case, need.at, role))
    fitted = [p for p in found if case.is_swapped(split_address(p)[0]) and not case.ends_at(p)]
    for partner in (fitted or found)[:2]:
        start, end = (need.at, partner) if case.switches(need.at) else (partner, need.at)
        facts = (
            f"{address_words(case.loom, need.at)} is of no use alone: {case.role_words(role)}",
            f"{address_words(case.loom, partner)} has the same role",
        )
        yield Proposal(
            draft_tap(case, start, end, partner, role),
            Reason("output-nobody-connects", facts, case.role_source(role)),
        )
