"""A part with a direction gets its leads exchanged when the other pole is earthed.

What it looks for
An ammeter, an ignition coil, a magnet motor or a part with a diode or LED that stays while the other pole is
earthed, or that is found the wrong way round, and both of its leads on wires. Also a light-emitting lamp
that is fitted and stays dark: its positive lead belongs to the return where the positive pole is earthed.

Why it matters
An ammeter would read charge as discharge, a magnet motor would run backwards, the spark would come from the
wrong electrode; a diode across a relay coil is a short.

Before
The black/white wire on + of the ignition coil, the grey one on -.

After
The grey wire on +, the black/white one on -; one is held aside while the other moves.

Limits
Only between two terminals with the same fitting that are reached by wire and have room for each other's
ends. A motor earthed by its case cannot be turned round so.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Hold, Operation, Reason
from planner.model.elements import Led
from planner.model.need import Emission, Fault, OtherPole, Proposal
from planner.model.polarity import polarity_of, reversing_leads
from planner.model.wording import address_words, mark_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield the exchange of the two leads of a part."""
    place = _turned(case)
    part = case.part(place) if place else None
    marks = reversing_leads(part) if part and polarity_of(part) == "reverses" else None
    if place is None or part is None or marks is None:
        return
    first, second = (f"{place}:{mark}" for mark in marks)
    ends, others = case.ends_at(first), case.ends_at(second)
    fits = part.terminals[marks[0]].fitting == part.terminals[marks[1]].fitting
    has_room = all(
        len(there) <= part.terminals[mark].holds for mark, there in zip(marks, (others, ends), strict=True)
    )
    if not ends or not others or not fits or not has_room:
        return
    facts = (
        f"the {case.loom.place_title(place)} has a direction, and its poles are the other way round now",
        f"the ends on {address_words(case.loom, first)} and on {mark_words(marks[1])} trade terminals",
    )
    # On a new part neither end is on yet: both come off the old one, and nothing is held aside.
    operations: list[Operation] = [] if case.is_swapped(place) else [Hold(*ends[0], first)]
    operations += [case.put(wire, end, first) for wire, end in others]
    operations += [case.put(wire, end, second) for wire, end in ends]
    leans_on = tuple(end for end in (*ends, *others) if end[0] in case.before.wire_index)
    yield Proposal(tuple(operations), Reason("leads-the-wrong-way-round", facts, leans_on=leans_on))


def _turned(case: Case) -> str | None:
    """The place of a part that is the wrong way round, or whose light-emitting lamp stays dark."""
    need = case.need
    if isinstance(need, OtherPole):
        return need.at
    if not isinstance(need, Fault):
        return None
    is_strain = need.strain is not None and need.strain.kind == "reversed"
    part = case.part(need.at) if need.kind in ("lost", "missing", "unused") else None
    is_dark = part is not None and any(isinstance(e, Led) and e.does == need.what for e in part.inside)
    return need.at if is_strain or is_dark else None
