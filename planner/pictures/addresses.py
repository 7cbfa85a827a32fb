"""Addresses in few words, as they have room in a picture."""

from planner.model.loom import Loom, split_address
from planner.model.wording import address_words


def short_title(loom: Loom, place: str) -> str:
    """The title of a place without what comes after a comma: ``wiper switch``."""
    return loom.place_title(place).partition(",")[0]


def short_words(before: Loom, after: Loom, address: str) -> str:
    """An address of either loom: ``53, wiper switch``; a joiner beside it is ``a joiner, regulator``."""
    head, tail = split_address(address)
    if head == "joint":
        place = tail.rpartition(".")[0]
        home = _home(before, after, place)
        return f"a joiner, {short_title(home, place)}" if home else f"joiner {tail}"
    home = _home(before, after, head)
    if home:
        return f"{tail}, {short_title(home, head)}"
    nowhere = {"loose": "an end that is tied back", "unknown": "nobody knows where"}
    return nowhere.get(head) or address_words(after, address)


def _home(before: Loom, after: Loom, place: str) -> Loom | None:
    """The loom that has a place, the one after first."""
    return next((loom for loom in (after, before) if place in loom.places), None)
