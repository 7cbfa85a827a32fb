"""What is said where a fuel tank is opened: what comes before it, and the sender read in the hand."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Fit, Remove
from planner.model.part import Part
from planner.model.tank_senders import tank_sender
from planner.model.wording import mark_words
from planner.workshop.ends.names import Names


def opening_words() -> str:
    """What comes before a tank is opened."""
    return tr(
        "this opens the fuel tank: the fuel stands below the sender before it is undone, run low or drained "
        "into a closed can; its vapour sinks, so not over a pit, and everything open to the air, a bilge "
        "too; no flame or spark, no hot lamp, no hot air (sleeves are shrunk before it is opened, or once "
        "it is closed and the vapour is gone), an extinguisher within reach; close the hole at once, and "
        "mind the local rules for fuel (common practice, no source)"
    )


def tank_words(names: Names, operation: Remove | Fit) -> Iterator[str]:
    """Yield what is said when the sender of a tank comes out or goes in.

    The new one is read in the hand before the old one is out: the hole does not stay open for that.
    """
    parts = names.catalogue.parts
    out = operation.place if isinstance(operation, Remove) else operation.over
    goes_in = names.after.places.get(operation.at)
    is_opened = out is not None and tank_sender(parts[out.part]) is not None
    if isinstance(operation, Fit) and names.before.places.get(operation.at) is None:
        is_opened = tank_sender(parts[operation.place.part]) is not None
    if is_opened:
        if goes_in is not None:
            yield from _in_the_hand(parts[goes_in.part])
        yield opening_words()


def _in_the_hand(part: Part) -> Iterator[str]:
    """Yield the ohms of a sender that is not in its tank yet, at both ends of its arm."""
    sender = tank_sender(part)
    if sender is None or not set(sender.between) <= part.terminals.keys():
        return
    one, other = (mark_words(mark) for mark in sender.between)
    ends = sorted(sender.ohms, key=lambda value: sender.ohms[value])
    said = tr(" and ").join(
        tr("{ohms:g} ohm with {level} {value}", ohms=sender.ohms[value], level=sender.follows, value=value)
        for value in (ends[0], ends[-1])
    )
    yield tr(
        "before the tank is open, read ohms from {one} to {other} of the new sender, loose in the hand, and "
        "move its arm slowly from end to end: {ends}, with no gap between",
        one=one,
        other=other,
        ends=said,
    )
