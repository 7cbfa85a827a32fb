"""The contacts by which a motor is carried on until it is parked."""

from planner.model.elements import Cam, Contact
from planner.model.part import Part


def park_contacts(part: Part, cam: Cam) -> list[Contact]:
    """The contacts that a cam closes while it is not parked."""
    return [
        element
        for element in part.inside
        if isinstance(element, Contact) and cam.name in element.when
        if cam.states[0] not in element.when[cam.name]
    ]


def roles_joined(part: Part, contact: Contact) -> frozenset[str]:
    """The roles of the terminals that a contact joins."""
    terminals = (part.terminals[mark] for mark in contact.join if mark in part.terminals)
    return frozenset(terminal.role for terminal in terminals if terminal.role)
