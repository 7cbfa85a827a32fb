"""A loose end goes to the terminal of the new part that has the role of its old terminal.

What it looks for
An end that came off a removed part, whose old terminal has a role, and a terminal of that role on the part
that now sits there. If the part there has none, or nothing was fitted there, a terminal of that role on
another part that the job fits in the same zone, as long as no end of that other place has a claim to it.

Why it matters
What is stamped beside a terminal differs between makers and years; what the terminal does decides. An equal
mark counts only between terminals of equal role.

Before
The run winding's wire sat on M of a one-speed switch; M has role 53.

After
It goes to 53 of the two-speed switch, which has role 53.

Limits
A role that is wrong in the catalogue misleads this rule; the proof then shows the loss. If an equal mark with
the equal role exists, other terminals of that role are not tried; but of the two feeds on a stabiliser the
side decides before the mark. An end is put under a mounting screw only
where the mounting does not already earth the part. An end is not carried into another zone: what is wanted
there is fed there. It is if the part itself has moved: one comes out with nothing in its place, and its like,
or what has no terminal but such as it had, goes in elsewhere; or a switch comes out, and a part elsewhere has
its contacts built in. The main leads of a battery always are, for all current comes by them. Which of several
fuses is meant is left to the rule about the sides of a fuse.

Source
DIN 72552 for the roles it names; the practice itself is common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import has_its_own_fuse
from planner.engine.instruments import on_same_side_of_stabiliser
from planner.engine.moved import has_moved
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to each distinct node of equal role, the best terminal of it first."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    role = case.old_role(need.was)
    if role is None or case.is_anybodys_guess(need.wire, need.was):
        return
    end = case.old_end(need.wire, need.end)
    targets = list(_one_a_node(case, _candidates(case, need.was, role)))
    if len(targets) > 1 and has_its_own_fuse(case, need.was):
        return
    for address in targets:
        facts = (
            f"{end} was on {address_words(case.before, need.was)}: {case.role_words(role)}",
            f"{address_words(case.loom, address)} has the same role",
        )
        why = Reason("lands-on-same-role", facts, case.role_source(role), ((need.wire, need.end),))
        yield Proposal((case.put(need.wire, need.end, address),), why)


def _candidates(case: Case, was: str, role: str) -> list[str]:
    """Terminals of the role: here, else under the mounting screw here, else on a part fitted beside."""
    here, mark = split_address(was)
    part = case.part(here)
    same = [(m, t) for m, t in part.terminals.items() if t.role == role] if part else []
    by_wire = on_same_side_of_stabiliser(case, was, [f"{here}:{m}" for m, t in same if t.by == "wire"])
    if by_wire:
        equal_mark = [address for address in by_wire if split_address(address)[1] == mark]
        return equal_mark or by_wire
    if same:
        return [f"{here}:{m}" for m, _ in same if case.loom.places[here].mounting != "metal"]
    elsewhere = []
    old = case.old_part(here)
    for place in case.swapped_places():
        other = case.part(place)
        is_moved = bool(old and other and has_moved(case, here, old, place, other, mark))
        beside = place != here and (is_moved or case.zone(f"{place}:") == case.old_zone(here))
        if beside and other is not None and role not in case.claims(place):
            elsewhere += [
                f"{place}:{m}" for m, t in other.terminals.items() if t.role == role and t.by == "wire"
            ]
    return elsewhere


def _one_a_node(case: Case, candidates: list[str]) -> Iterator[str]:
    """Yield the best candidate of each node: with room first, then in the order of the part."""
    seen: set[str] = set()
    for address in sorted(candidates, key=lambda a: case.room(a) < 1):
        if address not in seen:
            seen |= {address, *case.equal_terminals(address)}
            yield address
