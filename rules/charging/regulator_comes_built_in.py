"""Where an alternator with its own regulator comes in, the wires of the old regulator are joined past it.

What it looks for
Ends that a dynamo, or an alternator with its regulator outside, and that regulator leave, where an alternator
with its own is fitted and the old regulator is removed; and an old regulator that stays.

Why it matters
The old regulator must not stay in the way: its cut-out and its contacts work against the new alternator. But
its wires are those that an alternator needs: the thick one to the battery, the thin one to the charge lamp.

Before
Dynamo D and F to the regulator, whose A goes to the battery and W to the charge lamp. Or an alternator whose
DF goes to a regulator beside it, with the charge lamp on 61.

After
The old D wire on B+ and joined with the wires of A; the old field wire on the lamp terminal and joined with
the wire of the lamp. The regulator's earth wire, and its feed from the ignition, are tied back.

Limits
Only for an alternator with roles B+ and 61 and no field terminal. Whether the old wire stands the larger
output is judged apart, by amps. A regulator that stays is remarked on, not taken out: the job says what goes.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.generators import outside_regulators, with_built_in_regulator
from planner.messages import tr
from planner.model.delta import EndRef, Join, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, Fitted, LooseEnd, Proposal, Remark
from planner.model.wording import address_words

RULE = "regulator-comes-built-in"
PARTNERS = ({"D+", "B+"}, {"DF", "61"})  # roles at the old regulator whose wires belong together then
LANDINGS = {"D+": "B+", "DF": "61"}  # where the wires of the old generator go on the alternator


def propose(case: Case) -> Iterator[Emission]:
    """Yield the alternator's terminals for the old generator's wires, and joiners for the regulator's."""
    need = case.need
    alternator = with_built_in_regulator(case) if isinstance(need, LooseEnd | Fitted) else None
    if alternator is None:
        return
    left = list(outside_regulators(case))
    if isinstance(need, Fitted) and need.at == alternator:
        yield from (_remark(case, alternator, place) for place in left)
    if not isinstance(need, LooseEnd) or left:
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


def _remark(case: Case, alternator: str, place: str) -> Remark:
    fact = f"the {case.loom.place_title(alternator)} has its regulator built in and no field terminal"
    text = tr(
        "{place}: it regulates a field that the new alternator does not bring out, and works against it; "
        "take it out as well (swaps: at {at}, fit nothing)",
        place=case.loom.place_title(place),
        at=place,
    )
    return Remark(text, Reason(RULE, (fact,)))


def _ends_of(case: Case, place: str, roles: set[str]) -> tuple[tuple[str, int, str], ...]:
    """The ends of a removed regulator with these roles that still hang loose."""
    freed: list[tuple[EndRef, str]] = [((w, n), was) for w, n, was in case.freed_ends(place)]
    return tuple((*end, was) for end, was in freed if case.old_role(was) in roles)
