"""Sizes of what is drawn, in mm: letters, terminals, and the outlines that hold them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from planner.pictures.graph import WHENS, Graph, Inside, Leg, Outline, Slot, When
from planner.pictures.text import fit, width_of, wrap

SMALL = 2.6  # letters; 2.47 mm are 7 points
TITLE = 2.8
LINE = 3.3  # from one line of letters to the next
TAB = 1.8  # how far a terminal stands out of its outline
PITCH = 4.2  # between wires on one side of an outline
ROOM = 31.0  # for words in an outline, before they are broken
EDGE = 1.6  # between words and outline
_BARE_ROOM = 22.0  # the same in a joiner or at the body
NOTE_ROOM = 33.0  # for what happens to a wire, before it is broken
NAME_GAP = 1.2  # from the middle of a wire up to its name
NOTE_GAP = 1.6  # from the middle of a wire down to what happens to it
_MARK_ROOM = 16.0


@dataclass(frozen=True, slots=True)
class Line:
    """One line of words in an outline."""

    text: str
    is_title: bool = False
    load: str = ""  # what the load does that it says; only its first line names it
    is_lamp: bool = False


@lru_cache(1024)  # asked for again by each layout, for the height, the width and the terminals
def lines_of(inside: Inside | None, *, is_bare: bool = False) -> tuple[Line, ...]:
    """What stands in an outline, line by line; a joiner and an earth (``is_bare``) have no bold title."""
    if inside is None:
        return ()
    room, size = (_BARE_ROOM, SMALL) if is_bare else (ROOM, TITLE)
    lines = [Line(text, not is_bare) for text in wrap(inside.title, size, room, 5, bold=not is_bare)]
    lines += [Line(text) for text in wrap(inside.part, SMALL, ROOM, 6)]
    lines += [Line(inside.fate, is_title=True)] if inside.fate else []
    for load in inside.loads:
        first, *rest = wrap(load.does, SMALL, ROOM - LINE, 2)
        lines += [Line(first, load=load.does, is_lamp=load.is_lamp), *(Line(text) for text in rest)]
    lines += [Line(text) for note in inside.notes for text in wrap(note, SMALL, room, 2)]
    return tuple(lines)


def label_lines(leg: Leg, when: When, *, turned: bool = False) -> tuple[str, ...]:
    """What stands above a leg, and then what happens to it, below; its last end first if it is turned."""
    look = leg.look(when)
    if look is None:
        return ()
    name = f"{leg.shown} {look.colour} {look.mm2:g}"
    notes = reversed(look.notes) if turned else look.notes
    return (name, *(line for note in notes for line in wrap(note, SMALL, NOTE_ROOM, 4, bold=True)))


def label_size(leg: Leg) -> tuple[float, float]:
    """Width and height of the words of a leg in either loom; one with notes has its wire in the middle."""
    lines = [label_lines(leg, when) for when in WHENS]
    width = max(width_of(text, SMALL, bold=n > 0) for label in lines for n, text in enumerate(label))
    notes = max(len(label) - 1 for label in lines)
    return width + 2.0, 2 * (NOTE_GAP + notes * LINE) if notes else LINE + NAME_GAP


def mark_words(outline: Outline, slot: Slot, when: When) -> tuple[str, str]:
    """The mark of a terminal, cut where it is long, and the fuse that stands beside it, if any."""
    mark, inside = slot.mark(when) or "", outline.inside(when)
    return fit(mark, SMALL, _MARK_ROOM, bold=True), dict(inside.fuses).get(mark, "") if inside else ""


def mark_width(mark: str) -> float:
    """Room for a mark, up to where its fuse is named."""
    return width_of(mark, SMALL, bold=True) + 1.0


def _marks_width(outline: Outline) -> float:
    """Room for the widest mark with its fuse."""
    words = [mark_words(outline, slot, when) for slot in outline.slots for when in WHENS]
    return max((mark_width(mark) + width_of(fuse, SMALL) for mark, fuse in words), default=0.0)


def head_height(outline: Outline) -> float:
    """Height of the words of an outline, in whichever loom they need more."""
    is_bare = outline.kind != "part"
    lines = max(len(lines_of(outline.inside(when), is_bare=is_bare)) for when in WHENS)
    return lines * LINE + EDGE


def outline_width(outline: Outline) -> float:
    """Width of an outline with its words, and with marks at both sides; terminals stand out of it."""
    if outline.kind != "part":
        words = [line.text for when in WHENS for line in lines_of(outline.inside(when), is_bare=True)]
        return max((width_of(text, SMALL) for text in words), default=0.0) + 2 * EDGE
    texts = [
        width_of(line.text, TITLE if line.is_title else SMALL, bold=line.is_title)
        + (LINE if line.load else 0.0)
        for when in WHENS
        for line in lines_of(outline.inside(when))
    ]
    return max(*texts, 2 * _marks_width(outline) + 2.0, 14.0) + 2 * EDGE


def ends_on(graph: Graph) -> Mapping[tuple[str, str], list[tuple[int, int]]]:
    """Numbers of the legs, and which of their ends, at each slot of each outline."""
    found: dict[tuple[str, str], list[tuple[int, int]]] = {}
    for number, leg in enumerate(graph.legs):
        for end, hook in enumerate(leg.ends):
            found.setdefault((hook.outline, hook.slot), []).append((number, end))
    return found
