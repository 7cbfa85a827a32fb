"""Addresses in few words, as they have room in a picture."""

from collections.abc import Callable

from planner.messages import tr
from planner.model.loom import Loom, split_address
from planner.model.wording import address_words, said_name, wires_joined


def short_title(before: Loom, after: Loom, place: str) -> str:
    """The title of a place of either loom without what comes after a comma: ``wiper switch``."""
    return (after if place in after.places else before).place_title(place).partition(",")[0]


def home_of(before: Loom, after: Loom, address: str) -> str | None:
    """The place that an address is at, or that a joiner is named after; None if it is at none."""
    head, tail = split_address(address)
    place = tail.rpartition(".")[0] if head == "joint" else head
    return place if place in after.places or place in before.places else None


def short_words(before: Loom, after: Loom, address: str, shown: Callable[[str], str] = str) -> str:
    """An address of either loom: ``53, wiper switch``, ``joiner at 15, key switch``, ``joiner of C3, C4``."""
    head, tail = split_address(address)
    home = home_of(before, after, address)
    if head == "joint" and home is not None and home not in after.places:
        return tr("joiner of {wires}", wires=wires_joined(after, address, shown))
    if home is not None:
        title = short_title(before, after, home)
        if head == "joint":
            return tr("joiner at {mark}, {place}", mark=tail.rpartition(".")[2], place=title)
        return f"{tail}, {title}"
    if head == "loose":
        return tr("an end that is tied back")
    if head == "unknown":
        return tr("nobody knows where")
    return tr("joiner {name}", name=said_name(tail)) if head == "joint" else address_words(after, address)
