"""One old feed serves two terminals of the new part that want the same feed: a short bridge joins them.

What it looks for
A bare terminal that wants a feed, beside a terminal of the same part with the same want that already carries
a conductor of that nature, where the part itself does not join the two.

Why it matters
Two feed terminals are usually one feed brought to two groups of contacts. A bridge of a hand's length does
what a new feed from the fuse box would do.

Before
A lighting switch with one feed gives way to one with two, 30 and 30a; the old feed sits on 30.

After
A bridge from 30 to 30a on the switch; a piggyback makes room where the first terminal is taken.

Limits
Both groups then hang on one fuse, unless that would put both headlamps on it; then this rule is silent. So it
is where the other side of the contact is that feed already, or a bare terminal that wants it as well: the two
poles of a toggle whose four terminals are alike. A bridge would be past the switch, or to a pole of no use.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.feeding import find_fed_sibling, is_joined_to_an_end
from planner.model.delta import Operation, Piggyback, Reason
from planner.model.elements import Contact
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Proposal
from planner.model.wording import address_words

NATURES = {"live": "always-live", "ignition": "ignition-live"}


def propose(case: Case) -> Iterator[Emission]:
    """Yield a bridge from the terminal that is fed."""
    need = case.need
    if not isinstance(need, BareTerminal) or is_joined_to_an_end(case, need.at):
        return
    nature = NATURES.get(case.wants(need.at))
    sibling = find_fed_sibling(case, need.at, nature) if nature else None
    if sibling is None or _is_of_no_use(case, need.at, sibling):
        return
    bridge: tuple[Operation, ...] = (draft_wire(case, sibling, need.at, case.role(need.at)),)
    if case.room(sibling) < 1:
        bridge = (Piggyback(sibling), *bridge)
    facts = (
        f"{address_words(case.loom, sibling)} already has the feed that "
        f"{address_words(case.loom, need.at)} wants",
        "the part does not join the two",
    )
    yield Proposal(bridge, Reason("one-feed-two-terminals", facts))


def _is_of_no_use(case: Case, at: str, sibling: str) -> bool:
    """Whether a terminal is a side of contacts only, each fed, or to be fed, on its other side too."""
    place, mark = split_address(at)
    part = case.part(place)
    if part is None:
        return False
    touching = {index for index, _, kind, name in part.references() if kind == "node" and name == mark}
    contacts = [e for e in (part.inside[index] for index in touching) if isinstance(e, Contact)]
    others = {f"{place}:{m}" for contact in contacts for m in contact.join} - {at}
    return (
        bool(others)
        and len(contacts) == len(touching)
        and all(
            other == sibling or (case.wants(other) == case.wants(at) and not case.ends_at(other))
            for other in others
        )
    )
