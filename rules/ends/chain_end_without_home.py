"""An end in the middle of a chain that has no terminal to go to is tied back whole: the wire carries on.

What it looks for
An end that came off a removed part and is neither the first nor the last of its wire.

Why it matters
A daisy chain feeds what lies beyond the terminal. The two conductors crimped in one end stay together, so
nothing beyond goes dead; pulled apart or cut off, everything beyond does.

Before
The constant feed looped over the dip relay on its way to the horn.

After
The looped end is sleeved as it is and tied back; the horn stays fed.

Limits
Cutting the end off and joining the rest is proposed only if the job allows cutting. Only taken where no other
rule has a place for the end.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Cover, Cut, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a cover for a middle end, and a cut if the job allows it."""
    need = case.need
    if not isinstance(need, LooseEnd) or not case.is_middle(need.wire, need.end):
        return
    wire = case.loom.find(need.wire)
    end = case.old_end(need.wire, need.end)
    beyond = [e.at for n, e in enumerate(wire.ends) if n != need.end and e.at not in ("loose", "unknown")]
    others = " and ".join(dict.fromkeys(address_words(case.loom, at) for at in beyond)) or "its other ends"
    facts = (
        f"{end} came off {address_words(case.before, need.was)} in the middle of a chain",
        f"it is one conductor: {others} stay joined; do not part the two wires in this end",
    )
    why = Reason("chain-end-without-home", facts, leans_on=((need.wire, need.end),))
    yield Proposal((Cover(need.was, need.wire, need.end),), why)
    if case.job.allow_cutting:
        place, mark = split_address(need.was)
        yield Proposal((Cut(need.wire, need.end, need.was, f"joint:{place}.{mark}"),), why)
