"""A picture's SVG, as it may stand inside a page: shapes and words, and nothing that runs or loads."""

from math import ceil
from xml.etree import ElementTree

_SPACE = "{http://www.w3.org/2000/svg}"
_PIXELS_A_MM = 4.6  # letters of 2.6 mm are then 12 pixels high
_STEP_MM = 50
_SHAPES = frozenset(
    ("svg", "g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "tspan")
)


def drawn(svg: str) -> str:
    """The drawing without title, style, script and links; its words stand beside it as text."""
    root = ElementTree.fromstring(svg)
    _clean(root)
    for name in ("width", "height"):
        root.attrib.pop(name, None)
    root.set("aria-hidden", "true")
    width = _width(root)
    if width:
        root.set("width", f"{width * _PIXELS_A_MM:.0f}")
        root.set("class", f"mm-{ceil(width / _STEP_MM) * _STEP_MM}")  # how narrow it may get
    ElementTree.register_namespace("", _SPACE[1:-1])
    return ElementTree.tostring(root, encoding="unicode")


def _width(root: ElementTree.Element) -> float:
    """In mm, as the drawing's own coordinates are."""
    try:
        return float(root.get("viewBox", "").split()[2])
    except (IndexError, ValueError):
        return 0.0


def _clean(element: ElementTree.Element) -> None:
    for name in list(element.attrib):
        if name.lower().startswith("on") or name in ("style", "id", "class", "href") or ":" in name:
            del element.attrib[name]
    for child in list(element):
        if not isinstance(child.tag, str) or child.tag.removeprefix(_SPACE) not in _SHAPES:
            element.remove(child)
        else:
            _clean(child)
