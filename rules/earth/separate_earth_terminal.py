"""A part that is earthed by a terminal of its own gets an earth wire where the old part had none.

What it looks for
A bare terminal of a fitted part that wants earth by wire, and that the part itself does not join to a
terminal that is earthed.

Why it matters
The old part found its earth through its fixing screws. The new one does not, however well it is screwed down:
it is dead, or finds an earth through something else's lamp.

Before
Terminal 31 of a later wiper motor; the early one was earthed by its bracket.

After
A wire with a ring from 31 to the body in the same zone.

Limits
The body is taken to be metal and earthed in every zone. A wire that earthed the old part lands by its role
before this rule is asked.

Source
DIN 72552 for terminal 31; the practice itself is common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_near, is_earthed_inside, old_wants_earth
from planner.engine.feeding import is_joined_to_an_end
from planner.engine.sizing import mm2_for_loads_at
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Proposal
from planner.model.wording import address_words, small


def propose(case: Case) -> Iterator[Emission]:
    """Yield an earth wire for a terminal that wants earth."""
    need = case.need
    if not isinstance(need, BareTerminal) or case.wants(need.at) != "earth":
        return
    place, _ = split_address(need.at)
    if is_joined_to_an_end(case, need.at) or is_earthed_inside(case, need.at):
        return
    old = case.old_part(place)
    had = old is not None and any(old_wants_earth(case, f"{place}:{mark}") for mark in old.terminals)
    if old is None:
        before = f"nothing was fitted as {case.loom.place_title(place)} before"
    elif had:
        before = f"no earth wire of the {small(old.title)} is left for it"
    else:
        before = f"the {small(old.title)} had no earth terminal"
    facts = (f"{address_words(case.loom, need.at)} must be earthed by a wire", before)
    mm2 = mm2_for_loads_at(case, need.at)
    add = draft_wire(case, need.at, earth_near(case, need.at), "31", mm2=mm2)
    yield Proposal((add,), Reason("separate-earth-terminal", facts, case.role_source("31")))
