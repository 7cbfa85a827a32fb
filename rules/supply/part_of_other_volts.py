"""A part made for other volts than the vehicle has now gives way to its like of the right volts.

What it looks for
A part that stays while the volts change and minds it: lamps, motors, horns, relays, gauges, flashers.

Why it matters
A 6 V lamp on 12 V is gone in a moment, a 6 V coil burns four times its watts; a 12 V relay on 6 V does not
pull in, a motor crawls.

Before
A 6 V rear lamp while the tractor becomes 12 V.

After
The 12 V rear lamp of the same family, its ends on the same terminals.

Limits
Only a part of the same family with the same terminals, fittings, controls and tasks, and not one made for
the other pole earthed. Of several the one with the nearest watts. Whether its housing and bracket fit is
not known.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.resupplying import has_other_volts, like_parts
from planner.model.delta import Fit, Reason
from planner.model.need import Emission, OtherVolts, Proposal


def propose(case: Case) -> Iterator[Emission]:
    """Yield the like of a part for the volts that the vehicle has now."""
    need = case.need
    if not isinstance(need, OtherVolts) or not has_other_volts(case, need.at):
        return
    here = case.loom.places[need.at]
    part = case.catalogue.parts[here.part]
    for other in like_parts(case, part)[:1]:
        facts = (
            f"the {case.loom.place_title(need.at)} is made for {part.volts:g} V, and the vehicle has "
            f"{case.loom.supply.volts:g} V now",
            f"{other.part} has the same terminals and is made for {other.volts:g} V",
        )
        fit = Fit(need.at, case.with_part(need.at, other), here)
        yield Proposal((fit,), Reason("part-of-other-volts", facts))
