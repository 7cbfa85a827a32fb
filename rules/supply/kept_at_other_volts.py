"""A part made for other volts that nothing in the catalogue replaces, and no dropper helps, cannot be kept.

What it looks for
A part that stays while the volts change and minds it, with no like of it for the new volts and no single
fixed load that a dropper would suit.

Why it matters
The plan may not pass over it in silence: it would burn, or do nothing.

Before
A 6 V wiper motor while the tractor becomes 12 V, and no 12 V one with its terminals.

After
As it is, with the word that it cannot be kept, and why.

Limits
It proposes nothing: another part with other terminals is a swap that the job has to name.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.resupplying import fixed_load, has_other_volts, like_parts, why_no_dropper
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Coil, Source, Winding
from planner.model.need import Emission, OtherVolts, Remark


def propose(case: Case) -> Iterator[Emission]:
    """Yield why a part cannot be kept."""
    need = case.need
    part = case.part(need.at) if isinstance(need, OtherVolts) else None
    if part is None or not isinstance(need, OtherVolts) or not has_other_volts(case, need.at):
        return
    volts = case.loom.supply.volts
    if like_parts(case, part) or (volts > part.volts and fixed_load(part)):
        return
    if any(isinstance(element, Source) for element in part.inside):
        because = tr("it does not charge such a battery unless its regulator is made for it")
    elif volts < part.volts:
        because = tr("nothing gives it more volts than the vehicle has")
    else:
        because = why_no_dropper(part)
    title = case.loom.place_title(need.at)
    fact = f"the {title} is made for {part.volts:g} V, the vehicle has {volts:g} V now"
    text = tr(
        "{place}: made for {made:g} V, it cannot be kept at {volts:g} V: {because}. The catalogue has no "
        "like of it for the new volts; name another part in the job",
        place=title,
        made=part.volts,
        volts=volts,
        because=because,
    )
    if volts > part.volts and any(isinstance(e, Winding | Coil) for e in part.inside):
        text = tr(
            "{text}; until it is there, leave the live wire off and insulated, for it would burn", text=text
        )
    yield Remark(text, Reason("kept-at-other-volts", (fact,)))
