"""What the leads of a kit are good for in a job: those that can be stock, and what became of each."""

from collections.abc import Mapping, Sequence
from typing import Any

from planner.model.job import StockLead
from planner.model.kit import KitLead
from planner.model.plan import LeadLine, Plan


def as_stock(leads: Sequence[KitLead]) -> tuple[StockLead, ...]:
    """The leads that a plan can use: of two ends, their fittings, size and colour known for sure."""
    return tuple(
        StockLead(
            colour=lead.colours[0],
            mm2=lead.mm2 or 0.0,
            metres=lead.metres,
            fittings=(lead.ends[0], lead.ends[1]),
            count=lead.count,
        )
        for lead in leads
        if why_not(lead) is None
    )


def why_not(lead: KitLead) -> str | None:
    """Why a lead cannot be offered to a plan; None if it can."""
    if len(lead.ends) != 2:
        return f"it has {len(lead.ends)} ends, and a plan makes wires of two"
    if lead.mm2 is None:
        return "its size is not given: write it under mm2, for the fuse has to fit it"
    if len(lead.colours) > 1:
        return "its colour is not sure"
    unsized = [end for end in lead.ends if end in ("blade", "ring", "stud")]
    return "the size of its ends is not given: write such as 6.3 mm push-on or M6 ring" if unsized else None


def lead_lines(leads: Sequence[KitLead], plan: Plan) -> tuple[LeadLine, ...]:
    """What becomes of each lead, and the wires for which the kit has none, by the steps of a plan."""
    left = {lead.row: lead.count for lead in leads if why_not(lead) is None}
    lines: list[LeadLine] = []
    missing: list[LeadLine] = []
    for step in (step for step in plan.steps if step.do == "add"):
        lead = next((lead for lead in leads if left.get(lead.row) and _is_it(lead, step.fields)), None)
        if step.fields["from_stock"] and lead is not None:
            left[lead.row] -= 1
            lines.append(LeadLine(lead.name, f"{lead.words}: {_route(step.text)}", "used", step.n))
        elif not step.fields["from_stock"]:
            missing.append(LeadLine("", step.text, "missing", step.n))
    for lead in leads:
        reason = why_not(lead)
        if reason:
            lines.append(LeadLine(lead.name, f"{lead.words}: {reason}", "not offered"))
        elif left[lead.row]:
            count = f" ({left[lead.row]} of {lead.count})" if lead.count > 1 else ""
            lines.append(LeadLine(lead.name, f"{lead.words}{count}", "left over"))
    return (*lines, *missing)


def _is_it(lead: KitLead, fields: Mapping[str, Any]) -> bool:
    """Whether a step uses this lead: the same colour, size, length and ends."""
    said = (lead.colours[0], lead.mm2, lead.metres, sorted(lead.ends))
    return said == (fields["colour"], fields["mm2"], fields["metres"], sorted(map(str, fields["fittings"])))


def _route(text: str) -> str:
    """Where the wire of a step runs, in the words of the step."""
    return f"from {text.partition(', from ')[2].partition(';')[0]}"
