"""Writes SVG: plain shapes and texts in millimetres, every word escaped."""

from collections.abc import Mapping, Sequence
from typing import Literal
from xml.sax.saxutils import escape

from planner.pictures.text import clean

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
FONT = "Arial, Helvetica, 'Liberation Sans', 'DejaVu Sans', sans-serif"
INK, PAPER, FAINT = "#111111", "#ffffff", "#555555"


def number(value: float) -> str:
    """A length to a hundredth of a millimetre, in the shortest form."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


class Drawing:
    """A document in the making; what is drawn later lies on top."""

    def __init__(self, width: float, height: float, title: str, words: str) -> None:
        self.width, self.height = width, height
        self._title, self._words = title, words
        self._parts: list[str] = []

    def open(self, **data: str) -> None:
        """Begin a group with ``data-`` attributes: ``open(wire="W1")`` writes data-wire."""
        self._parts.append(f"<g{_attributes({f'data-{k}': v for k, v in data.items()})}>")

    def close(self) -> None:
        """End the group."""
        self._parts.append("</g>")

    def shift(self, x: float, y: float) -> None:
        """Begin a group that lies so far to the right and down."""
        self._parts.append(f'<g transform="translate({number(x)} {number(y)})">')

    def shift_back(self) -> None:
        """End that group."""
        self._parts.append("</g>")

    def rect(self, x: float, y: float, width: float, height: float, **look: str | float) -> None:
        """A rectangle by its upper left corner."""
        self._shape("rect", {"x": x, "y": y, "width": width, "height": height}, look)

    def circle(self, at: Point, radius: float, **look: str | float) -> None:
        """A circle."""
        self._shape("circle", {"cx": at[0], "cy": at[1], "r": radius}, look)

    def line(self, points: Sequence[Point], **look: str | float) -> None:
        """A line through points, not filled."""
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
        self._shape("path", {"d": path, "fill": "none"}, look)

    def area(self, points: Sequence[Point], **look: str | float) -> None:
        """A closed shape through points."""
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"
        self._shape("path", {"d": path}, look)

    def text(
        self,
        at: Point,
        words: str,
        size: float,
        anchor: Anchor = "start",
        *,
        bold: bool = False,
        ink: str = INK,
    ) -> None:
        """A text on its base line; it is cleaned here once more, whatever it went through before."""
        look: dict[str, str | float] = {"x": at[0], "y": at[1], "font-size": size, "fill": ink}
        if anchor != "start":
            look["text-anchor"] = anchor
        if bold:
            look["font-weight"] = "bold"
        self._parts.append(f"<text{_attributes(look)}>{escape(clean(words))}</text>")

    def document(self) -> str:
        """The whole document."""
        width, height = number(self.width), number(self.height)
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{width}mm" height="{height}mm"'
            f' viewBox="0 0 {width} {height}" font-family="{FONT}">'
        )
        about = f"<title>{escape(clean(self._title))}</title><desc>{escape(clean(self._words, 4000))}</desc>"
        paper = f'<rect x="0" y="0" width="{width}" height="{height}" fill="{PAPER}"/>'
        return "\n".join((head, about, paper, *self._parts, "</svg>")) + "\n"

    def _shape(self, name: str, place: Mapping[str, str | float], look: Mapping[str, str | float]) -> None:
        self._parts.append(f"<{name}{_attributes({**place, **look})}/>")


def _attributes(values: Mapping[str, str | float]) -> str:
    return "".join(
        f' {key.replace("_", "-")}="{_value(value)}"' for key, value in values.items() if value != ""
    )


def _value(value: str | float) -> str:
    if isinstance(value, str):
        shown = value if value.isprintable() else "".join(filter(str.isprintable, value))
        return escape(shown, {'"': "&quot;"})
    return number(value)
