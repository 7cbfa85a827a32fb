"""Contacts in the housing of a connector: how one comes out of its chamber and goes into another.

Common practice, no source: a catch on the contact holds it, and each make of connector has its own tool.
"""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Hold, Move
from planner.model.loom import Loom, split_address
from planner.workshop.crimped_words import re_ends
from planner.workshop.names import Names
from planner.workshop.task import Task

CONTACT = "contact"


def contact_words(names: Names, task: Task) -> Iterator[str]:
    """Yield how a contact that keeps its wire changes its chamber."""
    operation = task.operation
    if not isinstance(operation, Hold | Move):
        return
    wire, end = operation.wire, operation.end
    was = names.before.end_address(wire, end)
    if was is None or not _is_contact(names, names.before, was) or re_ends(names, wire, end):
        return
    is_held = any(isinstance(t.operation, Hold) and t.operation.wire == wire for t in names.ordered)
    if isinstance(operation, Hold) or not is_held:
        yield tr(
            "with its plug off the part, press the catch of this contact in with the tool for it, and draw "
            "it out of the housing by its wire"
        )
    if isinstance(operation, Move) and operation.to != was and _is_contact(names, names.after, operation.to):
        yield tr("push it into its chamber until it clicks, and tug")


def _is_contact(names: Names, loom: Loom, address: str) -> bool:
    place, mark = split_address(address)
    fitted = loom.places.get(place)
    terminal = names.catalogue.parts[fitted.part].terminals.get(mark) if fitted else None
    return terminal is not None and terminal.fitting == CONTACT
