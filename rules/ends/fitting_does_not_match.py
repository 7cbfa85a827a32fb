"""An end whose fitting does not go on its new terminal gets the right one, or a short link made for it.

What it looks for
An end that is meant for a terminal of another kind or size, for a part in line or for a joiner.

Why it matters
A 6.3 blade squeezed onto a 4.8 tab falls off or burns; a bared wire under a push-on terminal does not hold at
all. Connections are not all push-on.

Before
A bullet end that is meant for a 6.3 mm blade.

After
The bullet is cut off close behind the crimp and a 6.3 mm push-on terminal crimped on, for a joiner none. Or,
if the end must stay original: a link with a bullet socket at one end and the blade at the other. Two wires of
a chain that are too thick together for one push-on terminal go into a joiner, and a short tail from there on.

Limits
The link is an offer only: the new fitting costs a centimetre of wire, the link one more joint. None is
offered for a joiner or for a part that the plan itself places. Of a single wire that is thicker than push-on
terminals are made for it is only said. Whether the tail carries what goes through it is for the amps to say.
How an old joiner takes its ends is not known.

Source
common practice, no source; the thickest wire on a tab after the scope of IEC 61210
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_tail, draft_wire
from planner.engine.sizing import most_mm2, no_crimp_for_both, no_crimp_words
from planner.messages import tr
from planner.model.delta import Reason, ReEnd
from planner.model.joiners import BARE, is_new_joiner, joiner_end
from planner.model.loom import split_address
from planner.model.need import Emission, Proposal, Remark, WrongFitting
from planner.model.wording import address_words, colour_words, fitting_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a new fitting, and for an original end the offer of a link."""
    need = case.need
    if not isinstance(need, WrongFitting):
        return
    terminal = case.terminal(need.at)
    if terminal is None and not is_new_joiner(case.before, need.at):
        return
    wire = case.loom.find(need.wire)
    old = wire.ends[need.end].fitting
    fitting = terminal.usual_end if terminal else joiner_end(case.loom, need.at)
    end = case.old_end(need.wire, need.end)
    at = address_words(case.loom, need.at) if terminal else "a joiner"
    takes = fitting_words(fitting) if terminal else "bare ends" if fitting == BARE else "rings, on a stud"
    ends_in = fitting_words(old) if old else "an unknown fitting"
    facts = (f"{end} ends in {ends_in}, {at} takes {takes}",)
    most, areas = most_mm2(case, (need.at,)), wire.areas_at(need.end)
    if (both := no_crimp_for_both(case, need.at, areas)) is not None:
        moves = draft_tail(case, need.wire, need.end, need.at, both.value)
        too_much = no_crimp_words(both, areas)
        yield Proposal(moves, Reason("fitting-does-not-match", (*facts, too_much), both.source))
        return
    why = Reason("fitting-does-not-match", facts)
    yield Proposal((ReEnd(need.wire, need.end, need.at, fitting, old),), why)
    if most is not None and areas[0] > most.value:
        text = tr(
            "{at}: push-on terminals of this width are made for {most:g} mm2 at most, the {colour} wire is "
            "{mm2:g}; buy one made for it",
            at=at,
            most=most.value,
            colour=colour_words(wire.end_colour(need.end)),
            mm2=areas[0],
        )
        yield Remark(text, Reason("fitting-does-not-match", (f"{most.source}, {most.basis}",), most.source))
    is_asked_for = split_address(need.at)[0] in {swap.at for swap in case.job.swaps}
    if need.wire not in case.before.wire_index or not is_asked_for:
        return
    joint = f"joint:link-{need.wire}-{need.end}"
    link = draft_wire(case, joint, need.at, case.role(need.at))
    kept = Reason("fitting-does-not-match", (*facts, "the end stays as it is if a short link is made for it"))
    yield Proposal((case.put(need.wire, need.end, joint), link), kept, offer=True)
