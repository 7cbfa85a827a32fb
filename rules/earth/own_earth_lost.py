"""The old part had an earth terminal of its own, the new one has none.

What it looks for
The loose end of an earth wire whose part gave way to one without any earth terminal. Then each behaviour of
that part which the proof found lost or changed: which terminal carries the load's return there.

Why it matters
A lamp that lost its earth lights only through something else's: the door switches, the other filament, the
neighbour.

Before
An interior lamp with feed, door and earth terminal; its "on" worked with both doors shut.

After
The reproduction returns through the door terminal only, and the loss is stated. If a terminal that carries
the return in that position is bare, the earth wire goes there; if it already carries a wire, an earth there
is offered, since it also earths whatever that wire serves.

Limits
What the offer does in the other positions is for the proof. Keeping the old part loses nothing and is named.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_near, earths_by_mounting, old_wants_earth
from planner.messages import tr
from planner.model.delta import Operation, Reason
from planner.model.elements import EndUser
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, LooseEnd, Proposal, Remark
from planner.model.reach import return_nodes
from planner.model.wording import address_words, small


def propose(case: Case) -> Iterator[Emission]:
    """Yield what the lost earth served, and for a lost behaviour the ways to give it an earth again."""
    need = case.need
    if isinstance(need, LooseEnd):
        place = split_address(need.was)[0]
        is_earth = old_wants_earth(case, need.was) and case.facts.at(need.was).earthed == "always"
    elif isinstance(need, Fault) and need.kind in ("lost", "changed"):
        place, is_earth = need.at, True
    else:
        return
    old, new = case.old_part(place), case.part(place)
    if old is None or new is None or not is_earth or not _lost_its_earth(case, place):
        return
    fact = f"the {small(old.title)} had an earth terminal of its own, the {small(new.title)} has none"
    if isinstance(need, LooseEnd):
        served = sorted({e.does for e in old.inside if isinstance(e, EndUser) and e.does})
        if not served:
            return  # only the part itself used it: the proof tells what of it is lost
        facts = (fact, f"{case.old_end(need.wire, need.end)} earthed it")
        text = tr(
            "{place} loses its own earth, which served: {served}",
            place=case.loom.place_title(place),
            served=", ".join(served),
        )
        yield Remark(text, Reason("own-earth-lost", facts))
        return
    if not any(getattr(e, "does", None) == need.what for e in new.inside):
        return
    setting = case.local_setting(place, need.positions[0]) if need.positions else {}
    for node in sorted(return_nodes(new, case.catalogue, need.what, setting)):
        at = f"{place}:{node}"
        shared = bool(case.ends_at(at))
        facts = (
            fact,
            f"the return of {need.what} is on {address_words(case.loom, at)} there",
            *(("that terminal's wire is earthed as well, in every position",) if shared else ()),
        )
        yield Proposal(_earth(case, place, at), Reason("own-earth-lost", facts), offer=shared)
    text = tr("with the {part} kept, {what} is not lost", part=small(old.title), what=need.what)
    yield Remark(text, Reason("own-earth-lost", (fact,)))


def _lost_its_earth(case: Case, place: str) -> bool:
    """Whether the old part had an earth terminal with a wire on it and the new one has none of any kind."""
    old, new = case.old_part(place), case.part(place)
    had = any(old_wants_earth(case, f"{place}:{mark}") for _, _, mark in case.before.ends_of_place(place))
    marks = new.terminals if new else {}
    has = any(
        case.wants(f"{place}:{m}") == "earth" or earths_by_mounting(case, f"{place}:{m}") for m in marks
    )
    return old is not None and had and not has


def _earth(case: Case, place: str, at: str) -> tuple[Operation, ...]:
    """The old earth wire if it hangs there, else a new one."""
    for wire, end, was in case.freed_ends(place):
        if old_wants_earth(case, was) and case.facts.at(was).earthed == "always":
            return (case.put(wire, end, at),)
    return (draft_wire(case, at, earth_near(case, at), "31"),)
