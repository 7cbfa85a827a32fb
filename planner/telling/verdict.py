"""The verdict of a plan, and the exit status that goes with it."""

from collections.abc import Sequence

from planner.engine.weight import weigh
from planner.model.need import Fault
from planner.model.plan import (
    Plan,
    Verdict,
)


def judge(faults: Sequence[Fault], has_questions: bool, is_unsettled: bool) -> Verdict:
    """The worst that applies: unsafe, unsettled, measure, losses, no-loss.

    What only wears or dims, and what a new part could do besides, is told beside the verdict: nothing is
    lost by it.
    """
    open_faults = [fault for fault in faults if not fault.accepted and fault.is_loss]
    if weigh(open_faults).unsafe:
        return "unsafe"
    if is_unsettled:
        return "unsettled"
    if has_questions:
        return "measure"
    return "losses" if open_faults else "no-loss"


def exit_status(result: Plan) -> int:
    """0 if nothing is lost and nothing is open, 1 otherwise."""
    return 0 if result.verdict == "no-loss" else 1
