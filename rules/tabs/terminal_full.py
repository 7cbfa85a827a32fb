"""A terminal that would carry more ends than it holds gets a second tab, or passes an end to its equal.

What it looks for
A terminal with more ends on it than it has room for.

Why it matters
Two wires twisted under one push-on terminal come loose together; a third ring under a short stud leaves no
thread for the nut.

Before
The indicator's wire joins the main-beam wire on one 6.3 mm blade of a new fuse box.

After
A piggyback terminal on that blade takes both; or, if the part has a second terminal that is the same node,
the wire that was added, else the lightest, goes there.

Limits
A piggyback is for blades whose part allows it, and not for two wires over 4 mm2, of which one feeds the other
through it. Where neither it nor an equal terminal helps, the ends are brought together in a joiner with one
short lead to the terminal; what comes later joins them there.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.relieving import piggyback_bears
from planner.model.delta import EndRef, Operation, Piggyback, Reason
from planner.model.need import Emission, FullTerminal, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to an equal terminal, a piggyback, or else a joiner with a short lead."""
    need = case.need
    if not isinstance(need, FullTerminal) or case.terminal(need.at) is None:
        return
    excess = -case.room(need.at)
    if excess < 1:
        return
    at = address_words(case.loom, need.at)
    carries = f"{at} would carry {len(need.ends)} ends and holds {len(need.ends) - excess}"
    movable = sorted(need.ends, key=lambda end: _keeping(case, end))[:excess]
    found = False
    for other in case.equal_terminals(need.at):
        if case.room(other) >= excess:
            found = True
            why = Reason(
                "terminal-full", (carries, f"{address_words(case.loom, other)} is the same node inside")
            )
            yield Proposal(tuple(case.put(*end, other) for end in movable), why)
    if piggyback_bears(case, need.at, need.ends):
        found = True
        why = Reason("terminal-full", (carries, "a piggyback fits on its blade"))
        yield Proposal((Piggyback(need.at),) * excess, why)
    if not found:
        joint = f"joint:{need.at.replace(':', '.')}"
        lead = next((end for end in need.ends if _comes_from(case, end, joint)), None)
        moves: tuple[Operation, ...] = tuple(case.put(*end, joint) for end in need.ends if end != lead)
        if lead is None:
            moves = (*moves, draft_wire(case, joint, need.at, case.role(need.at)))
        bears_not = "no piggyback bears what one thick wire takes by way of the other"
        none = bears_not if case.takes_piggyback(need.at) else "no piggyback fits"
        why = Reason("terminal-full", (carries, f"{none}, and no terminal beside it is the same node"))
        yield Proposal(moves, why)


def _comes_from(case: Case, end: EndRef, joint: str) -> bool:
    """Whether an end is that of the short lead from a joiner that was made before."""
    return any(other.at == joint for other in case.loom.find(end[0]).ends)


def _keeping(case: Case, end: EndRef) -> tuple[bool, float, str, int]:
    """How much an end belongs where it is: added wires least, then the lighter ones."""
    wire, number = end
    return wire in case.before.wire_index, case.loom.find(wire).end_mm2(number), wire, number
