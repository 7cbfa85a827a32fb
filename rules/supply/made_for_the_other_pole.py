"""A part that cannot live with the pole that is earthed now gives way to one that can, or must come out.

What it looks for
A radio, electronic flasher or other electronics made for the other pole earthed, or a motor that runs
backwards and whose leads cannot be exchanged because its case is one of them.

Why it matters
Electronics the wrong way round are destroyed at once, and may burn. A heater fan that runs backwards blows a
little and looks sound.

Before
A radio made for positive earth while the negative pole becomes the earthed one.

After
The like of it that suits the pole, its ends on the same terminals; without one, the word that it must come
out.

Limits
Only a part of the same family with the same terminals and tasks. A radio in an insulated case may be wired
the other way round in life; here its case is earth.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.resupplying import like_parts
from planner.messages import tr
from planner.model.delta import Fit, Reason
from planner.model.loom import POLE_WORDS
from planner.model.need import Emission, OtherPole, Proposal, Remark
from planner.model.polarity import polarity_of, reversing_leads, suits_pole


def propose(case: Case) -> Iterator[Emission]:
    """Yield the like of a part that suits the pole, or that it must come out."""
    need = case.need
    part = case.part(need.at) if isinstance(need, OtherPole) else None
    if part is None or not isinstance(need, OtherPole):
        return
    supply, title = case.loom.supply, case.loom.place_title(need.at)
    is_backwards = polarity_of(part) == "reverses" and reversing_leads(part) is None
    if suits_pole(part, supply) and not is_backwards:
        return
    what = (
        "works the wrong way round now, and its case is one of its poles"
        if is_backwards
        else f"is not made for {supply.earthed} earth"
    )
    fact = f"the {title} {what}"
    here = case.loom.places[need.at]
    found = [
        other for other in like_parts(case, part) if not is_backwards or polarity_of(other) == "indifferent"
    ]
    for other in found[:1]:
        fit = Fit(need.at, case.with_part(need.at, other), here)
        like = f"{other.part} has the same terminals and suits {supply.earthed} earth"
        yield Proposal((fit,), Reason("made-for-the-other-pole", (fact, like)))
    if not found:
        text = (
            tr(
                "{place}: it works the wrong way round now, and its case is one of its poles; it has to be "
                "replaced. The catalogue has no like of it that suits; name one in the job",
                place=title,
            )
            if is_backwards
            else tr(
                "{place}: it is not made for {pole} earth; it must come out before the battery goes on. The "
                "catalogue has no like of it that suits; name one in the job",
                place=title,
                pole=tr(POLE_WORDS[supply.earthed]),
            )
        )
        yield Remark(text, Reason("made-for-the-other-pole", (fact,)))
