"""A turn indicator lamp shared by both sides stays dark while both sides are live.

What it looks for
A fitted part that can join the lamps of both turn sides, and a lamp whose two ends sit on the left and on the
right conductor.

Why it matters
Such a lamp has no earth of its own: it returns through the lamps of the other side. With the hazard on these
are live too, nothing flows through it, and the driver believes that the hazard does not work.

Before
A turn-only flasher; the indicator on the instrument cluster flashes with either side.

After
With the new unit it flashes with turn as before and stays dark with the hazard on; the tell-tale in the
hazard switch takes its place.

Limits
It only says so. A part that did the same before at the same place is passed over. Lamps are found where both
their ends are on the conductors of L and R by wire, not through another switch.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import tr
from planner.model.contact_table import table_of
from planner.model.delta import Reason
from planner.model.elements import Lamp, Led
from planner.model.need import Emission, Fitted, Remark
from planner.model.part import Part
from planner.model.reach import conductor
from planner.model.wording import address_words, small

LEFT, RIGHT = "L", "R"  # DIN 72552


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each lamp between the two sides that the fitted part joins."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted):
        return
    joint = _joins_both_sides(part)
    old = case.old_part(need.at)
    if joint is None or (old is not None and _joins_both_sides(old)):
        return
    left, right = (f"{need.at}:{mark}" for mark in joint)
    sides = set(conductor(case.loom, left)), set(conductor(case.loom, right))
    for place in case.loom.places:
        there = case.part(place)
        for lamp in there.inside if there else ():
            if not isinstance(lamp, Lamp | Led):
                continue
            one, other = (f"{place}:{mark}" for mark in lamp.between)
            if not ((one in sides[0] and other in sides[1]) or (one in sides[1] and other in sides[0])):
                continue
            title = case.loom.place_title(place)
            facts = (
                f"the {small(part.title)} can join {address_words(case.loom, left)} and "
                f"{address_words(case.loom, right)}",
                f"{lamp.does} sits between {address_words(case.loom, one)} and "
                f"{address_words(case.loom, other)}, one on each side",
            )
            text = tr(
                "the {lamp} on the {place} stays dark with the hazard on: it returns through the lamps of "
                "the other side, which are live too; and it needs filament lamps there",
                lamp=lamp.does,
                place=title,
            )
            yield Remark(text, Reason("shared-indicator-stays-dark", facts))


def _joins_both_sides(part: Part) -> tuple[str, str] | None:
    """The left and the right terminal of a part, if it joins them in some position."""
    left, right = (
        next((mark for mark, t in part.terminals.items() if t.role == side), None) for side in (LEFT, RIGHT)
    )
    if left is None or right is None:
        return None
    return (left, right) if any(table_of(part).joined(left, right)) else None
