"""A path that led through the old part is broken in the new one.

What it looks for
A behaviour lost, and the way that fed the load before. The first fitted part on that way whose two wires are
no longer joined as the old part joined them.

Why it matters
Old parts served as junctions: a feed came in on one terminal and went on from the next. The new part does its
own job and leaves the neighbour dead.

Before
A switch with two linked feed terminals; what hung on the second is dead behind the new switch.

After
The wire that went on is put with the one that comes in; or, where the old part joined them by a control that
the new one has too, on the terminal that this control feeds.

Limits
Only the first break is mended; the proof then shows the next. A joint through a fuse is not bridged. A wire
that is on a terminal of its own role, which the new part merely feeds in other positions, is moved only as an
offer. Output, field and charge lamp of a generator are never joined across a regulator that is gone: a remark
says so.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.feeding import GENERATOR_ROLES, belongs_to_regulator
from planner.messages import tr
from planner.model.delta import EndRef, Operation, Reason
from planner.model.elements import Source
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, LooseEnd, Proposal, Remark
from planner.model.reach import conductor, joined_inside
from planner.model.terminal_maps import equal_outputs
from planner.model.wording import address_words, small


def propose(case: Case) -> Iterator[Emission]:
    """Yield the operations that mend the first break of the path."""
    need = case.need
    if isinstance(need, LooseEnd) and case.old_role(need.was) == "DF":
        yield from _unregulated(case, split_address(need.was)[0])
    if not isinstance(need, Fault) or need.kind not in ("lost", "changed"):
        return
    for first, last, came, went in case.crossings(need.path):
        place = split_address(first)[0]
        old = case.old_part(place)
        if place == need.at or old is None or not case.is_swapped(place):
            continue
        marks = split_address(first)[1], split_address(last)[1]
        coming, going = case.end_between(first, came), case.end_between(last, went)
        if coming is None or going is None or any(m not in old.terminals for m in marks):
            continue
        if belongs_to_regulator(case, first, last):
            yield from _unregulated(case, place)
            return
        always = marks[1] in joined_inside(old, marks[0])
        ways = list(_mended(case, (coming, going), marks, place, always))
        both = f"{address_words(case.before, first)} and {address_words(case.before, last)}"
        facts = (
            f"the {small(old.title)} joined {both} {'always' if always else 'by its control'}",
            f"{need.what} was fed that way",
        )
        for operations in ways:
            # On its own role the wire is right and the new part just behaves otherwise.
            role = case.role(case.loom.find(going[0]).ends[going[1]].at)
            landed = not always and role is not None and role == case.old_role(last)
            yield Proposal(operations, Reason("path-broken", facts, leans_on=(coming, going)), offer=landed)
        if ways:
            return


def _unregulated(case: Case, place: str) -> Iterator[Remark]:
    """Say that a generator's wires stay apart, where nothing takes the place of what regulated its field."""
    old, new = case.old_part(place), case.part(place)
    if new is not None and any(terminal.role == "DF" for terminal in new.terminals.values()):
        return
    if old is None or any(isinstance(element, Source) for element in old.inside):
        return  # the generator itself comes out
    swapped = ((case.old_part(at), case.part(at)) for at in case.swapped_places())
    for was, now in swapped:
        fields = [p and any(t.role == "DF" for t in p.terminals.values()) for p in (was, now)]
        if was is not old and fields == [True, False]:
            return  # the generator that it regulated gives way to one that regulates itself
    kept = [m for m, t in old.terminals.items() if t.role in GENERATOR_ROLES]
    if len(kept) > 1:
        title = case.before.place_title(place)
        text = tr(
            "{place}: the wires of {marks} are not joined with one another: without a regulator nothing "
            "limits the field, and the volts rise until something burns",
            place=title,
            marks=", ".join(kept),
        )
        fact = "without a regulator nothing limits the field, and the volts rise until something burns"
        yield Remark(text, Reason("path-broken", (fact,)))


def _mended(
    case: Case, ends: tuple[EndRef, EndRef], marks: tuple[str, str], place: str, always: bool
) -> Iterator[tuple[Operation, ...]]:
    """Yield the ways to join two old ends again; none if they are joined as they were."""
    (coming, going), new, old = ends, case.part(place), case.old_part(place)
    here, there = (case.loom.find(wire).ends[end].at for wire, end in (coming, going))
    if always:
        if here == there != "loose" or there in case.equal_terminals(here):
            return
        if here == there:
            joint = f"joint:{place}.{marks[0]}"
            yield (case.put(*coming, joint), case.put(*going, joint))
        elif there == "loose":
            yield (case.put(*going, here),)
        elif here == "loose":
            yield (case.put(*coming, there),)
        else:
            yield (draft_wire(case, here, there, case.role(there)),)
    elif new is not None and old is not None and here != "loose":
        at = [
            split_address(address) for address in (here, *conductor(case.loom, here))
        ]  # by a joiner as well
        start = next((mark for name, mark in at if name == place), "")
        outputs = equal_outputs(old, new, marks, start) if start else []
        if there not in [f"{place}:{mark}" for mark in outputs]:
            for mark in outputs[:2]:
                yield (case.put(*going, f"{place}:{mark}"),)
