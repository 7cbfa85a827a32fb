"""Gives every outline, terminal, leg and label of a graph its place, in mm.

Two layouts: the first, with one port a terminal, finds on which side of its outline and in which order each
terminal is best; the second, with one port a wire end, keeps to that and draws the wires. Where wires cross,
it is made once more with their ends in a better order.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf
from typing import Any

from planner.pictures.direction import gathered
from planner.pictures.graph import Graph, Leg, Outline
from planner.pictures.layered import lay_out
from planner.pictures.sides import OPTIONS, Side, SideOrder, ends_of, orders, rough_graph
from planner.pictures.sizes import PITCH, TAB, head_height, label_size, outline_width
from planner.pictures.svg import Point
from planner.pictures.untangle import crossings, untangled

Flow = Sequence[bool]  # of each leg, whether it is drawn from its last end to its first
Sides = Sequence[tuple[SideOrder, SideOrder]]
Size = tuple[float, float]  # width and height, mm
_PAGEFUL = 60  # legs; what has more is not drawn in one picture


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle by its upper left corner."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Tab:
    """Where a terminal stands out of its outline."""

    slot: str
    side: Side
    box: Box


@dataclass(frozen=True, slots=True)
class Arranged:
    """A graph with places; legs and labels are in the order of its legs."""

    graph: Graph
    width: float
    height: float
    outlines: Mapping[str, Box]
    tabs: Mapping[str, tuple[Tab, ...]]  # by outline
    legs: tuple[tuple[Point, ...], ...]
    labels: tuple[Box, ...]


def arrange(
    graphs: Sequence[Graph],
    room: Size = (inf, inf),
    way: Callable[[Graph], Flow] = gathered,
    *,
    through: bool = True,
) -> dict[int, Arranged]:
    """Lay out some graphs, by their number; those that there is no room for are left out.

    ``way`` says which way the legs of a graph go, ``through`` whether wires go in at one side of a joiner and
    out at the other.

    All of them in one go, which costs less than one after another. What is too large already without the
    words of its wires is not laid out with them.
    """
    flows = [way(graph) for graph in graphs]
    first = lay_out([rough_graph(graph, turned) for graph, turned in zip(graphs, flows, strict=True)])
    small = (n for n, laid in enumerate(first) if _has_room(laid["width"], laid["height"], room))
    ordered = {n: orders(graphs[n], flows[n], first[n], through=through) for n in small}
    drawn = _drawn(graphs, flows, ordered)
    found = {n: each for n, each in drawn.items() if _has_room(each.width, each.height, room)}
    counts = {n: crossings(each.graph, each.legs) for n, each in found.items() if len(each.legs) <= _PAGEFUL}
    again = {
        n: sides
        for n, count in counts.items()
        if count and (sides := untangled(graphs[n], ordered[n], found[n].legs)) != ordered[n]
    }
    for n, other in _drawn(graphs, flows, again).items():
        is_better = crossings(other.graph, other.legs) < counts[n]
        if is_better and _has_room(other.width, other.height, room):
            found[n] = other
    return found


def _has_room(width: float, height: float, room: Size) -> bool:
    return width <= room[0] and height <= room[1]


def _drawn(
    graphs: Sequence[Graph], flows: Sequence[Flow], ordered: Mapping[int, Sides]
) -> dict[int, Arranged]:
    """The second layout of some of the graphs."""
    laid = lay_out([_exact(graphs[n], flows[n], sides) for n, sides in ordered.items()])
    return {
        n: _placed(graphs[n], flows[n], sides, each)
        for (n, sides), each in zip(ordered.items(), laid, strict=True)
    }


def _size(outline: Outline, sides: tuple[SideOrder, SideOrder]) -> tuple[float, float]:
    """Width and height of an outline with the terminals that stand out of it."""
    rows = max(side.rows for side in sides)
    if outline.kind != "part":
        return outline_width(outline), max(head_height(outline), rows * PITCH)
    return outline_width(outline) + 2 * TAB, head_height(outline) + rows * PITCH + 0.8


def _tabs(
    outline: Outline, sides: tuple[SideOrder, SideOrder]
) -> tuple[list[Tab], dict[tuple[int, int], Point]]:
    """The terminals of an outline from its own corner, and where each wire end is on them."""
    width, _ = _size(outline, sides)
    tabs: list[Tab] = []
    ends: dict[tuple[int, int], Point] = {}
    for order in sides:
        at_left = order.side == "left"
        y = head_height(outline) if outline.kind == "part" else 0.0
        for slot, on in order.slots:
            rows = max(1, len(on))  # of wires that are there in one loom
            box = Box(0.0 if at_left else width - TAB, y + 0.6, TAB, rows * PITCH - 1.2)
            tabs.append(Tab(slot, order.side, box))
            for row, shared in enumerate(on):
                at = 0.0 if at_left else width, y + (row + 0.5) * PITCH
                ends.update(dict.fromkeys(shared, at))
            y += rows * PITCH
    return tabs, ends


def _exact(graph: Graph, flows: Flow, ordered: Sides) -> dict[str, Any]:
    """The graph with one port a wire end, each in its place, and with the words of every leg."""
    nodes = []
    for n, (outline, sides) in enumerate(zip(graph.outlines, ordered, strict=True)):
        width, height = _size(outline, sides)
        _, ends = _tabs(outline, sides)
        ports = [
            {
                "id": f"p{leg}.{end}",
                "x": x,
                "y": y,
                "layoutOptions": {"elk.port.side": "EAST" if x else "WEST"},
            }
            for (leg, end), (x, y) in ends.items()
        ]
        options = {"elk.portConstraints": "FIXED_POS"}
        nodes.append(
            {"id": f"n{n}", "width": width, "height": height, "ports": ports, "layoutOptions": options}
        )
    edges = []
    for n, (leg, turned) in enumerate(zip(graph.legs, flows, strict=True)):
        width, height = label_size(leg)
        options = {"elk.edgeLabels.inline": "true"} if _has_notes(leg) else {}
        label = {"id": f"l{n}", "text": "-", "width": width, "height": height, "layoutOptions": options}
        edges.append({"id": f"e{n}", **ends_of(turned, f"p{n}.0", f"p{n}.1"), "labels": [label]})
    return {"id": "g", "layoutOptions": OPTIONS, "children": nodes, "edges": edges}


def _has_notes(leg: Leg) -> bool:
    return any(look is not None and look.notes for look in (leg.before, leg.after))


def _placed(graph: Graph, flows: Flow, ordered: Sides, laid: dict[str, Any]) -> Arranged:
    """What the second layout found."""
    boxes, tabs = {}, {}
    for outline, sides, node in zip(graph.outlines, ordered, laid["children"], strict=True):
        x, y = node["x"], node["y"]
        boxes[outline.key] = Box(x, y, node["width"], node["height"])
        tabs[outline.key] = tuple(
            replace(tab, box=replace(tab.box, x=tab.box.x + x, y=tab.box.y + y))
            for tab in _tabs(outline, sides)[0]
        )
    legs, labels = [], []
    for turned, edge in zip(flows, laid["edges"], strict=True):
        (section,) = edge["sections"]
        points = [section["startPoint"], *section.get("bendPoints", ()), section["endPoint"]]
        way = _squared([(point["x"], point["y"]) for point in points])
        legs.append(tuple(reversed(way) if turned else way))
        (label,) = edge["labels"]
        labels.append(Box(label["x"], label["y"], label["width"], label["height"]))
    return Arranged(graph, laid["width"], laid["height"], boxes, tabs, tuple(legs), tuple(labels))


def _squared(points: Sequence[Point]) -> list[Point]:
    """The way with right angles only: a leg that turns back at its outline comes with a slight slant."""
    way = [points[0]]
    for x, y in points[1:]:
        was_x, was_y = way[-1]
        if x != was_x and y != was_y:
            middle = (was_x + x) / 2
            way += [(middle, was_y), (middle, y)]
        way.append((x, y))
    return way
