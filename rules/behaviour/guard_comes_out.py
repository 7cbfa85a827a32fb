"""A guarding switch that comes out with nothing in its place leaves its wires: joined, the load has no guard.

What it looks for
A behaviour lost, and on the way that fed the load before a part that comes out with nothing fitted there,
whose contact joined the two wires of that way: closed at rest and opened by a control or a condition of the
vehicle, or that of a battery isolator.

Why it matters
Both tied back, the load is dead. Joined, it works, but what the switch was there for is gone: an engine
starts in gear, a pump goes on running after a crash.

Before
The inhibitor of a gearbox comes out: its two wires from the key switch and to the starter hang loose.

After
An offer beside the plan: both in one joiner, with what nothing prevents any more. What the same part switched
on besides, as the reversing lamp, is said: it wants a switch of its own. The leads of a battery
isolator are joined at once: without it the vehicle is one that never had any.

Limits
A contact that is open at rest is there to switch a load on: bridged, the load would be on for ever, and
nobody wants that. Contacts that a coil works are no guard here. Nor is a fuse bridged, and never the field,
the output or the charge lamp of a generator.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import belongs_to_regulator
from planner.engine.removed import (
    ISOLATED,
    draft_joint,
    guards,
    is_on_the_way,
    is_taken_over,
    switched_beside,
)
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Contact
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, LooseEnd, Proposal, Remark
from planner.model.part import Part
from planner.model.reach import consumers_beyond
from planner.model.wording import address_words

RULE = "guard-comes-out"


def propose(case: Case) -> Iterator[Emission]:
    """Yield one joiner for what the removed guard joined, and what nothing prevents then."""
    need = case.need
    if isinstance(need, LooseEnd):
        yield from _gone_with_it(case, need.was)
    if not isinstance(need, Fault) or need.kind not in ("lost", "changed"):
        return
    for place, old, contact in guards(case):
        sides = [f"{place}:{mark}" for mark in contact.join]
        join = draft_joint(case, place, sides)
        if not join or belongs_to_regulator(case, *sides) or not is_on_the_way(case, need, sides):
            continue
        both = " and ".join(address_words(case.before, at) for at in sides)
        facts = (
            f"join {both}, as the {case.before.place_title(place)} did",
            f"{need.what} was fed that way",
        )
        leans_on = tuple(end for side in sides for end in case.before.ends_at[side])
        why = Reason(RULE, facts, leans_on=leans_on)
        is_isolator = ISOLATED in map(case.old_role, sides)
        gives_up = "" if is_isolator else _given_up(case, old, contact, need)
        yield Proposal(join, why, offer=not is_isolator, gives_up=gives_up)


def _given_up(case: Case, old: Part, contact: Contact, need: Fault) -> str:
    """What nothing prevents any more once the contact is bridged."""
    labels = {name: [p.label for p in case.before.conditions.get(name, ())] for name in contact.when}
    labels |= {name: [p.label for p in control.positions] for name, control in old.controls.items()}
    opened = [
        tr("{name} at {labels}", name=name, labels=tr(" or ").join(rest))
        for name, closed in contact.when.items()
        if (rest := [label for label in labels[name] if label not in closed])
    ]
    return tr(
        "nothing stops it any more: {what} ({where}) also with {opened}",
        what=need.what,
        where=case.before.place_title(need.at.partition(":")[0]),
        opened=tr(" and ").join(opened),
    )


def _gone_with_it(case: Case, was: str) -> Iterator[Remark]:
    """Say what goes with a guard: what isolates the battery, and what the same part switched on besides."""
    place, _ = split_address(was)
    title = case.before.place_title(place)
    if case.old_role(was) == ISOLATED and case.part(place) is None:
        text = tr(
            "{place}: with its leads joined nothing takes the battery off any more but its own clamp",
            place=title,
        )
        yield Remark(text, Reason(RULE, ("the isolator comes out with nothing in its place",)))
    for contact, fed in switched_beside(case, was):
        if is_taken_over(case, fed, was):
            continue
        loads = consumers_beyond(case.before, case.catalogue, was, (fed,))
        names = sorted(f"{load.does} ({case.before.place_title(load.place)})" for load in loads if load.does)
        text = tr(
            "{loads}: what switched it on comes out with the {part}. It wants a switch of its own between "
            "{fed} and {out}, closed with {when}; joined, it would be on all the time",
            loads=", ".join(names),
            part=title,
            fed=address_words(case.before, fed),
            out=address_words(case.before, was),
            when=tr(" and ").join(
                tr("{name} at {labels}", name=name, labels=tr(" or ").join(labels))
                for name, labels in contact.when.items()
            ),
        )
        if names:
            yield Remark(text, Reason(RULE, (f"it was fed through {address_words(case.before, was)}",)))
