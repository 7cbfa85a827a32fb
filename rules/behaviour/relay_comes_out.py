"""A relay that comes out with nothing in its place: what worked its coil carries the load instead.

What it looks for
A behaviour lost, and on the way that fed the load before the make contact of a relay that comes out with
nothing fitted there. Then whether its coil was worked by a switched feed; or by a switch in its return, in
whose place the job fits one with an output of the load's role.

Why it matters
Tied back one by one, all wires of the relay are dead ends, and the load is lost though a switch for it is
there.

Before
Feed, push and horn on B, S and H of a relay; the job takes it out and fits a push for the feed.

After
The wire from the push and that to the horn in one joiner, the other end of the first on the push's output.
What the push wants as a feed other rules bring; the relay's own feed stays tied back.

Limits
Whether switch and wires bear the load is checked afterwards. A switch that goes on earthing cannot feed a
load: its load stays lost, and that is said. Only contacts that close when the coil pulls.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.removed import draft_joint, relay_crossing
from planner.model.delta import Operation, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield the joiner of the coil's wire and the load's, with the far end put on the new switch's output."""
    need = case.need
    crossed = (
        relay_crossing(case, need) if isinstance(need, Fault) and need.kind in ("lost", "changed") else None
    )
    if crossed is None or not isinstance(need, Fault):
        return
    place, last, coil = crossed
    title = case.before.place_title(place)
    for number, mark in enumerate(coil):
        at, other = f"{place}:{mark}", f"{place}:{coil[1 - number]}"
        joined = draft_joint(case, place, (last, at))
        moved: tuple[Operation, ...] | None = None
        if case.facts.at(at).live == "sometimes" and case.facts.at(other).earthed == "always":
            moved = ()
            told = f"{address_words(case.before, at)} was live when the relay pulled"
        elif case.facts.at(at).earthed != "always" and (output := _output(case, at, last)) is not None:
            moved = output
            told = f"{address_words(case.before, at)} led to a switch that gives way to one in the feed"
        if joined and moved is not None:
            facts = (
                f"the {title} comes out, and {need.what} was fed by way of it",
                f"{told}: its wire carries the load now, if the switch and the wire bear that",
            )
            leans_on = (*case.before.ends_at[last], *case.before.ends_at[at])
            yield Proposal((*joined, *moved), Reason("relay-comes-out", facts, leans_on=leans_on))


def _output(case: Case, at: str, last: str) -> tuple[Operation, ...] | None:
    """What puts the far end of a coil's wire on the output of a new switch that has the load's role."""
    role = case.old_role(last)
    for address in case.facts.at(at).addresses:
        place = split_address(address)[0]
        part = case.part(place)
        if address == at or part is None or not case.is_swapped(place):
            continue
        ends = [
            (wire, end) for wire, end in case.before.ends_at.get(address, ()) if wire in case.loom.wire_index
        ]
        for mark, terminal in part.terminals.items():
            if role is not None and terminal.role == role and case.switches(f"{place}:{mark}") and ends:
                return tuple(case.put(wire, end, f"{place}:{mark}") for wire, end in ends)
    return None
