"""A load switched in its return must not be replaced by one earthed through its body.

What it looks for
A load that the proof found on when it should be off, on a fitted part whose mounting earths it, where the old
part's return went to earth through a switch.

Why it matters
An insulated horn has an always-live feed and is switched in its return. One earthed through its bracket
sounds as soon as the feed is on it, and nothing but the fuse stops it.

Before
An insulated horn; the horn push earths its return.

After
Refused as it stands. Offered: the body insulated from its bracket and the old return wire on it; or a relay
beside it, worked by the old return, that switches the feed.

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
from planner.model.wording import address_words

RELAY_ROLES = ("30", "85", "86", "87")


def propose(case: Case) -> Iterator[Emission]:
    """Yield a refusal, an insulated mounting and a relay for a load that no longer can be switched."""
    need = case.need
    if not isinstance(need, Fault) or need.kind not in ("unintended", "changed"):
        return
    part, old = case.part(need.at), case.old_part(need.at)
    if part is None or old is None or not case.is_swapped(need.at):
        return
    place = case.loom.places[need.at]
    load = next((e for e in part.inside if getattr(e, "does", None) == need.what), None)
    ends = getattr(load, "between", ())
    screws = [m for m in ends if case.earths_by_mounting(f"{need.at}:{m}")]
    feeds = [m for m in ends if m not in screws and case.ends_at(f"{need.at}:{m}")]
    returns = [
        (wire, end, was)
        for wire, end, was in case.freed_ends(need.at)
        if case.facts.at(was).earthed == "sometimes"
    ]
    if place.mounting == "insulated" or not screws or not feeds or not returns:
        return
    wire, end, was = returns[0]
    facts = (
        f"{case.old_end(wire, end)} on {address_words(case.before, was)} goes to earth only "
        f"{case.facts.at(was).when}".rstrip(),
        f"the {part.title} is earthed by its mounting all the time",
    )
    why = Reason("earthed-body-on-switched-return", facts, leans_on=((wire, end),))
    text = (
        f"{case.loom.place_title(need.at)}: refused as it stands, the switch is in a return that is not used"
    )
    yield Remark(text, why)
    insulated = Fit(need.at, place.model_copy(update={"mounting": "insulated"}), place)
    yield Proposal((insulated, case.put(wire, end, f"{need.at}:{screws[0]}")), why, offer=True)
    relay = _relay(case, need.at, (wire, end), f"{need.at}:{feeds[0]}")
    if relay:
        yield Proposal(relay, why, offer=True)


def _relay(case: Case, at: str, returns: EndRef, feed: str) -> tuple[Operation, ...]:
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
        moves = [fitted.put(wire, end, live) for wire, end in case.ends_at(feed)]
        wires = [fitted.draft(live, coil_live, "86"), fitted.draft(out, feed, case.old_role(feed) or "87")]
        covers = [Cover(f"{name}:{m}") for m in spare]
        return (fit, fitted.put(*returns, coil_earth), *moves, *wires, *covers)
    return ()
