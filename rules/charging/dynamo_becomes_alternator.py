"""Where an alternator takes a dynamo's place, the wires of the old regulator are joined past it.

What it looks for
Ends that a dynamo and its regulator leave, where an alternator with its own regulator is fitted and the old
regulator is removed.

Why it matters
The old regulator must not stay in the way: its cut-out and its field contact work against the alternator. But
its wires are those that an alternator needs: the thick one to the battery, the thin one to the charge lamp.

Before
Dynamo D and F to the regulator, whose A goes to the battery and W to the charge lamp.

After
The old D wire on B+ and joined with the wires of A; the old F wire on the lamp terminal and joined with the
wire of W. The regulator's earth wire is tied back.

Limits
Only for an alternator with roles B+ and 61 and no field terminal. Whether the old wire stands the larger
output is judged apart, by amps.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import EndRef, Join, Reason
from planner.model.elements import Source
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words

RULE = "dynamo-becomes-alternator"
PARTNERS = ({"D+", "B+"}, {"DF", "61"})  # roles at the old regulator whose wires belong together then
LANDINGS = {"D+": "B+", "DF": "61"}  # where the wires of a dynamo go on an alternator


def propose(case: Case) -> Iterator[Emission]:
    """Yield the alternator's terminals for the dynamo's wires, and joiners for the regulator's."""
    need = case.need
    alternator = _alternator(case) if isinstance(need, LooseEnd) else None
    if not isinstance(need, LooseEnd) or alternator is None:
        return
    place, _ = split_address(need.was)
    role = case.old_role(need.was)
    part = case.part(alternator)
    if place == alternator and part is not None and role in LANDINGS:
        marks = [m for m, t in part.terminals.items() if t.role == LANDINGS[role]]
        facts = (f"{case.old_end(need.wire, need.end)} was on {address_words(case.before, need.was)}",)
        for mark in marks:
            yield Proposal((case.put(need.wire, need.end, f"{alternator}:{mark}"),), Reason(RULE, facts))
    if place in case.loom.places:
        return
    for roles in PARTNERS:
        ends = _ends_of(case, place, roles) if role in roles else ()
        if len({case.old_role(was) for _, _, was in ends}) == len(roles):
            marks = sorted({split_address(was)[1] for _, _, was in ends})
            facts = (f"without the regulator the wires of {' and '.join(marks)} belong together",)
            yield Proposal((Join(ends, f"joint:{place}.{marks[0]}"),), Reason(RULE, facts))


def _alternator(case: Case) -> str | None:
    """The place where an alternator with an output and a lamp terminal, but no field, replaces a dynamo."""
    for place in case.swapped_places():
        old, new = case.old_part(place), case.part(place)
        if old is None or new is None or not any(isinstance(e, Source) for e in new.inside):
            continue
        had, has = ({t.role for t in part.terminals.values()} for part in (old, new))
        if {"D+", "DF"} <= had and {"B+", "61"} <= has and "DF" not in has:
            return place
    return None


def _ends_of(case: Case, place: str, roles: set[str]) -> tuple[tuple[str, int, str], ...]:
    """The ends of a removed regulator with these roles that still hang loose."""
    freed: list[tuple[EndRef, str]] = [((w, n), was) for w, n, was in case.freed_ends(place)]
    return tuple((*end, was) for end, was in freed if case.old_role(was) in roles)
