"""A push in a load's return comes out, and the new one gives the feed: the load is wired the other way round.

What it looks for
The loose end of a push that did nothing but earth the return of one load, which stays; and a contact of a
fitted part that is closed in the same positions and gives what such a load is fed by.

Why it matters
The return of an old horn is switched, its feed is live for good. A later lever brings the feed: its output on
the old return would be a live wire to a live screw, and the horn as dead as with the wire tied back.

Before
An insulated horn, always live; its return goes to a push in the wheel. A combined lever with its horn contact
between 30 and 71.

After
The old return leads from 71 of the lever to where the feed was on the horn; the old feed is off and covered,
and the horn's other terminal gets an earth of its own.

Limits
Only where the return led to this one load, and nothing else hung on it. Where the new contact stands alone,
it can as well stay in the return: that is another rule's.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_near
from planner.engine.plain_contacts import contacts_in_the_feed, plain_sides
from planner.model.delta import Cover, Operation, Reason
from planner.model.elements import EndUser
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.part import Part
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield the old return as the new feed, the old feed off, and an earth for the load."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    place, mark = split_address(need.was)
    old = case.old_part(place)
    was = plain_sides(case, old) if old is not None and old is not case.part(place) else None
    if was is None or was.index(mark) != 0 or case.facts.at(need.was).earthed != "sometimes":
        return
    load = _load(case, need.was)
    found = list(contacts_in_the_feed(case, need.was))
    if load is None or len(found) != 1:
        return
    (there, (_, out)), (feed, back) = found[0], load
    (wire, end), *more = case.ends_at(back)
    if more or case.ends_at(f"{there}:{out}"):
        return
    feeds = [each for each in case.ends_at(feed) if each[0] in case.before.wire_index]
    title = case.loom.place_title(split_address(feed)[0])
    facts = (
        f"{case.old_end(need.wire, need.end)} was the return of the {title}, which the old push earthed",
        f"{address_words(case.loom, f'{there}:{out}')} gives the feed in the same positions: the {title} "
        "is fed through it, and earthed for good",
    )
    operations: list[Operation] = [
        *(each for f in feeds for each in (case.put(*f, "loose"), Cover(feed, *f))),
        case.put(need.wire, need.end, f"{there}:{out}"),
        case.put(wire, end, feed),
        draft_wire(case, back, earth_near(case, back), "31"),
    ]
    leans_on = ((need.wire, need.end), (wire, end), *feeds)
    yield Proposal(tuple(operations), Reason("push-gives-the-feed-now", facts, leans_on=leans_on))


def _load(case: Case, was: str) -> tuple[str, str] | None:
    """The feed and the return of the one load whose return hung on a terminal, and nothing else."""
    beyond = [at for at in case.facts.at(was).addresses if at != was and not at.startswith("joint:")]
    place, back = split_address(beyond[0]) if len(beyond) == 1 else ("", "")
    part = case.part(place)
    if part is None or case.is_swapped(place) or len(part.terminals) != 2 or not _is_one_load(part):
        return None
    feed = next(mark for mark in part.terminals if mark != back)
    if part.terminals[feed].by != "wire" or case.facts.at(f"{place}:{feed}").live != "always":
        return None
    return f"{place}:{feed}", f"{place}:{back}"


def _is_one_load(part: Part) -> bool:
    return len(part.inside) == 1 and isinstance(part.inside[0], EndUser)
