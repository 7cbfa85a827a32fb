"""On which side of its outline, and in which order, each terminal of a graph is best.

Found by a first layout, in which each terminal has one port on whichever side the library likes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from planner.pictures.graph import WHENS, Graph, Outline
from planner.pictures.sizes import PITCH, ends_on, head_height, outline_width

Side = Literal["left", "right"]
Spot = tuple[bool, float]  # whether a port is at the right, and how far down, mm
LegEnd = tuple[int, int]  # number of the leg in its graph, and which of its ends
OPTIONS = {
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
    "elk.spacing.nodeSelfLoop": 4.0,
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
class SideOrder:
    """The slots of an outline on one of its sides, top to bottom, each with the ends in its rows.

    An end that is only there before the work and one that is only there after it may share a row.
    """

    side: Side
    slots: tuple[tuple[str, tuple[tuple[LegEnd, ...], ...]], ...]

    @property
    def rows(self) -> int:
        """How many rows they take; a slot without ends takes one."""
        return sum(max(1, len(rows)) for _, rows in self.slots)


def rough_graph(graph: Graph, flows: Sequence[bool]) -> dict[str, Any]:
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
        edges.append({"id": f"e{n}", **ends_of(turned, *ids)})
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
    return {"id": "g", "layoutOptions": OPTIONS, "children": nodes, "edges": edges}


def ends_of(turned: bool, first: str, last: str) -> dict[str, list[str]]:
    """Source and target of an edge, as the library wants them."""
    source, target = (last, first) if turned else (first, last)
    return {"sources": [source], "targets": [target]}


def orders(
    graph: Graph, flows: Sequence[bool], laid: dict[str, Any], *, through: bool = True
) -> list[tuple[SideOrder, SideOrder]]:
    """The order at the left and at the right of each outline, as the first layout has them.

    A terminal is on one side, that at which current comes in. A joiner takes wires at both (``through``), or
    at one too, which takes less room across.
    """
    ports: dict[tuple[str, str, bool], Spot] = {}  # by outline, slot, and whether current leaves there
    for outline, node in zip(graph.outlines, laid["children"], strict=True):
        for port in node.get("ports", ()):
            slot = outline.slots[int(port["id"].partition("s")[2][:-1])]
            at_right = port["x"] > node["width"] / 2
            leaves = str(port["id"]).endswith("o")
            ports[outline.key, slot.key, leaves] = at_right, node["y"] + port["y"]
    one_sided = {outline.key for outline in graph.outlines if outline.kind == "part" or not through}

    def spot(leg: int, end: int) -> Spot:
        hook = graph.legs[leg].ends[end]
        incoming = ports.get((hook.outline, hook.slot, False))
        leaves = (end == 1) == flows[leg]
        is_there = leaves and (incoming is None or hook.outline not in one_sided)
        return ports[hook.outline, hook.slot, True] if is_there or incoming is None else incoming

    def far(end: LegEnd) -> float:
        return spot(end[0], 1 - end[1])[1]

    used = ends_on(graph)
    found = []
    for outline in graph.outlines:
        sides: dict[Side, list[tuple[float, str, list[LegEnd]]]] = {"left": [], "right": []}
        for slot in outline.slots:
            at: dict[Spot, list[LegEnd]] = {}
            for end in sorted(used.get((outline.key, slot.key), ()), key=far):
                at.setdefault(spot(*end), []).append(end)
            for (at_right, y), ends in at.items():
                sides["right" if at_right else "left"].append((y, slot.key, ends))
        _add_bare(outline, sides, {key for place, key in used if place == outline.key})
        left, right = (
            SideOrder(
                side,
                tuple((key, in_rows(graph, ends)) for _, key, ends in sorted(sides[side], key=_by_height)),
            )
            for side in ("left", "right")
        )
        found.append((left, right))
    return found


def _add_bare(
    outline: Outline, sides: dict[Side, list[tuple[float, str, list[LegEnd]]]], used: set[str]
) -> None:
    """Put terminals without a wire below the others, on the side that has fewer."""
    for slot in outline.slots:
        if slot.key not in used:
            fewer: Side = "left" if len(sides["left"]) < len(sides["right"]) else "right"
            sides[fewer].append((float("inf"), slot.key, []))


def in_rows(graph: Graph, ends: Sequence[LegEnd]) -> tuple[tuple[LegEnd, ...], ...]:
    """The ends at a slot in rows, so that no row has two ends in one loom."""
    rows: list[tuple[list[LegEnd], set[str]]] = []
    for end in ends:
        whens = {when for when in WHENS if graph.legs[end[0]].look(when)}
        free = next((row for row in rows if not row[1] & whens), None)
        if free is None:
            free = ([], set())
            rows.append(free)
        free[0].append(end)
        free[1].update(whens)
    return tuple(tuple(row) for row, _ in rows)


def _by_height(entry: tuple[float, str, list[LegEnd]]) -> float:
    return entry[0]
