"""A part that is earthed by its mounting sits on a panel that may not conduct.

What it looks for
A terminal that is made by the mounting and wants earth, at a place whose mounting is insulated or doubtful,
with no wire on it.

Why it matters
On wood, fibreglass, rubber or thick paint the fixing screw earths nothing. The part is dead, or worse, finds
an earth backwards through a lamp.

Before
A flasher unit earthed by its screw, fitted to a painted fibreglass panel.

After
A wire with a ring from its case to the body of the same zone, or to a return bar where there is no body. If a
switch earthed the old part's return, that wire goes on the case instead. Where the mounting is only doubtful
the reading is asked for first, and the wire is offered.

Limits
A part whose case must not be earthed is left alone.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_near, earths_by_mounting
from planner.engine.feeding import is_joined_to_an_end
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Proposal, Question
from planner.model.wording import address_words, body_words, small


def propose(case: Case) -> Iterator[Emission]:
    """Yield an earth wire on an insulated mounting; a question and an offer on a doubtful one."""
    need = case.need
    if not isinstance(need, BareTerminal) or not earths_by_mounting(case, need.at):
        return
    place, _ = split_address(need.at)
    mounting = case.loom.places[place].mounting
    part = case.part(place)
    if mounting == "metal" or part is None or part.must_not_be_earthed:
        return
    if case.ends_at(need.at) or is_joined_to_an_end(case, need.at):
        return
    title = case.loom.place_title(place)
    switched = [end for end in case.freed_ends(place) if case.facts.at(end[2]).earthed == "sometimes"]
    if mounting == "insulated" and switched:
        wire, end, was = switched[0]
        facts = (
            f"the {small(part.title)} is earthed by its mounting, which is insulated here",
            f"{address_words(case.before, was)} went to earth only by way of a switch: an earth of its own "
            "would leave that without effect",
        )
        why = Reason("panel-does-not-earth", facts, leans_on=((wire, end),))
        yield Proposal((case.put(wire, end, need.at),), why)
        return
    why = Reason(
        "panel-does-not-earth",
        (
            f"the {small(part.title)} is earthed by its mounting",
            f"the mounting of {title} is " + ("insulated" if mounting == "insulated" else "doubtful"),
        ),
        "common practice, no source",
    )
    add = draft_wire(case, need.at, earth_near(case, need.at), "31")
    yield Proposal((add,), why, offer=mounting == "doubtful")
    if mounting == "doubtful":
        yield Question(
            about=tr("whether {place} is earthed through its mounting", place=title),
            where=tr(
                "{at} and {body} close by", at=address_words(case.loom, need.at), body=body_words(case.loom)
            ),
            how=tr("earthed pole off the battery, part screwed down, meter on ohms, its leads touched first"),
            answers=(
                (tr("as low as with the leads touched together"), tr("its mounting earths it: no wire")),
                (
                    tr("higher, or changing when the part is pressed"),
                    tr("fit the earth wire that is offered"),
                ),
            ),
            why=why,
        )
