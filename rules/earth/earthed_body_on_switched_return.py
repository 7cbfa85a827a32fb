"""A load switched in its return must not be replaced by one earthed through its body.

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
Refused as it stands: the feed is taken off, it and the bare terminal are covered. Offered: the body insulated
from its bracket and the old return wire on it; or a relay beside it, worked by the old return, that switches
the feed.

Limits
The switch stays where it is: its far side is earthed by its own mounting or wire and is not fed anew. The
relay needs a part with 30, 85, 86 and 87 in the catalogue.

Source
common practice, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.model.delta import Cover, EndRef, Fit, Operation, Reason
from planner.model.elements import Coil
from planner.model.loom import Place
from planner.model.need import Emission, Fault, Proposal, Remark
from planner.model.reach import END_USERS
from planner.model.wording import address_words

RELAY_ROLES = ("30", "85", "86", "87")


def propose(case: Case) -> Iterator[Emission]:
    """Yield the feed off, and as offers an insulated mounting and a relay."""
    need = case.need
    if not isinstance(need, Fault):
        return
    at_rest = need.hazard == "drain"
    if not at_rest and need.kind not in ("unintended", "changed", "lost"):
        return
    for place in case.swapped_places() if at_rest else (need.at,):
        found = _switched_return(case, place, None if at_rest else need.what)
        if found is None or case.loom.places[place].mounting == "insulated":
            continue
        screw, feed, feeds, (wire, end, was) = found
        facts = (
            f"{case.old_end(wire, end)} on {address_words(case.before, was)} went to earth only "
            f"{case.facts.at(was).when}".rstrip(),
            f"{case.loom.place_title(place)} is earthed by its mounting all the time now",
        )
        why = Reason("earthed-body-on-switched-return", facts, leans_on=((wire, end),))
        title = case.loom.place_title(place)
        yield Remark(f"{title}: refused as it stands, its switch is in a return that it does not use", why)
        if case.ends_at(feed) and need.kind != "lost":
            off = tuple(o for f in feeds for o in (case.put(*f, "loose"), Cover(feed, *f)))
            yield Proposal((*off, Cover(feed)), why)
        here = case.loom.places[place]
        insulated = Fit(place, here.model_copy(update={"mounting": "insulated"}), here)
        back = [case.put(*f, feed) for f in feeds if f not in case.ends_at(feed)]
        yield Proposal((insulated, *back, case.put(wire, end, screw)), why, offer=True)
        relay = _relay(case, place, (wire, end), feed, feeds)
        if relay:
            yield Proposal(relay, why, offer=True)


def _switched_return(
    case: Case, place: str, what: str | None
) -> tuple[str, str, list[EndRef], tuple[str, int, str]] | None:
    """The load's earthed and fed terminals now, its feed's ends, and the old return that a switch earthed."""
    part = case.part(place)
    freed = list(case.freed_ends(place)) if case.is_swapped(place) else []
    returns = [end for end in freed if case.facts.at(end[2]).earthed == "sometimes"]
    live = [(wire, end) for wire, end, was in freed if case.facts.at(was).live != "never"]
    for load in part.inside if part and returns else ():
        if isinstance(load, END_USERS) and what in (None, load.does):
            screws = [m for m in load.between if case.earths_by_mounting(f"{place}:{m}")]
            marks = [m for m in load.between if m not in screws]
            feeds = [end for m in marks for end in case.ends_at(f"{place}:{m}")] or live
            if screws and marks and feeds:
                return f"{place}:{screws[0]}", f"{place}:{marks[0]}", feeds, returns[0]
    return None


def _relay(case: Case, at: str, returns: EndRef, feed: str, feeds: list[EndRef]) -> tuple[Operation, ...]:
    """A relay beside the load: its coil between feed and old return, its contact in the feed; () if none."""
    for part in case.parts_of("relay"):
        marks = {t.role: mark for mark, t in part.terminals.items()}
        if not any(isinstance(e, Coil) for e in part.inside) or not set(RELAY_ROLES) <= set(marks):
            continue
        name = f"{at}.relay"
        spare = [m for m, t in part.terminals.items() if t.role not in RELAY_ROLES and t.by == "wire"]
        place = Place(
            part=part.part,
            zone=case.loom.places[at].zone,
            mounting="insulated",
            title=f"relay beside {case.loom.place_title(at)}",
            known="measured",
        )
        fit = Fit(name, place)
        fitted = replace(case, loom=fit.apply(case.loom))
        live, coil_earth, coil_live, out = (f"{name}:{marks[role]}" for role in RELAY_ROLES)
        moves = [fitted.put(*f, live) for f in feeds]
        wires = [fitted.draft(live, coil_live, "86"), fitted.draft(out, feed, case.role(feed) or "87")]
        covers = [Cover(f"{name}:{m}") for m in spare]
        return (fit, fitted.put(*returns, coil_earth), *moves, *wires, *covers)
    return ()
