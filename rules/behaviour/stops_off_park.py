"""A motor that no longer parks gets its park feed back.

What it looks for
A cam that the proof found stopping off its park. The contact that it closes on the way, and whether the feed
side of that contact has a wire.

Why it matters
With the switch off only the cam carries the motor on until it is parked. Without the park feed the blades
stop where they are, across the view.

Before
53a of a new wiper motor is bare; the old one took its park feed by another terminal.

After
53a fed as the old motor's was: from the nearest protected point that is live with the ignition, or always.

Limits
Looks at the motor's own contacts. A park return that nobody connected is settled by its role.

Source
DIN 72552 for terminals 53a and 31b; the practice itself is common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import choose_feeds
from planner.engine.feeding import is_joined_to_an_end, point_words
from planner.engine.parking import park_contacts
from planner.model.delta import Reason
from planner.model.elements import Cam
from planner.model.need import Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.wording import address_words, park_name

NATURES = ("ignition-live", "always-live")


def propose(case: Case) -> Iterator[Emission]:
    """Yield a feed for the cam's bare fed terminal, of the nature that the old motor's park feed had."""
    need = case.need
    if not isinstance(need, Fault) or need.kind not in ("lost", "changed"):
        return
    part, old = case.part(need.at), case.old_part(need.at)
    if part is None:
        return
    for cam in (e for e in part.inside if isinstance(e, Cam) and park_name(e.name) == need.what):
        mark = _fed_mark(case, part, cam)
        at = f"{need.at}:{mark}"
        if mark is None or case.ends_at(at) or is_joined_to_an_end(case, at):
            continue
        cams = [e for e in old.inside if isinstance(e, Cam)] if old else []
        marks = [_fed_mark(case, old, e) for e in cams] if old else []
        before = [case.facts.at(f"{need.at}:{m}").nature for m in marks if m]
        nature = next((n for n in NATURES if n in before), NATURES[0])
        for point, operations in choose_feeds(case, at, nature):
            facts = (
                f"the current that parks it comes in on {address_words(case.loom, at)}",
                "no wire is on it",
                f"{point_words(case, point)} is {nature.replace('-', ' ')}",
            )
            yield Proposal(operations, Reason("stops-off-park", facts, case.role_source("53a")))


def _fed_mark(case: Case, part: Part, cam: Cam) -> str | None:
    """The terminal from which a cam's contact takes current while it is not parked."""
    marks = [
        mark
        for contact in park_contacts(part, cam)
        for mark in contact.join
        if mark in part.terminals and part.terminals[mark].by == "wire"
    ]
    ranks = [role.rank if (role := case.role_of(part.terminals[m].role)) else 50 for m in marks]
    return min(zip(ranks, marks, strict=True))[1] if marks else None
