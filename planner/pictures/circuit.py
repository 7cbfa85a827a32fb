"""Draws a circuit as it is before the work or after it, on the coordinates that both share."""

from collections.abc import Collection

from planner.pictures.arrange import Arranged, Box
from planner.pictures.graph import Inside, Outline, When
from planner.pictures.heading import HEAD, MARGIN, draw_title, head_of, title_lines
from planner.pictures.sizes import (
    EDGE,
    LINE,
    NAME_GAP,
    NOTE_GAP,
    SMALL,
    TAB,
    TITLE,
    Line,
    label_lines,
    lines_of,
    mark_width,
    mark_words,
)
from planner.pictures.svg import FAINT, INK, PAPER, Anchor, Drawing
from planner.pictures.text import fit, wrap
from planner.pictures.wire_look import draw_wire

LEAST_WIDTH = 150.0
_FOOT_LINE = 3.6
# What both an A4 and a letter page take, laid across, with a heading, if it is made smaller by a quarter.
PAGE_MM = (328.0, 204.0)
# What is left of it for a graph between margins, a head, and four lines below.
ROOM_MM = (PAGE_MM[0] - 2 * MARGIN, PAGE_MM[1] - 2 * MARGIN - HEAD - 4 * _FOOT_LINE - 2.0)
_SWAPPED = "#eeeeee"


def draw_circuit(
    arranged: Arranged, when: When, title: str, words: str, foot: tuple[str, ...] = ()
) -> Drawing:
    """One picture; ``foot`` are lines below it."""
    width = max(arranged.width, LEAST_WIDTH) + 2 * MARGIN
    foot = tuple(line for text in foot for line in wrap(text, SMALL, width - 2 * MARGIN, 3))
    titles = title_lines(title, width)
    used = {hook.outline for leg in arranged.graph.legs if leg.look(when) for hook in leg.ends}
    top, bottom = _extent(arranged, when, used)
    height = bottom - top + 2 * MARGIN + head_of(titles) + _FOOT_LINE * len(foot) + 2.0
    drawing = Drawing(width, height, title, words)
    draw_title(drawing, titles)
    drawing.shift(MARGIN, MARGIN + head_of(titles) - top)
    for leg, points in zip(arranged.graph.legs, arranged.legs, strict=True):
        look = leg.look(when)
        if look is not None:
            drawing.open(wire=leg.wire, leg=str(leg.leg))
            draw_wire(drawing, points, look.colour, changed=bool(look.notes))
            drawing.close()
    for outline in arranged.graph.outlines:
        inside = outline.inside(when)
        if inside is not None and (outline.is_swapped or outline.key in used):
            _draw_outline(drawing, arranged, outline, inside, when)
    for leg, points, box in zip(arranged.graph.legs, arranged.legs, arranged.labels, strict=True):
        _draw_label(drawing, box, label_lines(leg, when, turned=points[0][0] > points[-1][0]))
    drawing.shift_back()
    for number, line in enumerate(foot):
        y = height - MARGIN - (len(foot) - 1 - number) * _FOOT_LINE
        drawing.text((MARGIN, y), fit(line, SMALL, width - 2 * MARGIN), SMALL, ink=FAINT)
    return drawing


def _extent(arranged: Arranged, when: When, used: Collection[str]) -> tuple[float, float]:
    """From where to where one of the two pictures has anything: the room for what only the other has goes."""
    shown = [
        arranged.outlines[outline.key]
        for outline in arranged.graph.outlines
        if outline.inside(when) is not None and (outline.is_swapped or outline.key in used)
    ]
    legs = list(zip(arranged.graph.legs, arranged.legs, arranged.labels, strict=True))
    heights = [y for box in shown for y in (box.y, box.y + box.height)]
    heights += [y for leg, points, _ in legs if leg.look(when) for _, y in points]
    for leg, _, label in legs:
        at = _lines_at(label, label_lines(leg, when))
        heights += [at[0] - SMALL, at[-1] + 0.4 * SMALL] if at else []
    return min(heights, default=0.0), max(heights, default=0.0)


