"""What stands in the outline of a place, joiner, feed or body point."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from planner.model.catalogue import Catalogue
from planner.model.elements import Lamp, Led
from planner.model.elements import Load as AnyLoad
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.wording import address_words, counted
from planner.pictures.graph import Inside, Load

_FEW_LOADS = 3  # so many are all shown; of more only those at a terminal that is drawn


def part_at(loom: Loom, catalogue: Catalogue, place: str) -> Part | None:
    """The part that is fitted at a place, if any."""
    fitted = loom.places.get(place)
    return catalogue.parts.get(fitted.part) if fitted else None


@dataclass(frozen=True, slots=True)
class Drawn:
    """What of an address is drawn: its wires by id, its terminals, and whether it is a swapped place.

    ``words`` are what a joiner is called.
    """

    wires: Collection[str]
    marks: Collection[str]
    is_swapped: bool
    words: str


def inside_of(loom: Loom, catalogue: Catalogue, address: str, drawn: Drawn) -> Inside | None:
    """What is said of an address in one loom; None where that loom has no such place."""
    head, tail = split_address(address)
    if head == "joint":
        return Inside(drawn.words, notes=_undrawn(loom.ends_at.get(address, ()), drawn))
    if head == "earth":
        return Inside(address_words(loom, address) if tail in loom.zones else f"earth {tail}".strip())
    if head in ("feed", "loose", "unknown"):
        words = {"loose": "tied back", "unknown": "not known where"}
        feed = loom.feeds.get(address)
        fused = (f"fuse {feed.fuse_amps:g} A",) if feed and feed.fuse_amps else ()
        return Inside(words.get(head, f"feed {tail}"), notes=fused)
    part = part_at(loom, catalogue, head)
    if part is None:
        return None
    ends = tuple((wire, end) for wire, end, _ in loom.ends_of_place(head))
    return Inside(
        loom.place_title(head),
        part.title if drawn.is_swapped else "",
        _loads(part, drawn),
        (*_mounting(loom, head, part, drawn), *_extras(loom, head), *_undrawn(ends, drawn)),
    )


def _loads(part: Part, drawn: Drawn) -> tuple[Load, ...]:
    found = {
        Load(element.does, isinstance(element, Lamp | Led)): element.between
        for element in part.inside
        if isinstance(element, AnyLoad) and element.does
    }
    if drawn.is_swapped or len(found) <= _FEW_LOADS:
        return tuple(found)
    return tuple(load for load, between in found.items() if set(between) & set(drawn.marks))


def _mounting(loom: Loom, place: str, part: Part, drawn: Drawn) -> tuple[str, ...]:
    by_mounting = [mark for mark, terminal in part.terminals.items() if terminal.by == "mounting"]
    if not by_mounting or not drawn.is_swapped:
        return ()
    mounting = loom.places[place].mounting
    how = {
        "metal": "earthed by its mounting",
        "insulated": "mounting does not earth it",
        "doubtful": "earthing by its mounting doubtful",
    }
    return (how[mounting],)


def _extras(loom: Loom, place: str) -> Iterator[str]:
    """Yield which terminals have a piggyback, and which bare ones are covered."""
    for addresses, words in ((loom.piggybacks, "piggyback on"), (loom.covered, "covered:")):
        marks = [tail for head, tail in map(split_address, dict.fromkeys(addresses)) if head == place]
        if marks:
            yield f"{words} {', '.join(marks)}"


def _undrawn(ends: Collection[tuple[str, int]], drawn: Drawn) -> tuple[str, ...]:
    left_out = {wire for wire, _ in ends if wire not in drawn.wires}
    return (f"+ {counted(len(left_out), 'wire')} not drawn",) if left_out else ()
