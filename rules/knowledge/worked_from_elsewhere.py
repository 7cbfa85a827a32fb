"""What a control that comes out worked is worked by another new part: lost by the letter, and meant so.

What it looks for
A part that the job takes out without another in its place, and a load that its control fed; and a fitted part
with a position that the one before it had not, whose contact feeds that load there.

Why it matters
A plan compares position by position, and a push that is gone can no longer be pressed. Read without a word it
looks as if the engine could not be started any more. Where the new position does all that the push did, the
proof tells it by itself as worked otherwise; where it does not quite, as lost.

Before
A starter push beside a key switch of two positions.

After
A key switch that starts, and no push. A remark says what works the starter now, and what to write into the
job if that is meant.

Limits
Whether the new position does all that the old one did is for the proof.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.worked import worked_by
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, Fitted, Remark


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each load that a control of this part works instead of one that comes out."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted):
        return
    old = case.old_part(need.at)
    out = {swap.at for swap in case.job.swaps} - set(case.loom.places)
    past = [at for at in case.before.ends_at if split_address(at)[0] in out]  # what it worked by itself
    before = worked_by(case, case.before, need.at, old, past) if old is not None else {}
    now = worked_by(case, case.loom, need.at, part)
    for swap in case.job.swaps:
        gone = case.old_part(swap.at)
        if gone is None or swap.at not in out:
            continue
        worked = worked_by(case, case.before, swap.at, gone)
        for load in sorted(worked.keys() & now.keys() - before.keys(), key=lambda c: (c.place, c.does)):
            (control, labels), (_, now_at) = worked[load], now[load]
            text = tr(
                "{what} of the {load}: the {gone}, which comes out, worked it, and now the {place} at {at} "
                "does. Where this plan still lists something of it as lost, and that is meant, write into "
                "the job: {accepts}",
                what=load.does,
                load=case.loom.place_title(load.place),
                gone=case.before.place_title(swap.at),
                place=case.loom.place_title(need.at),
                at=now_at[-1],
                accepts=f'accepts: [{{what: {load.does}, at: {load.place}, is: "off", '
                f'when: {{{swap.at}/{control}: "{labels[-1]}"}}}}]',
            )
            fact = f"{load.does} was fed through the {case.before.place_title(swap.at)}"
            yield Remark(text, Reason("worked-from-elsewhere", (fact,)))
