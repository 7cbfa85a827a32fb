"""Parts that a job moves: one comes out, and its like goes in elsewhere, or a part that has it built in."""

from planner.engine.case import Case
from planner.model.elements import Contact, Control
from planner.model.part import Part


def has_moved(case: Case, here: str, old: Part, place: str, other: Part, mark: str) -> bool:
    """Whether one part has come out and its like goes in elsewhere; of batteries another may stay."""
    if mark in old.battery_posts:
        return bool(other.battery_posts)
    if here in case.loom.places:
        return False
    if _is_built_in(old, other, case.claims(place)):
        return True
    was, now = (_wired_roles(part) for part in (old, other))
    is_new_place = place not in case.before.places
    return is_new_place and (other.family == old.family or (len(now) > 1 and None not in now and now <= was))


def _is_built_in(old: Part, other: Part, taken: frozenset[str]) -> bool:
    """Whether a switch is wholly within another part: each of its contacts between terminals of its roles.

    ``taken`` are the roles that the other part has for what it took the place of itself.
    """
    was = _wired_roles(old)
    is_switch = all(isinstance(element, Contact | Control) for element in old.inside)
    if not is_switch or None in was or len(was) < 2 or was & taken or not was <= _wired_roles(other):
        return False
    return all(
        any(
            isinstance(now, Contact) and now.when and _roles(old, contact) <= _roles(other, now)
            for now in other.inside
        )
        for contact in old.inside
        if isinstance(contact, Contact)
    )


def _wired_roles(part: Part) -> set[str | None]:
    return {terminal.role for terminal in part.terminals.values() if terminal.by == "wire"}


def _roles(part: Part, contact: Contact) -> set[str | None]:
    return {part.terminals[mark].role if mark in part.terminals else mark for mark in contact.join}
