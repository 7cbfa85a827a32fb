"""A finished lead from the bench is used for a new wire before one is made.

What it looks for
A new wire whose ends are settled, and a lead in the job's stock with the right terminals at both ends, thick
and long enough, in the colour that the loom's scheme, or the role, names for this wire.

Why it matters
A lead that came with the part or was made before needs no cutting and no crimping.

Before
A wire to make from 53b to 53b, 1.2 m; on the bench yellow/red, the scheme's colour for 53b, 1.5 mm2, 1.5 m,
push-on at both ends.

After
The lead from the bench is run.

Limits
The shortest lead that fits is proposed; what it is too long is tied back. Where the named colour is taken at
either end, another tracer on the same base will do, and where none is named any colour, if it is free at both
ends and the scheme gives it to no other role. A lead is never cut, re-ended, put together from two or used to
lengthen a wire. Lengths are by route, so offer it up before it is clipped.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.making import (
    colours_near,
    count_leads_left,
    goes_on,
    lengthened_by,
    named_colour,
    suits_colour,
)
from planner.model.delta import Make, Reason, with_end
from planner.model.job import StockLead
from planner.model.loom import Wire
from planner.model.need import Emission, Proposal, WireToMake
from planner.model.wording import address_words, colour_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield the best lead of the stock, if one fits."""
    need = case.need
    if not isinstance(need, WireToMake):
        return
    nominal = case.loom.find(need.wire)
    if lengthened_by(case, nominal):
        return
    start, end = nominal.ends[0].at, nominal.ends[-1].at
    metres, _ = case.wire_length(start, end)
    role = case.role_of(need.role)
    named = named_colour(case, need.role)
    near = colours_near(case, nominal) - ({named} if need.role == "31" else set())
    fitting = [
        (lead.metres, number, fittings)
        for number, lead in enumerate(case.job.stock)
        if count_leads_left(case, number) > 0
        and lead.metres >= metres
        and lead.mm2 >= max(nominal.mm2[0], role.mm2 if role else 0.0)
        and suits_colour(case, lead.colour, need.role, near)
        and (fittings := _as_laid(case, lead, nominal))
    ]
    if not fitting:
        return
    _, number, fittings = min(fitting)
    lead = case.job.stock[number]
    colour = colour_words(lead.colour)
    made = nominal.model_copy(update={"colour": (lead.colour,), "mm2": (lead.mm2,), "metres": (lead.metres,)})
    made = with_end(with_end(made, 0, fitting=fittings[0]), len(nominal.ends) - 1, fitting=fittings[1])
    between = f"from {address_words(case.loom, start)} to {address_words(case.loom, end)}"
    facts = (
        f"on the bench: {colour}, {lead.mm2:g} mm2, {lead.metres:g} m, {fittings[0]} and {fittings[1]}",
        f"{metres:g} m are needed {between}",
        f"{colour} is the usual colour of this wire"
        if lead.colour == named
        else f"{colour} is free at both ends",
    )
    yield Proposal((Make(made, nominal, number),), Reason("finished-lead-from-stock", facts))


def _as_laid(case: Case, lead: StockLead, nominal: Wire) -> tuple[str, str] | None:
    """The lead's fittings in the direction in which both go on; None if neither direction fits."""
    one, other = lead.fittings
    for first, last in ((one, other), (other, one)):
        if goes_on(case, first, nominal.ends[0].at) and goes_on(case, last, nominal.ends[-1].at):
            return first, last
    return None
