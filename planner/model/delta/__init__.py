"""The delta: what is done to a loom, one operation at a time; each can apply and undo itself.

An operation is a frozen record. ``apply`` gives the loom after it, ``undo`` the loom before it;
applying and undoing in reverse order restores the loom exactly. Whoever imports this has every kind of
operation.
"""

from planner.model.delta.edits import copy_loom, new_end, with_end
from planner.model.delta.ends import Cover, Cut, Extend, Hold, Join, Move, Piggyback, ReEnd
from planner.model.delta.operation import EndRef, Operation
from planner.model.delta.parts import ChangeFuse, ChangeSupply, Fit, Insert, Remove
from planner.model.delta.step import Reason, Step, last_words
from planner.model.delta.wires import Add, Make, Renew

__all__ = [
    "Add", "ChangeFuse", "ChangeSupply", "Cover", "Cut", "EndRef", "Extend", "Fit", "Hold", "Insert", "Join",
    "Make", "Move", "Operation", "Piggyback", "ReEnd", "Reason", "Remove", "Renew", "Step", "copy_loom",
    "last_words", "new_end", "operation_words", "with_end",
]  # fmt: skip


def operation_words() -> frozenset[str]:
    """The word of every operation."""
    return frozenset(operation.do for operation in Operation.__subclasses__())
