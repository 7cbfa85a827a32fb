"""A part that is now earthed through its mounting needs clean metal there.

What it looks for
A fitted part that is earthed by its mounting on metal, where the old part had an earth wire of its own or was
mounted otherwise.

Why it matters
Nobody missed the paint under the old part's screws, because its earth came by wire. Under the new part it is
the earth.

Before
A flasher unit with an earth wire, screwed to a painted panel.

After
The new unit is earthed by its screw; the restorer is told to bare the metal, and to measure.

Limits
Says nothing where the old part was earthed in the same way at the same place. What is known only as doubtful
is another rule's.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.earthing import earths_by_mounting, old_wants_earth
from planner.engine.feeding import is_joined_to_an_end
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.need import Emission, Fitted, Remark
from planner.model.wording import small


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark if the earth now depends on the mounting and did not before."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted) or part.must_not_be_earthed:
        return
    place = case.loom.places[need.at]
    screws = [f"{need.at}:{mark}" for mark in part.terminals if earths_by_mounting(case, f"{need.at}:{mark}")]
    wired = any(case.ends_at(near) or is_joined_to_an_end(case, near) for near in screws)
    if place.mounting != "metal" or not screws or wired:
        return
    title = case.loom.place_title(need.at)
    old, was = case.old_part(need.at), case.before.places.get(need.at)
    if old is None or was is None:
        fact = f"nothing was fitted as {title} before"
    elif was.mounting != "metal":
        fact = f"the mounting of {title} was {was.mounting} before"
    elif any(old_wants_earth(case, f"{need.at}:{mark}") for mark in old.terminals):
        fact = f"the {small(old.title)} had an earth wire of its own"
    else:
        return
    facts = (f"the {small(part.title)} is earthed by its mounting", fact)
    text = tr(
        "{place} is earthed through its fixing now: bare metal under it, and measure before the trim goes on",
        place=title,
    )
    yield Remark(text, Reason("earth-through-mounting", facts))
