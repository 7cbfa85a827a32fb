"""A load that nothing in the loom switches in the way it wants is told, with what to add to the job.

What it looks for
A fitted part with a load on a bare terminal that is of use only with a counterpart, of a role that the part
before had not, and no terminal of that role that drives anything in the loom.

Why it matters
The lamp is screwed on, its terminal stays empty, and the plan's time is spent on a part that never works.

Before
A pair of fog lamps in new places, and no switch for them in the job.

After
A remark: a switch or relay with an output of that role has to be fitted in the same job.

Limits
Which switch, and where, is the owner's to say: what it is worked with and what allows it depend on local
regulations.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import is_joined_to_an_end
from planner.engine.partners import partners
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import EndUser
from planner.model.need import Emission, Fitted, Remark
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each load's terminal that nothing drives."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if not isinstance(need, Fitted) or part is None:
        return
    claims = case.claims(need.at)  # what the part before had as well is lost or kept, and told so
    loads = [e for e in part.inside if isinstance(e, EndUser)]
    for mark, terminal in part.terminals.items():
        at, role = f"{need.at}:{mark}", terminal.role
        if terminal.by != "wire" or role is None or case.wants(at) != "partner" or case.ends_at(at):
            continue
        if role in claims:
            continue
        if not any(mark in load.between for load in loads) or is_joined_to_an_end(case, at):
            continue
        if any(True for _ in partners(case, at, role)):
            continue
        text = tr(
            "{at} has no wire: nothing in this loom has an output for it ({role}); to use it, add what "
            "switches it to the job, in place of what switched it so far or in a new place, and plan again",
            at=address_words(case.loom, at),
            role=case.role_words(role),
        )
        fact = tr("no other terminal has its role and drives anything")
        yield Remark(text, Reason("nothing-drives-it", (fact,)))
