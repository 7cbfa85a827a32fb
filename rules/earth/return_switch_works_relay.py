"""The switch in the old return can work a relay in the feed.

What it looks for
A fitted part whose mounting earths its load, where the old part's return went to earth through a switch.
Asked when the proof finds the load on when it should be off, current with everything at rest, or, once its
feed is off, the load lost.

Why it matters
The switch sits in a steering column or a door pillar, where nobody wants to run a new feed. It can go on
switching an earth: that of a coil.

Before
A horn push that earths the horn's return; a new horn that earths itself.

After
Offered: a relay beside the load, its coil between the feed and the old return, its contact in the feed.

Limits
The relay needs 30, 85, 86 and 87; the first of the catalogue that has them and suits the supply is taken.
It sits on the load's fuse.

Source
DIN 72552 for the terminals of the relay; the practice itself is common practice, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import SwitchedReturn, return_facts, returns_at_fault
from planner.engine.suiting import parts_of
from planner.model.delta import Cover, Fit, Operation, Reason
from planner.model.elements import Coil
from planner.model.loom import Place
from planner.model.need import Emission, Proposal

RELAY_ROLES = ("30", "85", "86", "87")


def propose(case: Case) -> Iterator[Emission]:
    """Yield a relay beside each load whose switched return is out of use, as an offer."""
    for place, found in returns_at_fault(case):
        wire, end, _ = found.back
        facts = return_facts(case, place, found)
        why = Reason("return-switch-works-relay", facts, case.role_source("85"), ((wire, end),))
        relay = _relay(case, place, found)
        if relay:
            yield Proposal(relay, why, offer=True)


def _relay(case: Case, at: str, found: SwitchedReturn) -> tuple[Operation, ...]:
    """A relay beside the load: its coil between feed and old return, its contact in the feed; () if none."""
    for part in parts_of(case, "relay"):
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
        wire, end, _ = found.back
        moves = [fitted.put(*f, live) for f in found.feeds]
        role = case.role(found.feed) or "87"
        wires = [draft_wire(fitted, live, coil_live, "86"), draft_wire(fitted, out, found.feed, role)]
        covers = [Cover(f"{name}:{m}") for m in spare]
        return (fit, fitted.put(wire, end, coil_earth), *moves, *wires, *covers)
    return ()
