"""A picture's SVG, as it may stand inside a page: shapes and words, and nothing that runs or loads."""

from xml.etree import ElementTree

_SPACE = "{http://www.w3.org/2000/svg}"
_FITS_MM = 120.0
_SHAPES = frozenset(
    ("svg", "g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "tspan")
)


def drawn(svg: str) -> str:
    """The drawing without title, style, script and links; its words stand beside it as text."""
    root = ElementTree.fromstring(svg)
    _clean(root)
    for name in ("width", "height"):
        root.attrib.pop(name, None)  # as wide as there is room for
    root.set("aria-hidden", "true")
    if _width(root) > _FITS_MM:
        root.set("class", "large")  # too small to read if it were as wide as a phone
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
