"""Contacts in the housing of a connector: how one comes out of its chamber and goes into another.

Common practice, no source: a catch on the contact holds it, and each make of connector has its own tool.
"""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Hold, Move
from planner.model.loom import Loom, split_address
from planner.workshop.ends.crimps import re_ends
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task

CONTACT = "contact"


def contact_words(names: Names, task: Task) -> Iterator[str]:
    """Yield how a contact that keeps its wire changes its chamber."""
    operation = task.operation
    if draws_out(names, task):
        yield tr(
            "with its plug off the part, press the catch of this contact in with the tool for it, and draw "
            "it out of the housing by its wire"
        )
    if isinstance(operation, Move) and _keeps_its_contact(names, operation):
        was = names.before.end_address(operation.wire, operation.end)
        if operation.to != was and is_contact(names, names.after, operation.to):
            yield tr("push it into its chamber until it clicks, and tug")


def draws_out(names: Names, task: Task) -> bool:
    """Whether a step draws a contact that keeps its wire out of its housing."""
    operation = task.operation
    if not isinstance(operation, Hold | Move) or not _keeps_its_contact(names, operation):
        return False
    wire = operation.wire
    is_held = any(isinstance(t.operation, Hold) and t.operation.wire == wire for t in names.ordered)
    return isinstance(operation, Hold) or not is_held


def _keeps_its_contact(names: Names, operation: Hold | Move) -> bool:
    """Whether the end was in a housing, and gets no other terminal."""
    was = names.before.end_address(operation.wire, operation.end)
    is_old = was is not None and is_contact(names, names.before, was)
    return is_old and not re_ends(names, operation.wire, operation.end)


def is_contact(names: Names, loom: Loom, address: str) -> bool:
    """Whether a terminal is a chamber in the housing of a connector."""
    place, mark = split_address(address)
    fitted = loom.places.get(place)
    terminal = names.catalogue.parts[fitted.part].terminals.get(mark) if fitted else None
    return terminal is not None and terminal.fitting == CONTACT
