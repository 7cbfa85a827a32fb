"""The part to be fitted is of another kind than the one that comes out.

What it looks for
Old and new part at a place belong to different families: a wiper switch where a lighting switch was.

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
from planner.model.delta import Reason
from planner.model.need import Emission, Fitted, Remark


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark if the new part is of another family than the old one."""
    need = case.need
    if not isinstance(need, Fitted):
        return
    old, new = case.old_part(need.at), case.part(need.at)
    if old is None or new is None or old.family == new.family:
        return
    kinds = f"{old.part} is of the family {old.family}, {new.part} of the family {new.family}"
    yield Remark(
        f"{case.loom.place_title(need.at)}: the new part is of another kind than the old one; {kinds}. "
        "Make sure that this is meant",
        Reason("another-kind-of-part", (kinds,)),
    )
