"""Switches of two poles, the way to what they switch and the way back, and what of them a new part lacks."""

from planner.model.elements import Contact
from planner.model.part import Part

RETURNS = ("31", "isolated-return", "D-", "B-")


def return_contact(old: Part | None, new: Part | None) -> Contact | None:
    """The contact of an old switch in the return, beside one in the feed, that the new one has not."""
    if old is None or new is None or not _switching(new):
        return None
    if any(_is_return(new, contact) for contact in _switching(new)):
        return None
    both = _switching(old)
    return next(
        (
            contact
            for contact in both
            if _is_return(old, contact)
            and any(other.when == contact.when and not _is_return(old, other) for other in both)
        ),
        None,
    )


def _switching(part: Part) -> list[Contact]:
    """The contacts of a part that its controls close."""
    return [e for e in part.inside if isinstance(e, Contact) and e.when.keys() & part.controls.keys()]


def _is_return(part: Part, contact: Contact) -> bool:
    """Whether a contact lies on the way back: one of its terminals is a return."""
    return any(part.terminals[mark].role in RETURNS for mark in contact.join if mark in part.terminals)
