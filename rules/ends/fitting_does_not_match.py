"""An end whose fitting does not go on its new terminal gets the right one, or a short link made for it.

What it looks for
An end that is meant for a terminal of another kind or size.

Why it matters
A 6.3 blade squeezed onto a 4.8 tab falls off or burns; a bared wire under a push-on terminal does not hold at
all. Connections are not all push-on.

Before
A bullet end that is meant for a 6.3 mm blade.

After
The bullet is cut off close behind the crimp and a 6.3 mm push-on terminal crimped on. Or, if the end must
stay original: a link with a bullet socket at one end and the blade at the other.

Limits
The link is an offer only: the new fitting costs a centimetre of wire, the link one more joint. Of a wire that
is thicker than push-on terminals are made for it is only said.

Source
common practice, no source; the thickest wire on a tab after the scope of IEC 61210
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.sizing import most_mm2
from planner.model.delta import Reason, ReEnd
from planner.model.need import Emission, Proposal, Remark, WrongFitting
from planner.model.wording import address_words, colour_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a new fitting, and for an original end the offer of a link."""
    need = case.need
    terminal = case.terminal(need.at) if isinstance(need, WrongFitting) else None
    if not isinstance(need, WrongFitting) or terminal is None:
        return
    wire = case.loom.find(need.wire)
    old = wire.ends[need.end].fitting
    end, at = case.old_end(need.wire, need.end), address_words(case.loom, need.at)
    facts = (f"{end} ends in {old or 'an unknown fitting'}, {at} takes {terminal.fitting}",)
    why = Reason("fitting-does-not-match", facts)
    yield Proposal((ReEnd(need.wire, need.end, need.at, terminal.usual_end, old),), why)
    most, mm2 = most_mm2(case, (need.at,)), wire.end_mm2(need.end)
    if most is not None and mm2 > most.value:
        text = (
            f"{at}: push-on terminals of this width are made for {most.value:g} mm2 at most, the "
            f"{colour_words(wire.end_colour(need.end))} wire is {mm2:g}; buy one made for it"
        )
        yield Remark(text, Reason("fitting-does-not-match", (f"{most.source}, {most.basis}",), most.source))
    if need.wire not in case.before.wire_index:
        return
    joint = f"joint:link-{need.wire}-{need.end}"
    link = draft_wire(case, joint, need.at, case.role(need.at))
    kept = Reason("fitting-does-not-match", (*facts, "the end stays as it is if a short link is made for it"))
    yield Proposal((case.put(need.wire, need.end, joint), link), kept, offer=True)
