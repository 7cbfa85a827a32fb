"""What stands in the outline of a place, joiner, feed or body point."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from planner.messages import tr, tr_count
from planner.model.catalogue import Catalogue
from planner.model.elements import Fuse, Lamp, Led
from planner.model.elements import Load as AnyLoad
from planner.model.fitted_fuse import fuse_as_fitted, fuse_words
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.wording import address_words, said_name
from planner.pictures.graph import Inside, Load

_FEW_LOADS = 3  # so many are all shown; of more only those at a terminal that is drawn


def part_at(loom: Loom, catalogue: Catalogue, place: str) -> Part | None:
    """The part that is fitted at a place, if any."""
    fitted = loom.places.get(place)
    return catalogue.parts.get(fitted.part) if fitted else None


def fuses_at(loom: Loom, catalogue: Catalogue, place: str) -> Mapping[str, str]:
    """The fuses at a place in a few words, by the mark of the fused side."""
    part = part_at(loom, catalogue, place)
    fuses = [element for element in part.inside if isinstance(element, Fuse)] if part else []
    now = [fuse_as_fitted(loom, place, fuse) for fuse in fuses]
    return {fuse.between[1]: tr("fuse {amps}", amps=fuse_words(fuse.amps, fuse.marked)) for fuse in now}


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
        is_named = tail and tail not in loom.zones
        return Inside(tr("earth {name}", name=tail) if is_named else address_words(loom, address))
    if head == "feed":
        feed = loom.feeds.get(address)
        amps = feed.fuse_amps if feed else None
        fused = (tr("fuse {amps}", amps=fuse_words(amps, "continuous")),) if amps else ()
        return Inside(tr("feed {name}", name=said_name(tail)), notes=fused)
    if head in ("loose", "unknown"):
        return Inside(tr("tied back") if head == "loose" else tr("not known where"))
    part = part_at(loom, catalogue, head)
    if part is None:
        return None
    ends = tuple((wire, end) for wire, end, _ in loom.ends_of_place(head))
    return Inside(
        loom.place_title(head),
        part.title if drawn.is_swapped else "",
        _loads(part, drawn),
        (*_mounting(loom, head, part, drawn), *_extras(loom, head), *_undrawn(ends, drawn)),
        fuses=tuple(fuses_at(loom, catalogue, head).items()),
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
        "metal": tr("earthed by its mounting"),
        "insulated": tr("mounting does not earth it"),
        "doubtful": tr("earthing by its mounting doubtful"),
    }
    return (how[mounting],)


def _extras(loom: Loom, place: str) -> Iterator[str]:
    """Yield which terminals have a piggyback, and which bare ones are covered."""
    if marks := _marks_at(place, loom.piggybacks):
        yield tr("piggyback on {marks}", marks=marks)
    if marks := _marks_at(place, loom.covered):
        yield tr("covered: {marks}", marks=marks)


def _marks_at(place: str, addresses: Collection[str]) -> str:
    split = map(split_address, dict.fromkeys(addresses))
    return ", ".join(mark for head, mark in split if head == place)


def _undrawn(ends: Collection[tuple[str, int]], drawn: Drawn) -> tuple[str, ...]:
    left_out = {wire for wire, _ in ends if wire not in drawn.wires}
    if not left_out:
        return ()
    return (tr_count("+ {count} wire not drawn", "+ {count:,} wires not drawn", len(left_out)),)
