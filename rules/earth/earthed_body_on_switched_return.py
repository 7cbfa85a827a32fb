"""A load that was switched in its return is now earthed through its body.

What it looks for
A fitted part whose mounting earths its load, where the old part's return went to earth through a switch.
Asked when the proof finds the load on when it should be off, current with everything at rest, or, once its
feed is off, the load lost.

Why it matters
An insulated horn has an always-live feed and is switched in its return. One earthed through its bracket
sounds as soon as the feed is on it, and nothing but the fuse stops it.

Before
An insulated horn; the horn push earths its return.

After
Refused as it stands: the feed is taken off, it and the bare terminal are covered, and it is said why.
Offered: the body insulated from its bracket and the old return wire on it.

Limits
Another rule offers a relay. The switch stays where it is: its far side is earthed by its own mounting or wire
and is not fed anew.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.earthing import find_switched_return, return_facts, returns_at_fault
from planner.messages import tr
from planner.model.delta import Cover, Fit, Reason
from planner.model.need import Emission, Fault, Fitted, Proposal, Remark


def propose(case: Case) -> Iterator[Emission]:
    """Yield the feed off, and as an offer an insulated mounting; of the settled plan that it is refused."""
    need = case.need
    if isinstance(need, Fitted):
        yield from _refused(case, need.at)
    is_lost = isinstance(need, Fault) and need.kind == "lost"
    for place, found in returns_at_fault(case):
        wire, end, _ = found.back
        facts = return_facts(case, place, found)
        why = Reason("earthed-body-on-switched-return", facts, leans_on=((wire, end),))
        if case.ends_at(found.feed) and not is_lost:
            off = tuple(o for f in found.feeds for o in (case.put(*f, "loose"), Cover(found.feed, *f)))
            yield Proposal((*off, Cover(found.feed)), why)
        here = case.loom.places[place]
        insulated = Fit(place, here.model_copy(update={"mounting": "insulated"}), here)
        feed = [case.put(*f, found.feed) for f in found.feeds if f not in case.ends_at(found.feed)]
        yield Proposal((insulated, *feed, case.put(wire, end, found.screw)), why, offer=True)


def _refused(case: Case, place: str) -> Iterator[Remark]:
    """Say that a part does not work as it stands, where its feed had to be taken off."""
    found = find_switched_return(case, place)
    if found is None or found.feed not in case.loom.covered:
        return
    text = tr(
        "{place}: refused as it stands; it would be on all the time, since it is switched in a return that "
        "it does not use, so its feed is off",
        place=case.loom.place_title(place),
    )
    yield Remark(text, Reason("earthed-body-on-switched-return", return_facts(case, place, found)))
