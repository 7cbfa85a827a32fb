"""Plain contacts, seen from a case: a switch that is nothing else, and one that sits in another new part."""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.elements import Contact, Control
from planner.model.loom import split_address
from planner.model.paired_positions import positions_of
from planner.model.part import Part
from planner.model.same_positions import same_positions

_POLES = ("30", "31")  # roles that tell nothing of what a contact is for


def plain_sides(case: Case, part: Part) -> tuple[str, str] | None:
    """The two terminals of a part that is one contact, the nearer to the live pole first; else None."""
    contacts = [e for e in part.inside if isinstance(e, Contact)]
    others = [e for e in part.inside if not isinstance(e, Contact | Control)]
    if others or len(contacts) != 1 or len(part.terminals) != 2 or {*contacts[0].join} != {*part.terminals}:
        return None
    return _in_order(case, part, contacts[0])


def contacts_instead(case: Case, was: str) -> Iterator[tuple[str, tuple[str, str]]]:
    """Yield each contact of another fitted part that does what a plain one did, which comes out for good.

    It is closed in the same positions, nothing else meets its terminals, and control or role say that it is
    for the same: place, and its two terminals, the nearer to the live pole first.
    """
    roles = _roles_served(case, was) - {None, *_POLES}
    for place, part, contact, is_named in _like_contacts(case, was):
        met = [name for _, _, kind, name in part.references() if kind == "node"]
        if any(met.count(mark) > 1 for mark in contact.join):
            continue
        if is_named or any(part.terminals[mark].role in roles for mark in contact.join):
            yield place, _in_order(case, part, contact)


def contacts_in_the_feed(case: Case, was: str) -> Iterator[tuple[str, tuple[str, str]]]:
    """Yield each contact that gives a feed to what a plain one earthed: place, fed side, output.

    Its output is what such a load is fed by, or, where it goes by the old control's name, has no role.
    """
    feeds = {entry.fed_by for role in _roles_served(case, was) if (entry := case.role_of(role))} - {None}
    for place, part, contact, is_named in _like_contacts(case, was):
        fed, out = _in_order(case, part, contact)
        role = part.terminals[out].role
        if case.rank_in(part, fed) < case.rank_in(part, out) and (role in feeds or (is_named and not role)):
            yield place, (fed, out)


def _roles_served(case: Case, was: str) -> set[str | None]:
    """The roles of every terminal of the parts that hung on an old terminal."""
    served = {split_address(at)[0] for at in case.facts.at(was).addresses} - {split_address(was)[0]}
    parts = [case.catalogue.parts[case.loom.places[at].part] for at in served if at in case.loom.places]
    return {t.role for part in parts for t in part.terminals.values()}


def _like_contacts(case: Case, was: str) -> Iterator[tuple[str, Part, Contact, bool]]:
    """Yield each contact of a fitted part between two wired terminals that is closed as an old plain one was.

    Whether it goes by the old one's name, and no old part did, is said beside it.
    """
    old = case.old_part(split_address(was)[0])
    worked = next((e for e in old.inside if isinstance(e, Contact)), None) if old is not None else None
    if old is None or worked is None:
        return
    for place in case.swapped_places():
        part, before = case.part(place), case.old_part(place)
        for contact in part.inside if part is not None else ():
            if part is None or not isinstance(contact, Contact) or not _is_like(old, worked, part, contact):
                continue
            own = [part.terminals.get(mark) for mark in contact.join]
            if any(t is None or t.by == "mounting" for t in own):
                continue
            control = next(iter(contact.when))
            yield (
                place,
                part,
                contact,
                control in worked.when and (before is None or control not in before.controls),
            )


def _is_like(old: Part, worked: Contact, new: Part, contact: Contact) -> bool:
    """Whether two contacts between two points are closed in the same positions of a control."""
    if len(contact.join) != 2 or len(worked.when) != 1 or len(contact.when) != 1:
        return False
    (name, labels), (other, others) = next(iter(worked.when.items())), next(iter(contact.when.items()))
    if name not in old.controls or other not in new.controls:
        return False
    ours, theirs = positions_of(old, name), positions_of(new, other)
    pairs = same_positions(ours, theirs)
    return all(
        p.old is not None and p.new is not None and (ours[p.old][0] in labels) == (theirs[p.new][0] in others)
        for p in pairs
    )


def _in_order(case: Case, part: Part, contact: Contact) -> tuple[str, str]:
    first, second = sorted(contact.join, key=lambda mark: case.rank_in(part, mark))
    return first, second
