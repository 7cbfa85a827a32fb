"""A terminal with the mark of the old one does something else on the new part; the end does not go there.

What it looks for
A loose end whose old mark is also on the new part, beside a terminal with another role.

Why it matters
Going by the mark is the commonest mistake of all: on one relay 30 is the feed, on the other the coil.

Before
The coil's wire on 86 of the old changeover relay; on the new one 86 is stamped where its contact sits.

After
The remark says what the equal mark does now and where the end really goes.

Limits
Never a proposal. Says nothing where one of the two roles is unknown, nor of the sides of several fuses,
which have a rule of their own.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import has_its_own_fuse
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Remark
from planner.model.wording import address_words, mark_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark if the equal mark has another role."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    place, mark = split_address(need.was)
    role, role_now = case.old_role(need.was), case.role(need.was)
    part = case.part(place)
    if part is None or role is None or role_now is None or role == role_now:
        return
    if has_its_own_fuse(case, need.was):
        return
    end = case.old_end(need.wire, need.end)
    same_role = [m for m, t in part.terminals.items() if t.role == role]
    goes = (
        tr("it goes to {marks}, by its role", marks=tr(" or ").join(map(mark_words, same_role)))
        if same_role
        else tr("no terminal there has its role")
    )
    text = tr(
        "{wire} came off {at}; on the new part {mark} is {now}, not {was}: {goes}",
        wire=end,
        at=address_words(case.before, need.was),
        mark=mark_words(mark),
        now=case.role_words(role_now),
        was=case.role_words(role),
        goes=goes,
    )
    facts = (f"{mark} had the role {role} before and has {role_now} now",)
    yield Remark(text, Reason("equal-mark-other-role", facts, case.role_source(role)))
