"""A switch of two poles gives way to one of one pole: the ends of the return that it switched are joined.

What it looks for
A behaviour lost whose way before crossed a swapped switch twice, on the way to the load and on the way back,
and the ends on the way back apart. Also a fitted switch of one pole where one of two poles was.

Why it matters
Tied back, the return of everything behind the switch is open, and all of it is dead. Joined, the one pole
that is left switches it as before.

Before
A main switch of a boat or crane with two wires to everything, that took off both posts of the battery.

After
The ends of both terminals of the return on the terminal of the new part that one of them is on, or in one
joiner, on one stud where the wires are thick.

Limits
With the switch off the return stays on the battery. Where neither pole is on the frame, both are switched for
good reason: one fault to the frame is not felt, the second one feeds past the switch. So it is said.

Source
common practice, no source
"""

from collections.abc import Iterator, Sequence

from planner.engine.case import Case
from planner.engine.removed import draft_joint
from planner.messages import tr
from planner.model.delta import Operation, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Fitted, Proposal, Remark
from planner.model.two_poles import return_contact
from planner.model.wording import address_words

RULE = "return-pole-gone"


def propose(case: Case) -> Iterator[Emission]:
    """Yield the ends of the return joined; of the plan that is settled, what one pole less means."""
    need = case.need
    if isinstance(need, Fitted):
        yield from _told(case, need.at)
    if not isinstance(need, Fault) or need.kind not in ("lost", "changed"):
        return
    crossed: set[str] = set()
    for first, last, *_ in case.crossings(need.path):
        place, mark = split_address(first)
        contact = return_contact(case.old_part(place), case.part(place)) if case.is_swapped(place) else None
        if place in crossed and contact is not None and {mark, split_address(last)[1]} == set(contact.join):
            both = f"{address_words(case.before, first)} and {address_words(case.before, last)}"
            facts = (
                f"the {case.before.place_title(place)} joined {both}, and the new part has no such pole",
                f"{need.what} had its return that way",
            )
            leans_on = tuple(end for side in (first, last) for end in case.before.ends_at[side])
            operations = _joined(case, place, (first, last))
            if operations:
                yield Proposal(operations, Reason(RULE, facts, leans_on=leans_on))
            return
        crossed.add(place)


def _joined(case: Case, place: str, sides: Sequence[str]) -> tuple[Operation, ...]:
    """The ends of both sides on the new part's terminal that one of them is on, else in one joiner."""
    ends = [end for side in sides for end in case.before.ends_at[side]]
    now = {end: case.loom.find(end[0]).ends[end[1]].at for end in ends}
    for at in dict.fromkeys(at for at in now.values() if split_address(at)[0] == place):
        others = [end for end in ends if now[end] != at]
        if case.room(at) >= len(others):
            return tuple(case.put(*end, at) for end in others)
    return draft_joint(case, place, sides)


def _told(case: Case, place: str) -> Iterator[Remark]:
    """Say that one pole only is switched now."""
    if return_contact(case.old_part(place), case.part(place)) is None:
        return
    title = case.loom.place_title(place)
    text = tr(
        "{place}: the old part switched both poles, the new one the live one only: switched off, it leaves "
        "the return of all that is behind it on the battery. Where neither pole is on the frame, one fault "
        "to the frame goes unnoticed, and a second one may feed past the switch; ask for a part of two poles",
        place=title,
    )
    fact = "the old part joined its return as well"
    yield Remark(text, Reason(RULE, (fact,)), but=tr("the {place} switches one pole only", place=title))
