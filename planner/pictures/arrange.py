"""Gives every outline, terminal, leg and label of a graph its place, in mm.

Two layouts: the first, with one port a terminal, finds on which side of its outline and in which order each
terminal is best; the second, with one port a wire end, keeps to that and draws the wires.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from planner.pictures.direction import flow
from planner.pictures.graph import Graph, Leg, Outline
from planner.pictures.layered import lay_out
from planner.pictures.sizes import (
    PITCH,
    TAB,
    ends_on,
    head_height,
    label_size,
    outline_width,
)
from planner.pictures.svg import Point

Side = Literal["left", "right"]
_OPTIONS = {
    "elk.algorithm": "layered",
    "elk.direction": "RIGHT",
    "elk.edgeRouting": "ORTHOGONAL",
    "elk.padding": "[top=0,left=0,bottom=0,right=0]",
    "elk.randomSeed": "1",
    "elk.aspectRatio": "1.4",
    "elk.spacing.componentComponent": 6.0,
    "elk.spacing.nodeNode": 4.0,
    "elk.spacing.edgeEdge": 2.6,
    "elk.spacing.edgeNode": 2.6,
    "elk.spacing.edgeLabel": 0.4,
    "elk.spacing.labelLabel": 1.0,
    "elk.layered.spacing.edgeEdgeBetweenLayers": 2.4,
    "elk.layered.spacing.edgeNodeBetweenLayers": 3.0,
    "elk.layered.spacing.nodeNodeBetweenLayers": 4.0,
    "elk.layered.nodePlacement.strategy": "BRANDES_KOEPF",
    "elk.layered.edgeLabels.sideSelection": "ALWAYS_UP",
    "elk.layered.thoroughness": "7",
}


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


@dataclass(frozen=True, slots=True)
class _Order:
    """The slots of an outline on one of its sides, top to bottom, each with its wire ends in order."""

    side: Side
    slots: tuple[tuple[str, tuple[tuple[int, int], ...]], ...]

    @property
    def rows(self) -> int:
        return sum(max(1, len(ends)) for _, ends in self.slots)


def arrange(graphs: Sequence[Graph]) -> list[Arranged]:
    """Lay out some graphs; all of them in one go, which costs less than one after another."""
    flows = [flow(graph) for graph in graphs]
    first = lay_out([_rough(graph, turned) for graph, turned in zip(graphs, flows, strict=True)])
    orders = [_orders(graph, laid) for graph, laid in zip(graphs, first, strict=True)]
    exact = [_exact(*three) for three in zip(graphs, flows, orders, strict=True)]
    second = lay_out(exact)
    return [_placed(*four) for four in zip(graphs, flows, orders, second, strict=True)]


def _ends(turned: bool, first: str, last: str) -> dict[str, list[str]]:
    source, target = (last, first) if turned else (first, last)
    return {"sources": [source], "targets": [target]}


def _rough(graph: Graph, flows: Sequence[bool]) -> dict[str, Any]:
    """The graph with a port for what comes into a terminal and one for what leaves it, each at its best side.

    One port for both makes the library fail in some graphs whose sides are free.
    """
    numbers = {outline.key: n for n, outline in enumerate(graph.outlines)}
    ports: list[dict[str, None]] = [{} for _ in graph.outlines]
    edges = []
    for n, (leg, turned) in enumerate(zip(graph.legs, flows, strict=True)):
        ids = []
        for end, hook in enumerate(leg.ends):
            number = numbers[hook.outline]
            slot = [slot.key for slot in graph.outlines[number].slots].index(hook.slot)
            ids.append(f"n{number}s{slot}{'o' if (end == 1) == turned else 'i'}")
            ports[number][ids[-1]] = None
        edges.append({"id": f"e{n}", **_ends(turned, *ids)})
    nodes = [
        {
            "id": f"n{n}",
            "width": outline_width(outline),
            "height": head_height(outline) + PITCH * max(1, len(outline.slots) / 2),
            "layoutOptions": {"elk.portConstraints": "FREE"},
            "ports": [{"id": port} for port in ports[n]],
        }
        for n, outline in enumerate(graph.outlines)
    ]
    return {"id": "g", "layoutOptions": _OPTIONS, "children": nodes, "edges": edges}


def _orders(graph: Graph, laid: dict[str, Any]) -> list[tuple[_Order, _Order]]:
    """On which side and in which order the slots of each outline are, as the first layout has them."""
    used = ends_on(graph)
    height: dict[tuple[str, str], tuple[bool, float]] = {}
    for outline, node in zip(graph.outlines, laid["children"], strict=True):
        for port in sorted(node.get("ports", ()), key=_is_incoming):  # where both are, what comes in decides
            slot = outline.slots[int(port["id"].partition("s")[2][:-1])]
            at_right = port["x"] > node["width"] / 2
            height[outline.key, slot.key] = at_right, node["y"] + port["y"]
    found = []
    for outline in graph.outlines:
        sides: dict[Side, list[tuple[float, str, tuple[tuple[int, int], ...]]]] = {"left": [], "right": []}
        for slot in outline.slots:
            key = outline.key, slot.key
            if key in used:
                at_right, y = height[key]

                def far(end: tuple[int, int]) -> float:
                    hook = graph.legs[end[0]].ends[1 - end[1]]
                    return height[hook.outline, hook.slot][1]

                sides["right" if at_right else "left"].append(
                    (y, slot.key, tuple(sorted(used[key], key=far)))
                )
        for slot in outline.slots:
            if (outline.key, slot.key) not in used:
                fewer: Side = "left" if len(sides["left"]) < len(sides["right"]) else "right"
                sides[fewer].append((float("inf"), slot.key, ()))
        found.append(
            (
                _Order("left", tuple((key, ends) for _, key, ends in sorted(sides["left"], key=_by_height))),
                _Order(
                    "right", tuple((key, ends) for _, key, ends in sorted(sides["right"], key=_by_height))
                ),
            )
        )
    return found


def _is_incoming(port: dict[str, Any]) -> bool:
    return str(port["id"]).endswith("i")


def _by_height(entry: tuple[float, str, object]) -> float:
    return entry[0]


def _size(outline: Outline, sides: tuple[_Order, _Order]) -> tuple[float, float]:
    """Width and height of an outline with the terminals that stand out of it."""
    rows = max(side.rows for side in sides)
    if outline.kind != "part":
        return outline_width(outline), max(head_height(outline), rows * PITCH)
    return outline_width(outline) + 2 * TAB, head_height(outline) + rows * PITCH + 0.8


def _tabs(outline: Outline, sides: tuple[_Order, _Order]) -> tuple[list[Tab], dict[tuple[int, int], Point]]:
    """The terminals of an outline from its own corner, and where each wire end is on them."""
    width, _ = _size(outline, sides)
    tabs: list[Tab] = []
    ends: dict[tuple[int, int], Point] = {}
    for order in sides:
        at_left = order.side == "left"
        y = head_height(outline) if outline.kind == "part" else 0.0
        for slot, on in order.slots:
            rows = max(1, len(on))
            box = Box(0.0 if at_left else width - TAB, y + 0.6, TAB, rows * PITCH - 1.2)
            tabs.append(Tab(slot, order.side, box))
            for row, end in enumerate(on):
                ends[end] = (0.0 if at_left else width, y + (row + 0.5) * PITCH)
            y += rows * PITCH
    return tabs, ends


def _exact(graph: Graph, flows: Sequence[bool], orders: Sequence[tuple[_Order, _Order]]) -> dict[str, Any]:
    """The graph with one port a wire end, each in its place, and with the words of every leg."""
    nodes = []
    for n, (outline, sides) in enumerate(zip(graph.outlines, orders, strict=True)):
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
        edges.append({"id": f"e{n}", **_ends(turned, f"p{n}.0", f"p{n}.1"), "labels": [label]})
    return {"id": "g", "layoutOptions": _OPTIONS, "children": nodes, "edges": edges}


def _has_notes(leg: Leg) -> bool:
    return any(look is not None and look.notes for look in (leg.before, leg.after))


def _placed(
    graph: Graph, flows: Sequence[bool], orders: Sequence[tuple[_Order, _Order]], laid: dict[str, Any]
) -> Arranged:
    """What the second layout found."""
    boxes, tabs = {}, {}
    for outline, sides, node in zip(graph.outlines, orders, laid["children"], strict=True):
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
