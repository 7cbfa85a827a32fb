"""Whether an end that is tied back stays live, in the one wording of its step, tag, papers and picture."""

from collections.abc import Mapping

from planner.messages import tr
from planner.model.delta import Cover
from planner.model.reach import is_fed
from planner.model.still_live import may_be_live
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task

UNKNOWN_COVER = "unknown-end-without-home"
DEAD_COVER = "dead-end-without-home"  # proven dead in every position


def live_words(names: Names, task: Task) -> str:
    """What stands in capitals wherever a tied-back end is told of; nothing of one that is dead."""
    rule = task.step.why.rule
    if rule == UNKNOWN_COVER:
        return tr("TREAT IT AS LIVE")
    wire = str(task.wire)
    if rule == DEAD_COVER or not is_fed(names.after, wire):
        return ""
    return tr("IT STAYS LIVE") if may_be_live(names.after, names.catalogue, wire) else ""


def live_ends(names: Names) -> Mapping[tuple[str, int], str]:
    """The ends that are tied back and stay live, each with the words for it."""
    tied = (
        (task.operation.wire, task.operation.end or 0, task)
        for task in names.ordered
        if isinstance(task.operation, Cover) and task.operation.wire is not None
    )
    return {(wire, end): words for wire, end, task in tied if (words := live_words(names, task))}
