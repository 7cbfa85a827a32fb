"""A dynamo that is fitted, or whose vehicle has its other pole earthed, is polarised before it turns.

What it looks for
A dynamo that stays while the other pole is earthed, or any that the job fits.

Why it matters
The magnetism left in its poles decides which way it charges. Turned as it is, it charges the wrong way
against the battery, and the points of its cut-out weld.

Before
A dynamo of a positive-earth vehicle that becomes negative earth.

After
The same dynamo on the same terminals, with the word to repolarise it; the bench sheet says how.

Limits
For dynamos with a field that is fed from outside. Alternators are not repolarised: they are made for one
pole.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.need import Emission, Fitted, OtherPole, Remark
from planner.model.polarity import polarity_of


def propose(case: Case) -> Iterator[Emission]:
    """Yield that a dynamo is repolarised, and when."""
    need = case.need
    if not isinstance(need, OtherPole | Fitted):
        return
    is_turned = case.loom.supply.earthed != case.before.supply.earthed
    if not is_turned and not case.is_swapped(need.at):
        return
    part = case.part(need.at)
    if part is None or polarity_of(part) != "repolarise":
        return
    title = case.loom.place_title(need.at)
    fact = f"the {title} has the magnetism of the pole that was earthed where it last ran"
    if is_turned:
        text = tr(
            "{place}: repolarise it when the battery is on the new way round and before the engine turns, "
            "with a wire from a live terminal away from the battery; first power says how, for that hangs on "
            "where its field ends inside. Its maker's manual outranks this",
            place=title,
        )
    else:
        text = tr(
            "{place}: polarise it to this vehicle before the engine turns, for nobody knows where it last "
            "ran, with a wire from a live terminal away from the battery; first power says how, for that "
            "hangs on where its field ends inside. Its maker's manual outranks this",
            place=title,
        )
    yield Remark(text, Reason("dynamo-at-other-pole", (fact,)))
