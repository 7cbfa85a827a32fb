"""A part whose case must not be earthed sits on metal, or may touch it.

What it looks for
A fitted part that the catalogue says must not be earthed, at a place whose mounting is metal or doubtful.

Why it matters
Its case is a pole: screwed to the body it is a short, or it works for ever.

Before
A regulator with a live case, to be screwed to a steel bulkhead.

After
Insulated washers and a sleeve on each screw are offered as part of the fitting; where the mounting is
doubtful, a reading between case and body decides.

Limits
Whether it shorts is for the proof.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import tr
from planner.model.delta import Fit, Reason
from planner.model.need import Emission, Fitted, Proposal, Question, Remark
from planner.model.wording import body_words, small


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark and an insulated mounting on metal, a question on a doubtful one."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted) or not part.must_not_be_earthed:
        return
    place = case.loom.places[need.at]
    title = case.loom.place_title(need.at)
    if place.mounting == "insulated":
        return
    facts = (
        f"the case of the {small(part.title)} must not be earthed",
        f"the mounting of {title} is {place.mounting}",
    )
    why = Reason("must-not-be-earthed", facts)
    insulated = Fit(need.at, place.model_copy(update={"mounting": "insulated"}), place)
    yield Proposal((insulated,), why, offer=True)
    if place.mounting == "metal":
        text = tr("{place}: its case must not touch the body; insulate each fixing", place=title)
        yield Remark(text, why)
        return
    yield Question(
        about=tr("whether the mounting of {place} touches the body", place=title),
        where=tr("the case of {place} and {body} close by", place=title, body=body_words(case.loom)),
        how=tr("earthed pole off the battery, part screwed down, meter on the highest ohms range"),
        answers=(
            (tr("no reading"), tr("its mounting insulates it")),
            (tr("any reading"), tr("insulate each fixing before the battery is connected")),
        ),
        why=why,
    )
