"""An end that is too short for its new terminal is lengthened with a crimped piece of the same wire.

What it looks for
An end that is meant for a terminal further away than it reaches.

Why it matters
A wire under tension works loose, chafes and pulls its terminal off; tugging at an old loom to gain a
centimetre breaks it somewhere out of sight.

Before
The feed reached the old terminal with 5 cm to spare; the new one sits 20 cm further.

After
15 cm of the same size and colour crimped on and sleeved, then the end fits without strain. Where two wires
end in one push-on terminal and no new one is made for both, they go into a joiner, and a wire from there.

Limits
Reach is estimated from the loom's zones and the parts' terminals: try it before cutting the piece. Solder
where it flexes breaks; so do self-piercing taps.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_tail
from planner.engine.sizing import no_crimp_for_both, no_crimp_words
from planner.model.delta import Extend, Reason
from planner.model.need import Emission, Proposal, ShortReach
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a piece as long as what is missing."""
    need = case.need
    if not isinstance(need, ShortReach):
        return
    wire = case.loom.find(need.wire)
    end, at = case.old_end(need.wire, need.end), address_words(case.loom, need.at)
    facts = (
        f"{end} is about {need.metres:g} m short of {at}",
        f"try it first; lengthen it with {wire.end_mm2(need.end):g} mm2 of the same colour",
    )
    areas = wire.areas_at(need.end)
    if (most := no_crimp_for_both(case, need.at, areas)) is not None:
        why = Reason("end-does-not-reach", (facts[0], no_crimp_words(most, areas)), most.source)
        yield Proposal(draft_tail(case, need.wire, need.end, need.at, most.value), why)
        return
    spare = wire.ends[need.end].spare_metres
    yield Proposal(
        (Extend(need.wire, need.end, need.at, need.metres, spare, wire.metres),),
        Reason("end-does-not-reach", facts),
    )
