"""How a wire is drawn: its base colour with a dark rim, so that white shows, and its tracer on top."""

from collections.abc import Sequence
from itertools import pairwise

from planner.pictures.svg import PAPER, Drawing, Point

# What the colours of IEC 60757 look like on paper; chosen, as in the catalogue's table of colours.
HUES = {
    "BK": "#111111",
    "BN": "#7A4A21",
    "RD": "#D22B2B",
    "OG": "#F28C1E",
    "YE": "#F5D90A",
    "GN": "#2E9B4F",
    "BU": "#2B62C9",
    "VT": "#7B3FA0",
    "GY": "#8C8F94",
    "WH": "#FAFAFA",
    "PK": "#F49AB8",
    "GD": "#C9A227",
    "TQ": "#2BB8B0",
    "SR": "#C0C4C8",
}
_RIM = "#333333"
_PLAIN_MM, _HEAVY_MM, _RIM_MM, _GAP_MM = 0.9, 1.5, 0.3, 0.4
_MARK_EVERY_MM, _MARK_MM = 9.0, 1.5


def draw_wire(drawing: Drawing, points: Sequence[Point], colour: str, *, changed: bool) -> None:
    """A wire along points; one that changed is heavier and crossed by short bars all along."""
    base, _, tracer = ("GN", "", "YE") if colour == "GNYE" else colour.partition("/")
    width = _HEAVY_MM if changed else _PLAIN_MM
    join = {"stroke_linejoin": "round"}
    # What lies below is cut where a wire crosses it, so that two of one colour cannot be taken for a joint.
    drawing.line(points, stroke=PAPER, stroke_width=width + 2 * (_RIM_MM + _GAP_MM), **join)
    drawing.line(points, stroke=_RIM, stroke_width=width + 2 * _RIM_MM, **join)
    drawing.line(points, stroke=HUES[base], stroke_width=width, **join)
    if tracer:
        drawing.line(
            points, stroke=HUES[tracer], stroke_width=width * 0.5, stroke_dasharray="2.2 1.4", **join
        )
    if changed:
        for bar in _bars(points):
            drawing.line(bar, stroke="#000000", stroke_width=0.35)


def _bars(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Pairs of short bars across a line, evenly along it and clear of its bends."""
    bars: list[tuple[Point, Point]] = []
    for (x, y), (to_x, to_y) in pairwise(points):
        length = abs(to_x - x) + abs(to_y - y)
        count = int(length // _MARK_EVERY_MM) or (1 if length > 2 * _MARK_MM else 0)
        for n in range(count):
            share = (n + 0.5) / count
            for beside in (-0.35, 0.35):
                along = share + beside / length
                at_x, at_y = x + (to_x - x) * along, y + (to_y - y) * along
                across, down = (0.0, _MARK_MM) if y == to_y else (_MARK_MM, 0.0)
                bars.append(((at_x - across, at_y - down), (at_x + across, at_y + down)))
    return bars