def _lines_at(box: Box, lines: tuple[str, ...]) -> list[float]:
    """How far down each line of a label stands: the wire's name above it, what happens to it below."""
    if not lines:
        return []
    has_notes = box.height > LINE + NAME_GAP
    wire_y = box.y + (box.height / 2 if has_notes else box.height)
    first = wire_y + NOTE_GAP + 0.92 * SMALL  # clear of the bars across the wire, on paper too
    name = wire_y - (NOTE_GAP if has_notes else NAME_GAP) - 0.3
    return [name, *(first + number * LINE for number in range(len(lines) - 1))]


def _draw_label(drawing: Drawing, box: Box, lines: tuple[str, ...]) -> None:
    middle = box.x + box.width / 2
    for number, (text, y) in enumerate(zip(lines, _lines_at(box, lines), strict=True)):
        drawing.text((middle, y), text, SMALL, "middle", bold=number > 0)


def _draw_outline(drawing: Drawing, arranged: Arranged, outline: Outline, inside: Inside, when: When) -> None:
    box = arranged.outlines[outline.key]
    if outline.kind in ("earth", "loose", "unknown"):
        _draw_end(drawing, box, outline, inside)
        return
    drawing.open(place=outline.address)
    part = outline.kind == "part"
    edge = TAB if part else 0.0
    drawing.rect(
        box.x + edge,
        box.y,
        box.width - 2 * edge,
        box.height,
        fill=_SWAPPED if outline.is_swapped else PAPER,
        stroke=INK,
        stroke_width=0.8 if outline.is_swapped else 0.35,
    )
    y = box.y + 0.6
    for line in lines_of(inside, is_bare=not part):
        y += LINE
        _draw_line(drawing, outline.address, box.x + edge + EDGE, y - 0.8, line)
    if part:
        _draw_terminals(drawing, arranged, outline, when)
    drawing.close()


def _draw_line(drawing: Drawing, address: str, x: float, y: float, line: Line) -> None:
    if line.load:
        drawing.open(load=f"{address}/{line.load}")
        drawing.circle((x + 1.1, y - 0.9), 1.1, fill=PAPER, stroke=INK, stroke_width=0.25)
        if line.is_lamp:
            for lean in (-0.78, 0.78):
                cross = ((x + 1.1 - 0.78, y - 0.9 - lean), (x + 1.1 + 0.78, y - 0.9 + lean))
                drawing.line(cross, stroke=INK, stroke_width=0.25)
        drawing.close()
        x += LINE
    drawing.text((x, y), line.text, TITLE if line.is_title else SMALL, bold=line.is_title)


def _draw_terminals(drawing: Drawing, arranged: Arranged, outline: Outline, when: When) -> None:
    slots = {slot.key: slot for slot in outline.slots}
    for tab in arranged.tabs[outline.key]:
        mark = slots[tab.slot].mark(when)
        if mark is None:
            continue
        drawing.open(terminal=f"{outline.address}:{mark}")
        drawing.rect(
            tab.box.x, tab.box.y, tab.box.width, tab.box.height, fill=PAPER, stroke=INK, stroke_width=0.3
        )
        y = tab.box.y + tab.box.height / 2 + SMALL * 0.36
        text, fuse = mark_words(outline, slots[tab.slot], when)
        is_left = tab.side == "left"
        anchor: Anchor = "start" if is_left else "end"
        x = tab.box.x + TAB + 1.0 if is_left else tab.box.x - 1.0
        drawing.text((x, y), text, SMALL, anchor, bold=True)
        if fuse:
            x += mark_width(text) if is_left else -mark_width(text)
            drawing.text((x, y), fuse, SMALL, anchor)
        drawing.close()


def _draw_end(drawing: Drawing, box: Box, outline: Outline, inside: Inside) -> None:
    """The body, or the end of a wire that goes nowhere."""
    drawing.open(place=outline.address)
    drawing.rect(box.x, box.y, box.width, box.height, fill=PAPER, stroke=FAINT, stroke_width=0.2)
    for n, line in enumerate(lines_of(inside, is_bare=True)):
        drawing.text((box.x + EDGE, box.y + (n + 1) * LINE - 0.4), line.text, SMALL)
    drawing.close()
