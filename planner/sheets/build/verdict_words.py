"""What a plan comes to, in words: on a terminal and on paper the same."""

from collections.abc import Mapping
from types import MappingProxyType

from planner.messages import later, tr
from planner.model.plan import WORSE, Plan, Verdict
from planner.sheets.sheet import Meaning

VERDICTS: Mapping[Verdict, tuple[str, str, Meaning]] = MappingProxyType(
    {
        "no-loss": (
            later("NO LOSS"),
            later("everything works as before, and nothing is left open"),
            "good",
        ),
        "losses": (
            later("LOSSES"),
            later("it can be done, but something stops working or changes"),
            "warn",
        ),
        "measure": (
            later("MEASURE FIRST"),
            later("the plan leans on something that nobody has measured"),
            "warn",
        ),
        "unsettled": (
            later("UNSETTLED"),
            later("something has no answer yet, so the plan is not complete"),
            "bad",
        ),
        "unsafe": (later("UNSAFE"), later("do not wire it like this"), "bad"),
    }
)


def verdict_words(plan: Plan) -> tuple[str, str, Meaning]:
    """The verdict in a word or two, what it says of this plan, and how it is shown."""
    word, said, meaning = VERDICTS[plan.verdict]
    outcomes = {line.outcome for line in plan.behaviours if not line.is_memory}
    if plan.verdict == "losses" and "missing" in outcomes and not outcomes & WORSE:
        said = later("it can be done, but it does not bring all that is wanted of it")
    if plan.verdict != "no-loss":
        return tr(word), tr(said), meaning
    is_wished = {line.as_wished for line in plan.behaviours if line.accepted}
    if False in is_wished:
        said = later("nothing is lost but what the job accepts; nothing is open")
    elif is_wished:
        said = later("nothing is off but what the job wants off; nothing is open")
    elif "otherwise" in outcomes:
        said = later("nothing is lost, but something is worked otherwise; nothing is left open")
    elif any(line.is_memory for line in plan.behaviours):
        said = later("nothing that worked is lost, and nothing is left open")
    if buts := dict.fromkeys(remark.but for remark in plan.remarks if remark.but):
        said = later("what worked works as before") if said == VERDICTS["no-loss"][1] else said
        all_said = tr("{said}; but {but}", said=tr(said), but=tr(", and ").join(buts))
        return tr("MIND THIS"), all_said, "warn"
    if any(line.is_new and line.gets_hot for line in plan.strains):
        return tr(word), tr("{said}; but a terminal gets hot", said=tr(said)), meaning
    if any(line.is_new for line in plan.strains):
        return tr(word), tr("{said}; but something passes a usual limit", said=tr(said)), meaning
    return tr(word), tr(said), meaning
