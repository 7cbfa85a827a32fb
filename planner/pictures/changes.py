"""What becomes of each end and leg of a wire, in a few words for the picture before and the one after."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from planner.messages import later, tr
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


# What becomes of an end: before and after, for one end and for both ends of a leg alike.
_FATES: Mapping[str, tuple[str, str, str, str]] = MappingProxyType(
    {
        "comes off": (
            later("comes off {one}"),
            later("tied back, was on {one}"),
            later("both ends come off {one}"),
            later("both ends tied back, were on {one}"),
        ),
        "goes on": (
            later("goes on {other}"),
            later("put on {other}"),
            later("both ends go on {other}"),
            later("both ends put on {other}"),
        ),
        "moves": (
            later("moves: {one} to {other}"),
            later("moved: {one} to {other}"),
            later("both ends move: {one} to {other}"),
            later("both ends moved: {one} to {other}"),
        ),
        "covered": (
            later("gets covered"),
            later("covered"),
            later("both ends get covered"),
            later("both ends covered"),
        ),
        "new end": (
            later("gets a new end"),
            later("new end"),
            later("both ends get a new end"),
            later("both ends new"),
        ),
        "longer": (
            later("gets longer"),
            later("made longer"),
            later("both ends get longer"),
            later("both ends made longer"),
        ),
    }
)


@dataclass(frozen=True, slots=True)
class _Fate:
    """What becomes of one end: what it does, and the words of where it was and where it is then."""

    does: str
    one: str = ""
    other: str = ""

    def of_one(self, about: int) -> Note:
        before, after, _, _ = _FATES[self.does]
        return self._note(about, before, after)

    def of_both(self) -> Note:
        _, _, before, after = _FATES[self.does]
        return self._note(LEG, before, after)

    def _note(self, about: int, before: str, after: str) -> Note:
        said = [tr(text).format(one=self.one, other=self.other) for text in (before, after)]
        return Note(about, *said)


def leg_notes(before: Loom, after: Loom, wire: str, leg: int) -> tuple[Note, ...]:
    """What happens to one leg of a wire of either loom; nothing where it stays as it is."""
    old = before.find(wire) if wire in before.wire_index else None
    new = after.find(wire) if wire in after.wire_index else None
    if old is None or new is None:
        return (Note(LEG, tr("comes out"), tr("new")),)
    if len(old.ends) != len(new.ends):
        return (Note(LEG, tr("one end is cut off"), tr("one end was cut off")),)
    # What is laid anew has new terminals as it is: that goes without saying.
    silent = "new end" if old.leg_mm2(leg) != new.leg_mm2(leg) else ""
    first, last = (
        tuple(fate for fate in _fates(before, after, old, new, end) if fate.does != silent)
        for end in (leg, leg + 1)
    )
    if first and first == last:
        return (*(fate.of_both() for fate in first), *_leg(old, new, leg))
    ends = [[fate.of_one(about) for fate in own] for own, about in ((first, FIRST), (last, LAST))]
    return (*ends[0], *_leg(old, new, leg), *ends[1])


def end_changes(before: Loom, after: Loom, wire: str, end: int) -> bool:
    """Whether anything happens to an end of a wire of either loom, or to a leg that reaches it."""
    record = (after if wire in after.wire_index else before).find(wire)
    return any(
        note.about in (LEG, about)
        for leg, about in ((end - 1, LAST), (end, FIRST))
        if 0 <= leg < len(record.ends) - 1
        for note in leg_notes(before, after, wire, leg)
    )


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
        if now > was:
            said = tr("laid anew, thicker: was {was:g} mm²", was=was)
        else:
            said = tr("laid anew, thinner: was {was:g} mm²", was=was)
        yield Note(LEG, tr("laid anew, {mm2:g} mm²", mm2=now), said)
    if old.leg_colour(leg) != new.leg_colour(leg):
        becomes, old_colour = new.leg_colour(leg), old.leg_colour(leg)
        yield Note(LEG, tr("becomes {colour}", colour=becomes), tr("was {colour}", colour=old_colour))


def _fates(before: Loom, after: Loom, old: Wire, new: Wire, end: int) -> Iterator[_Fate]:
    was, now = old.ends[end], new.ends[end]
    if was.at != now.at:
        one, other = _words(before, after, was.at, now.at), _words(before, after, now.at, was.at)
        does = "comes off" if now.at == "loose" else "goes on" if was.at == "loose" else "moves"
        yield _Fate(does, one, other)
    elif now.covered and not was.covered:
        yield _Fate("covered")
    if now.fitting != was.fitting:
        yield _Fate("new end")
    if now.spare_metres > was.spare_metres:
        yield _Fate("longer")


def _words(before: Loom, after: Loom, address: str, other: str) -> str:
    """An address in few words; the mark alone where the other end of the move is at the same place."""
    head, mark = split_address(address)
    place = home_of(before, after, address)
    if place is None or place != home_of(before, after, other):
        return short_words(before, after, address)
    return tr("a joiner") if head == "joint" else mark
