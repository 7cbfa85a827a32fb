"""Which wire ends sit on the terminals of a place, in words for its picture."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.messages import later, tr
from planner.model.loom import Loom, Wire
from planner.pictures.addresses import short_words
from planner.pictures.changes import FIRST, LAST, LEG, leg_notes
from planner.pictures.graph import When
from planner.pictures.insides import fuses_at
from planner.pictures.union import Looms

TIED_BACK = later("tied back")


@dataclass(frozen=True, slots=True)
class SittingEnd:
    """A wire end on a terminal: which it is, where its wire goes, and what happens to it."""

    wire: str
    leg: int
    colour: str
    name: str
    leads: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """A terminal and what sits on it; ``bare`` is said where nothing does."""

    mark: str
    ends: tuple[SittingEnd, ...]
    bare: str = ""
    extra: str = ""
    fuse: str = ""  # the one that it is the fused side of
    is_changed: bool = False  # something happens there: to an end, or it gets a cover or a tab more

    @property
    def words(self) -> str:
        """The terminal and its ends as a sentence."""
        ends = "; ".join(", ".join((end.name, end.leads, *end.notes)) for end in self.ends)
        fuse = f" ({self.fuse})" if self.fuse else ""
        return f"{self.mark}{fuse}: {ends or self.bare}{f', {self.extra}' if self.extra else ''}."


def cells_of(looms: Looms, place: str, marks: tuple[str, ...], when: When) -> Mapping[str, Cell]:
    """What sits on each of some terminals in one loom, and after the work also what is tied back there."""
    loom = looms.of(when)
    fuses = fuses_at(loom, looms.catalogue, place)
    # Of a part that stays; another part has its own.
    other = looms.after if when == "before" else looms.before
    stays = place in other.places and other.places[place].part == loom.places[place].part
    others = fuses_at(other, looms.catalogue, place) if stays else fuses
    found = {}
    for mark in marks:
        address = f"{place}:{mark}"
        ends = tuple(_end(looms, loom, wire, end, when) for wire, end in loom.ends_at.get(address, ()))
        bare = tr("covered") if address in loom.covered else tr("nothing on it")
        extra = tr("with a piggyback") if address in loom.piggybacks else ""
        is_changed = (
            any(end.notes for end in ends)
            or _tabs_and_cover(looms.before, address) != _tabs_and_cover(looms.after, address)
            or fuses.get(mark) != others.get(mark)
        )
        found[mark] = Cell(mark, ends, "" if ends else bare, extra, fuses.get(mark, ""), is_changed)
    tied = tuple(
        _end(looms, loom, wire, end, when)
        for wire, end, _ in looms.before.ends_of_place(place)
        if when == "after" and loom.end_address(wire, end) == "loose"
    )
    return {**found, TIED_BACK: Cell(tr(TIED_BACK), tied, is_changed=True)} if tied else found


def _tabs_and_cover(loom: Loom, address: str) -> tuple[int, bool]:
    return loom.piggybacks.count(address), address in loom.covered


def _end(looms: Looms, loom: Loom, wire: str, end: int, when: When) -> SittingEnd:
    record = loom.find(wire)
    notes: dict[str, None] = {}
    for leg, about in ((end - 1, LAST), (end, FIRST)):
        if 0 <= leg < len(record.ends) - 1:
            found = leg_notes(looms.before, looms.after, wire, leg)
            notes |= dict.fromkeys(note.words(when) for note in found if note.about in (about, LEG))
    if when == "after" and (wire, end) in looms.live_ends:
        notes[looms.live_ends[wire, end]] = None
    name = f"{looms.shown(wire)} {record.end_colour(end)} {record.end_mm2(end):g}"
    there = tr(" and ").join(
        _beyond(looms, record, end, step) for step in (-1, 1) if 0 <= end + step < len(record.ends)
    )
    leads = tr("to {there}", there=there)
    return SittingEnd(wire, max(0, end - 1), record.end_colour(end), name, leads, tuple(notes))


def _beyond(looms: Looms, record: Wire, end: int, step: int) -> str:
    """Where a wire leads from one of its ends in one direction, past ends that are tied back."""
    on = [record.ends[end + step].at]
    while on[-1] == "loose" and 0 <= end + (len(on) + 1) * step < len(record.ends):
        on.append(record.ends[end + (len(on) + 1) * step].at)
    return tr(", on to ").join(short_words(looms.before, looms.after, address, looms.shown) for address in on)
