"""What becomes of each end and leg of a wire, in a few words for the picture before and the one after."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.model.loom import Loom, Wire, split_address
from planner.pictures.addresses import home_of, short_words
from planner.pictures.graph import When

LEG, FIRST, LAST = 1, 0, 2  # what a note is about: the leg, or which of its ends


@dataclass(frozen=True, slots=True)
class Note:
    """A few words on what happens to a leg or one of its ends."""

    about: int
    before: str
    after: str

    def words(self, when: When) -> str:
        """Those for one of the two pictures."""
        return self.before if when == "before" else self.after


def leg_notes(before: Loom, after: Loom, wire: str, leg: int) -> tuple[Note, ...]:
    """What happens to one leg of a wire of either loom; nothing where it stays as it is."""
    old = before.find(wire) if wire in before.wire_index else None
    new = after.find(wire) if wire in after.wire_index else None
    if old is None or new is None:
        return (Note(LEG, "comes out", "new"),)
    if len(old.ends) != len(new.ends):
        return (Note(LEG, "one end is cut off", "one end was cut off"),)
    first = tuple(_end(before, after, old, new, leg, FIRST))
    last = tuple(_end(before, after, old, new, leg + 1, LAST))
    if first and [note.after for note in first] == [note.after for note in last]:
        first, last = tuple(_both(note) for note in first), ()
    return (*first, *_leg(old, new, leg), *last)


def changed_wires(before: Loom, after: Loom) -> tuple[str, ...]:
    """The wires of either loom to which anything happens, in order."""
    wires = {wire.wire: wire for wire in (*before.wires, *after.wires)}
    return tuple(
        name
        for name, wire in wires.items()
        if any(leg_notes(before, after, name, leg) for leg in range(len(wire.ends) - 1))
    )


def _leg(old: Wire, new: Wire, leg: int) -> Iterator[Note]:
    was, now = old.leg_mm2(leg), new.leg_mm2(leg)
    if was != now:
        word = "thicker" if now > was else "thinner"
        yield Note(LEG, f"laid anew, {now:g} mm²", f"laid anew, {word}: was {was:g} mm²")
    if old.leg_colour(leg) != new.leg_colour(leg):
        yield Note(LEG, f"becomes {new.leg_colour(leg)}", f"was {old.leg_colour(leg)}")


def _end(before: Loom, after: Loom, old: Wire, new: Wire, end: int, about: int) -> Iterator[Note]:
    was, now = old.ends[end], new.ends[end]
    if was.at != now.at:
        one, other = _words(before, after, was.at, now.at), _words(before, after, now.at, was.at)
        if now.at == "loose":
            yield Note(about, f"comes off {one}", f"tied back, was on {one}")
        elif was.at == "loose":
            yield Note(about, f"goes on {other}", f"put on {other}")
        else:
            yield Note(about, f"moves: {one} to {other}", f"moved: {one} to {other}")
    elif now.covered and not was.covered:
        yield Note(about, "gets covered", "covered")
    if now.fitting != was.fitting:
        yield Note(about, "gets a new end", "new end")
    if now.spare_metres > was.spare_metres:
        yield Note(about, "gets longer", "made longer")


def _both(note: Note) -> Note:
    plural = note.before.replace("moves:", "move:").replace("gets", "get").replace("comes", "come")
    return Note(LEG, f"both ends {plural}", f"both ends {note.after}")


def _words(before: Loom, after: Loom, address: str, other: str) -> str:
    """An address in few words; the mark alone where the other end of the move is at the same place."""
    head, mark = split_address(address)
    place = home_of(before, after, address)
    if place is None or place != home_of(before, after, other):
        return short_words(before, after, address)
    return "a joiner" if head == "joint" else mark
