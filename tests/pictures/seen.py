"""What an eye finds in the SVG of a picture: wires, terminals, outlines, words, and where they lie in mm."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from xml.etree import ElementTree

from planner.pictures.text import width_of

_SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


@dataclass(frozen=True)
class Area:
    """A rectangle."""

    x: float
    y: float
    width: float
    height: float

    def has(self, point: Point, slack: float = 0.02) -> bool:
        """Whether a point lies in it or on its edge."""
        x, y = point
        in_x = self.x - slack <= x <= self.x + self.width + slack
        return in_x and self.y - slack <= y <= self.y + self.height + slack

    def within(self, other: "Area") -> bool:
        """Whether it lies wholly in another."""
        return other.has((self.x, self.y)) and other.has((self.x + self.width, self.y + self.height))

    def meets(self, other: "Area", slack: float = 0.05) -> bool:
        """Whether the two have more in common than an edge."""
        return (
            self.x + slack < other.x + other.width
            and other.x + slack < self.x + self.width
            and self.y + slack < other.y + other.height
            and other.y + slack < self.y + self.height
        )


@dataclass
class Seen:
    """All of a picture."""

    page: Area
    wires: list[tuple[str, int, list[Point]]] = field(default_factory=list)
    terminals: dict[str, Area] = field(default_factory=dict)
    outlines: list[tuple[str, Area]] = field(default_factory=list)
    words: list[tuple[str, Area, bool]] = field(default_factory=list)  # and whether they stand in an outline
    loads: set[str] = field(default_factory=set)


def seen(svg: str) -> Seen:
    """Look at a document; one that is no XML raises."""
    root = ElementTree.fromstring(svg)
    width, height = (float(value) for value in root.attrib["viewBox"].split()[2:])
    found = Seen(Area(0, 0, width, height))
    _look(root, (0.0, 0.0), found, in_place=False)
    return found


def _look(element: ElementTree.Element, shift: Point, found: Seen, *, in_place: bool) -> None:
    if "transform" in element.attrib:
        x, y = element.attrib["transform"].removeprefix("translate(").removesuffix(")").split()
        shift = shift[0] + float(x), shift[1] + float(y)
    if "data-wire" in element.attrib:
        path = next(element.iter(f"{_SVG}path"))
        points = [(x + shift[0], y + shift[1]) for x, y in _points(path.attrib["d"])]
        found.wires.append((element.attrib["data-wire"], int(element.attrib["data-leg"]), points))
        return
    if "data-load" in element.attrib:
        found.loads.add(element.attrib["data-load"])
    for name, kept in (("data-terminal", found.terminals), ("data-place", None)):
        if name in element.attrib:
            rect = next((each for each in element if each.tag == f"{_SVG}rect"), None)
            if rect is not None and kept is not None:
                kept[element.attrib[name]] = _area(rect, shift)
            elif rect is not None:
                found.outlines.append((element.attrib[name], _area(rect, shift)))
            in_place = True
    if element.tag == f"{_SVG}text":
        found.words.append((element.text or "", _area_of_words(element, shift), in_place))
    for child in element:
        _look(child, shift, found, in_place=in_place)


def _points(path: str) -> Iterator[Point]:
    for pair in path.removeprefix("M").removesuffix("Z").split("L"):
        x, y = pair.split()
        yield float(x), float(y)


def _area(rect: ElementTree.Element, shift: Point) -> Area:
    x, y, width, height = (float(rect.attrib[name]) for name in ("x", "y", "width", "height"))
    return Area(x + shift[0], y + shift[1], width, height)


def _area_of_words(text: ElementTree.Element, shift: Point) -> Area:
    """The room of a text: as wide as the widest usual font makes it, from its capitals to its base line."""
    size = float(text.attrib["font-size"])
    width = width_of(text.text or "", size, bold=text.attrib.get("font-weight") == "bold")
    x, y = float(text.attrib["x"]) + shift[0], float(text.attrib["y"]) + shift[1]
    x -= {"start": 0.0, "middle": width / 2, "end": width}[text.attrib.get("text-anchor", "start")]
    return Area(x, y - 0.74 * size, width, 0.74 * size)
