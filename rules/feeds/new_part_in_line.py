"""A new part that senses current goes in line: behind the switch, before all that it watches.

What it looks for
A bare terminal of a part in a new place, one of the two between which lies a coil that pulls in on the
current of what it is in line with; and a switch output of the role of its input, with the wires it feeds.

Why it matters
Hung on the conductor by one terminal only, no current goes through it: its warning burns for ever, or never.

Before
A lamp switch with one wire to three navigation lamps, and an indicator that warns when no current flows.

After
The wires come off the switch's output and go on the indicator's output; a new wire leads from the switch to
its input. Where no output of its role is seen, it is said that it senses nothing so far.

Limits
Which of several outputs of one role it is to watch, only the owner knows: the nearest is taken. With several
lamps behind one coil it may notice none that fails, as the others still pull it in: that is said, and open.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.in_line import coil_amps, sensing_coil
from planner.messages import tr
from planner.model.delta import Operation, Reason
from planner.model.need import BareTerminal, Emission, Fitted, Proposal, Remark
from planner.model.reach import consumers_beyond, gives_current
from planner.model.wording import address_words

RULE = "new-part-in-line"


def propose(case: Case) -> Iterator[Emission]:
    """Yield the sensing coil put behind the nearest output of its role; a remark if it senses nothing."""
    need = case.need
    if isinstance(need, Fitted):
        yield from _told(case, need.at)
    coil = sensing_coil(case, need.at) if isinstance(need, BareTerminal) else None
    if not isinstance(need, BareTerminal) or coil is None or any(case.ends_at(at) for at in coil):
        return
    into, out = coil
    found = [
        (case.wire_length(address, into), address)
        for place in case.loom.places
        if (part := case.part(place)) is not None
        for mark, terminal in part.terminals.items()
        if (address := f"{place}:{mark}") not in coil
        and terminal.role == case.role(into)
        and gives_current(part, case.catalogue, mark)
        and 0 < len(case.ends_at(address)) <= case.room(out)
    ]
    if not found:
        return
    _, output = min(found)
    moved: tuple[Operation, ...] = tuple(case.put(*end, out) for end in case.ends_at(output))
    facts = (
        f"{address_words(case.loom, into)} and {address_words(case.loom, out)} are in line: it senses amps",
        f"{address_words(case.loom, output)} has the role of its input and feeds what it is to watch",
    )
    yield Proposal((*moved, draft_wire(case, output, into, case.role(into))), Reason(RULE, facts))


def _told(case: Case, place: str) -> Iterator[Remark]:
    """Say that a part senses nothing as long as one of its two terminals is bare."""
    part = case.part(place)
    coils = {sensing_coil(case, f"{place}:{mark}") for mark in part.terminals} if part else set()
    for coil in coils - {None}:
        if coil is not None and not all(case.ends_at(at) for at in coil):
            text = tr(
                "{place}: it senses nothing until what it is to watch goes through it, in at {into} and out "
                "at {out}. Enter the wire that it goes into in the loom, and plan again",
                place=case.loom.place_title(place),
                into=address_words(case.loom, coil[0]),
                out=address_words(case.loom, coil[1]),
            )
            yield Remark(text, Reason(RULE, ("one of its terminals has no wire",)), is_open=True)
        elif coil is not None:
            yield from _told_blind(case, place, coil)


def _told_blind(case: Case, place: str, coil: tuple[str, str]) -> Iterator[Remark]:
    """Say that no failing lamp is noticed, where the others pull the coil in without any one of them."""
    part = case.part(place)
    pulls_in = coil_amps(part, coil) if part is not None else None
    lamps = [c for c in consumers_beyond(case.loom, case.catalogue, coil[1]) if c.place != place]
    watts = sorted(lamp.watts for lamp in lamps)
    others = sum(watts[:-1]) / case.loom.supply.volts
    if pulls_in is None or len(watts) < 2 or others < pulls_in:
        return
    text = tr(
        "{place}: it notices no lamp that fails. {count} are behind it, all but one take {others:.1f} A or "
        "more, and {pulls_in:.1f} A pull in its coil. It has to go where only the lamps that it is made "
        "for are behind it; enter such a place in the loom, or leave it out",
        place=case.loom.place_title(place),
        count=len(watts),
        others=others,
        pulls_in=pulls_in,
    )
    fact = f"all but the largest lamp behind it take {others:.1f} A, its coil pulls in at {pulls_in:.2f} A"
    yield Remark(text, Reason(RULE, (fact,)), is_open=True)
