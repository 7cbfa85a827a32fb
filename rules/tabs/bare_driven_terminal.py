"""A terminal with no wire on it that can come alive all the same is covered.

What it looks for
A bare terminal of a fitted part which the part itself can drive: a winding that shares its shaft with
another winding (it generates while the other runs), or an output that a contact or fuse of the part joins to
a terminal that is fed. Also a bare terminal that the proof found live.

Why it matters
An unused second brush carries volts whenever the motor turns, and an unused output is live with its switch
on. Either finds a loose washer, a screwdriver or the body.

Before
53b of a two-speed motor fitted behind a one-speed switch: no wire belongs on it.

After
A sleeve or a blanking cover on 53b.

Limits
Whether an output is live in the new loom is for the proof; this rule looks only one contact or fuse deep, and
calls a terminal fed if an end on it was live before or its role wants a feed. A terminal that its housing
covers is left alone.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import is_fed
from planner.model.delta import Cover, Reason
from planner.model.elements import Contact, Fuse
from planner.model.generating import turned_by_another
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a cover for a bare terminal that its own part can drive, or that was found live."""
    need = case.need
    if isinstance(need, Fault):
        if need.hazard != "bare-live-terminal":
            return
        why_driven: str | None = "is live" + (f" ({need.detail})" if need.detail else "")
    elif isinstance(need, BareTerminal):
        place, mark = split_address(need.at)
        terminal, part = case.terminal(need.at), case.part(place)
        if terminal is None or part is None or terminal.covered or terminal.by == "mounting":
            return
        why_driven = _generates(part, mark) or _driven_from(case, part, need.at)
    else:
        return
    if why_driven:
        facts = (f"{address_words(case.loom, need.at)} carries no wire and {why_driven}",)
        yield Proposal((Cover(need.at),), Reason("bare-driven-terminal", facts))


def _generates(part: Part, mark: str) -> str | None:
    """Why a winding's terminal comes alive by itself: another winding turns the same shaft."""
    for _, other, driven in turned_by_another(part):
        if mark in driven:
            return f"generates while the motor runs for {other.does!r}"
    return None


def _driven_from(case: Case, part: Part, address: str) -> str | None:
    """Why an output comes alive: a contact or fuse joins it to a terminal that is fed."""
    place, mark = split_address(address)
    for element in part.inside:
        if isinstance(element, Contact):
            joined = element.join
        elif isinstance(element, Fuse):
            joined = element.between
        else:
            continue
        if mark not in joined:
            continue
        for other in (m for m in joined if m != mark and m in part.terminals):
            if is_fed(case, f"{place}:{other}"):
                return f"is joined inside to {other}, which is fed"
    return None
