"""The plan leans on a part that is only assumed to be fitted: its marks and contacts settle it.

What it looks for
A place on which the settled plan leans and of which it is only assumed what is fitted there.

Why it matters
Every end that moves there moves by what the part does inside. If another part sits there, the plan is one for
another vehicle.

Before
A lighting switch of which only the drawing says what it is.

After
Its marks read, and an ohmmeter between its terminals in each position, beside the contact table of the part.

Limits
A doubtful mounting has its own rule, and so has a free terminal to which a wire goes.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.need import Emission, LeansOn, Question
from planner.model.wording import small


def propose(case: Case) -> Iterator[Emission]:
    """Yield a question about what is fitted at a place."""
    need = case.need
    if not isinstance(need, LeansOn) or need.wire is not None:
        return
    place = case.before.places.get(need.at) or case.loom.places.get(need.at)
    if place is None or place.mounting == "doubtful":
        return
    title, part = case.loom.place_title(need.at), case.catalogue.parts[place.part].title
    yield Question(
        about=tr("is the {place} really this part: {part}?", place=title, part=small(part)),
        where=tr("the marks of the {place}, then an ohmmeter between its terminals", place=title),
        how=tr("earthed pole of the battery off; compare the contact table with the part's page"),
        answers=(
            (tr("marks and table agree"), tr("the plan stands")),
            (tr("they differ"), tr("enter the part that is there and plan again")),
        ),
        why=Reason("part-only-assumed", (f"what is fitted at the {title} is only assumed",)),
    )
