"""Draws the terminals of a place as one sees them, and which wire end sits on which."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from planner.messages import later, tr
from planner.model.face import Face, face_of
from planner.model.picture import Picture, PictureWhen, Side
from planner.pictures.graph import WHENS, When
from planner.pictures.heading import MARGIN, draw_title, head_of, title_lines
from planner.pictures.insides import part_at
from planner.pictures.sitting import TIED_BACK, Cell, cells_of
from planner.pictures.sizes import LINE, SMALL, TITLE
from planner.pictures.svg import FAINT, INK, PAPER, Drawing
from planner.pictures.text import clean, fit, width_of, wrap
from planner.pictures.union import Looms
from planner.pictures.wire_look import draw_wire

_SEEN: Mapping[Side, str] = MappingProxyType(
    {
        "wiring": later("Seen from its wiring side."),
        "other": later("Seen from its other side."),
    }
)
_TITLES: Mapping[PictureWhen, str] = MappingProxyType(
    {
        "before": later("Before: {place}"),
        "after": later("After: {place}"),
        "both": later("Wires alike before and after: {place}"),
    }
)
_HEAVY = later("Heavy frame: something changes there.")
_HEAVY_MM, _FRAME_MM = 0.9, 0.3
_MANY = 10  # terminals: drawn one and all they take a page laid across
_HEAD, _GAP, _PAD = 4.5, 5.0, 1.5
_BELOW_WIRE = 0.8  # between a wire with its bars and the words below it
_MOST_WIDTH, _LEAST_CELL, _WIDEST_CELL = 280.0, 24.0, 48.0


@dataclass(frozen=True, slots=True)
class _Block:
    """Cells in columns and rows, with a line above them."""

    above: str
    cells: Mapping[tuple[int, int], Cell]
    columns: int
    is_face: bool  # where they stand is where they sit


def draw_places(
    looms: Looms, place: str, side: Side = "wiring", *, in_part: bool = False
) -> Iterator[Picture]:
    """Yield the pictures of a place: before and after the work, or one where all its wires stay.

    ``in_part``: of many terminals only those at which something changes; for a part that stays.
    """
    seen = {when: blocks for when in WHENS if (blocks := _seen(looms, place, when, side))}
    if in_part:
        seen = {when: _changed_only(blocks) for when, blocks in seen.items()}
    if len(seen) == len(WHENS) and seen["before"] == seen["after"]:
        yield _picture(looms, place, "both", seen["after"])
    else:
        for when, blocks in seen.items():
            yield _picture(looms, place, when, blocks)


def _seen(looms: Looms, place: str, when: When, side: Side) -> list[_Block]:
    """The terminals of a place in one loom as one sees them; none where that loom has no such place."""
    loom = looms.of(when)
    part = part_at(loom, looms.catalogue, place)
    if part is None:
        return []
    face = face_of(part)
    known = (*face.marks.values(), *face.beside)
    # A wire may also be on what the mounting connects, such as a case.
    others = dict.fromkeys(mark for _, _, mark in loom.ends_of_place(place) if mark not in known)
    face = replace(face, beside=(*face.beside, *others))
    return _blocks(face, cells_of(looms, place, (*face.marks.values(), *face.beside), when), side)


def _picture(looms: Looms, place: str, when: PictureWhen, blocks: list[_Block]) -> Picture:
    loom = looms.of("before" if when == "before" else "after")
    part = part_at(loom, looms.catalogue, place)
    assert part is not None
    title = clean(tr(_TITLES[when]).format(place=loom.place_title(place)), 200)
    cells = [cell for block in blocks for cell in block.cells.values()]
    words = clean(" ".join(cell.words for cell in cells), 4000)
    drawing = _drawn(place, title, part.title, words, blocks)
    name = f"place-{place.replace('.', '-')}-{when}"
    return Picture(
        name, "place", title, when, place, words, drawing.document(), drawing.width, drawing.height
    )


def _blocks(face: Face, cells: Mapping[str, Cell], side: Side) -> list[_Block]:
    blocks = []
    if face.marks:
        turned = {
            (face.columns - 1 - column if side == "other" else column, row): cells[mark]
            for (column, row), mark in face.marks.items()
        }
        blocks.append(_Block(tr(_SEEN[side]), turned, face.columns, is_face=True))
    rest = [cells[mark] for mark in face.beside]
    if rest:
        above = (
            tr("Beside them, in no order.") if face.marks else tr("In no order: where they sit is not known.")
        )
        blocks.append(_rows(above, rest))
    if TIED_BACK in cells:
        blocks.append(_rows(tr("Off the part."), [cells[TIED_BACK]]))
    return blocks


def _changed_only(blocks: list[_Block]) -> list[_Block]:
    """The terminals at which something changes, where there are many others; they are told by their marks."""
    cells = [cell for block in blocks for cell in block.cells.values()]
    changed = [cell for cell in cells if cell.is_changed]
    if len(cells) < _MANY or not changed:
        return blocks
    above = tr("Of its {count} terminals only those at which something changes.", count=len(cells))
    return [_rows(above, changed)]


def _rows(above: str, cells: list[Cell]) -> _Block:
    across = int(_MOST_WIDTH // _WIDEST_CELL)
    placed = {(number % across, number // across): cell for number, cell in enumerate(cells)}
    return _Block(above, placed, min(across, len(cells)), is_face=False)


def _drawn(place: str, title: str, part: str, words: str, blocks: list[_Block]) -> Drawing:
    """The blocks one under the other."""
    widths = [_cell_width(block) for block in blocks]
    heights = [_row_heights(block, width) for block, width in zip(blocks, widths, strict=True)]
    across = max((w * block.columns for w, block in zip(widths, blocks, strict=True)), default=0.0)
    width = max(110.0, across) + 2 * MARGIN
    titles, room = title_lines(title, width), width - 2 * MARGIN
    heads = [wrap(_above(block), SMALL, room, 3) for block in blocks]
    down = sum(sum(rows) + len(head) * LINE + _GAP for rows, head in zip(heights, heads, strict=True))
    y = MARGIN + head_of(titles)
    parts = wrap(part, TITLE, room, 3)
    drawing = Drawing(width, y + _HEAD + (len(parts) - 1) * LINE + down, title, words)
    draw_title(drawing, titles)
    for n, line in enumerate(parts):
        drawing.text((MARGIN, y - 1.0 + n * LINE), line, TITLE)
    y += _HEAD + (len(parts) - 1) * LINE
    for block, cell_width, rows, head in zip(blocks, widths, heights, heads, strict=True):
        is_mixed = _is_mixed(block)
        for n, line in enumerate(head):
            drawing.text((MARGIN, y + n * LINE), line, SMALL, ink=FAINT)
        y += (len(head) - 1) * LINE
        y += LINE * 0.6 + (1.0 if block.is_face else 0.0)
        if block.is_face:
            frame = cell_width * block.columns + 2, sum(rows) + 2
            drawing.rect(MARGIN - 1, y - 1, *frame, fill="#eeeeee", stroke=INK, stroke_width=0.8)
        # Heavy frames lie on top of those beside them.
        for (column, row), cell in sorted(block.cells.items(), key=lambda each: each[1].is_changed):
            x, top = MARGIN + column * cell_width, y + sum(rows[:row])
            thick = _HEAVY_MM if is_mixed and cell.is_changed else _FRAME_MM
            _draw_cell(drawing, place, cell, (x, top), (cell_width, rows[row]), thick)
        y += sum(rows) + _GAP + LINE * 0.4
    return drawing


def _is_mixed(block: _Block) -> bool:
    """Whether something changes at some terminals only: where all change, a frame would say nothing."""
    return len({cell.is_changed for cell in block.cells.values()}) > 1


def _above(block: _Block) -> str:
    return f"{block.above} {tr(_HEAVY)}" if _is_mixed(block) else block.above


def _cell_width(block: _Block) -> float:
    """As wide as the longest words of its cells, within bounds."""
    texts = [(text, bold) for cell in block.cells.values() for text, bold in _texts(cell)]
    longest = max((width_of(text, SMALL, bold=bold) for text, bold in texts), default=0.0) + 2 * _PAD
    return max(_LEAST_CELL, min(longest, _WIDEST_CELL, _MOST_WIDTH / block.columns))


def _texts(cell: Cell) -> list[tuple[str, bool]]:
    ends = [each for end in cell.ends for each in ((end.name, False), (end.leads, False))]
    notes = [(note, True) for end in cell.ends for note in end.notes]
    return [(f"{cell.mark}  {cell.fuse}", True), *ends, *notes, (cell.bare, False)]


def _fuse_is_beside(cell: Cell, room: float) -> bool:
    """Whether the fuse of a terminal finds room beside its mark; else it stands below."""
    mark = width_of(f"{cell.mark} ", TITLE, bold=True)
    return not cell.fuse or width_of(cell.fuse, SMALL) <= room - mark


def _lines(cell: Cell, room: float) -> list[tuple[str, bool, int]]:
    """The words of a cell under its mark: text, whether bold, the number of the end that it begins or -1."""
    lines: list[tuple[str, bool, int]] = []
    if not _fuse_is_beside(cell, room):
        lines += [(text, False, -1) for text in wrap(cell.fuse, SMALL, room, 3)]
    for number, end in enumerate(cell.ends):
        first, *rest = wrap(end.name, SMALL, room, 2)
        lines += [(first, False, number), *((text, False, -1) for text in rest)]
        lines += [(text, False, -1) for text in wrap(end.leads, SMALL, room, 3)]
        lines += [(text, True, -1) for note in end.notes for text in wrap(note, SMALL, room, 3, bold=True)]
    if cell.bare or cell.extra:
        lines += [(text, False, -1) for text in wrap(cell.bare or cell.extra, SMALL, room, 2)]
    return lines


def _row_heights(block: _Block, width: float) -> list[float]:
    rows = max((row for _, row in block.cells), default=-1) + 1
    heights = [LINE * 2.5] * rows
    for (_, row), cell in block.cells.items():
        lines = _lines(cell, width - 2 * _PAD)
        heights[row] = max(
            heights[row], LINE * (1.9 + len(lines) + len(cell.ends)) + _BELOW_WIRE * len(cell.ends)
        )
    return heights


def _draw_cell(
    drawing: Drawing,
    place: str,
    cell: Cell,
    corner: tuple[float, float],
    size: tuple[float, float],
    thick: float,
) -> None:
    """The mark, and for each end a length of its wire with the words under it."""
    (x, y), (width, height) = corner, size
    drawing.open(terminal=f"{place}:{cell.mark}")
    drawing.rect(x, y, width, height, fill=PAPER, stroke=INK, stroke_width=thick)
    y += LINE + 0.4
    mark = fit(cell.mark, TITLE, width - 2 * _PAD, bold=True)
    drawing.text((x + _PAD, y), mark, TITLE, bold=True)
    if cell.fuse and _fuse_is_beside(cell, width - 2 * _PAD):
        drawing.text((x + width - _PAD, y), cell.fuse, SMALL, "end")
    for text, bold, number in _lines(cell, width - 2 * _PAD):
        if number >= 0:
            end = cell.ends[number]
            y += LINE + _BELOW_WIRE
            drawing.open(wire=end.wire, leg=str(end.leg))
            at = y - 0.6 - _BELOW_WIRE
            stub = ((x + _PAD, at), (x + width - _PAD, at))
            draw_wire(drawing, stub, end.colour, changed=bool(end.notes))
            drawing.close()
        y += LINE
        drawing.text((x + _PAD, y), text, SMALL, bold=bold)
    drawing.close()
