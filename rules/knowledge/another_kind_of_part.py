"""The part to be fitted is of another kind than the one that comes out.

What it looks for
Old and new part at a place belong to different families, or to one and have no work in common: a wiper
switch where a lighting switch was, an oil gauge where a fuel gauge was.

Why it matters
Most often a name is mistyped. The plan then finds homes for the wires all the same, and reads as if it were
meant.

Before
A lighting switch on the dash.

After
As the plan says, with a remark that names both kinds.

Limits
The plan is not refused: a later part may do the work of an older one of another kind. A relay that a plan
adds on its own replaces nothing.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.need import Emission, Fitted, Remark
from planner.model.purpose import another_kind
from planner.model.wording import small


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark if the new part is of another kind than the old one."""
    need = case.need
    if not isinstance(need, Fitted):
        return
    old, new = case.old_part(need.at), case.part(need.at)
    differ = another_kind(old, new) if old and new else None
    if old is None or new is None or differ is None:
        return
    kinds = f"{old.part} is of the family {differ[0]}, {new.part} of the family {differ[1]}"
    text = tr(
        "{place}: the new part is of another kind than the old one. Out comes: {old} - {was}; in goes: {new} "
        "- {now}. Make sure that this is meant",
        place=case.loom.place_title(need.at),
        old=small(old.title),
        was=differ[0].replace("-", " "),
        new=small(new.title),
        now=differ[1].replace("-", " "),
    )
    yield Remark(text, Reason("another-kind-of-part", (kinds,)))
