"""Draws a whole loom for orientation: zones as areas, places in them, bundles of wires between them."""

from dataclasses import dataclass
from typing import Any

from planner.messages import later, tr, tr_count
from planner.model.picture import Picture
from planner.pictures.circuit import PAGE_MM
from planner.pictures.heading import HEAD, MARGIN, draw_title, head_of, title_lines
from planner.pictures.layered import lay_out
from planner.pictures.sizes import LINE, SMALL, TITLE
from planner.pictures.svg import FAINT, INK, Drawing
from planner.pictures.text import clean, fit, width_of, wrap
from planner.pictures.union import Looms
from planner.pictures.zones import Bundle, Chip, ZoneArea, bundles_of, zones_of

_PAD, _GAP, _MOST_LINES = 2.0, 1.2, 14
_UPRIGHT_MM = (232.0, 310.0)  # what both an A4 and a letter page take, if it is made smaller by a quarter
_OPTIONS = {
    "elk.algorithm": "layered",
    "elk.edgeRouting": "ORTHOGONAL",
    "elk.padding": "[top=0,left=0,bottom=0,right=0]",
    "elk.randomSeed": "1",
    "elk.spacing.nodeNode": 5.0,
    "elk.spacing.edgeEdge": 4.0,
    "elk.spacing.edgeNode": 4.0,
    "elk.spacing.edgeLabel": 2.0,
    "elk.spacing.componentComponent": 5.0,
    "elk.layered.spacing.edgeEdgeBetweenLayers": 4.0,
    "elk.layered.spacing.edgeNodeBetweenLayers": 4.0,
    "elk.layered.spacing.nodeNodeBetweenLayers": 5.0,
    "elk.layered.edgeLabels.sideSelection": "ALWAYS_UP",
}
_FOOT = later(
    "Grey, heavy frame: something happens there. Lines between areas: bundles; in bold, some wires change."
)


@dataclass(frozen=True, slots=True)
class _Manner:
    """One way to draw it: how wide an area is, which way the bundles run, whether every place is named."""

    width: float
    direction: str
    is_named: bool


_MANNERS = tuple(
    _Manner(width, direction, is_named)
    for is_named in (True, False)
    for width in (62.0, 48.0, 80.0)
    for direction in ("RIGHT", "DOWN")
)


def draw_whole_loom(looms: Looms) -> Picture:
    """The loom after the work, with every place named if a page has room for that."""
    areas, bundles = zones_of(looms), bundles_of(looms)
    manner, found = _laid(areas, bundles)
    title = clean(tr("The whole loom: {loom}", loom=looms.after.title or looms.after.loom), 200)
    words = clean(" ".join((*map(_said, areas), *(_said_bundle(areas, each) for each in bundles))), 4000)
    width = max(found["width"], 150.0) + 2 * MARGIN
    titles = title_lines(title, width)
    drawing = Drawing(width, found["height"] + 2 * MARGIN + head_of(titles) + 2 * LINE, title, words)
    draw_title(drawing, titles)
    drawing.shift(MARGIN, MARGIN + head_of(titles))
    for bundle, edge in zip(bundles, found["edges"], strict=True):
        _draw_bundle(drawing, bundle, edge)
    for area, node in zip(areas, found["children"], strict=True):
        _draw_area(drawing, area, node, manner)
    drawing.shift_back()
    drawing.text(
        (MARGIN, drawing.height - MARGIN), fit(tr(_FOOT), SMALL, width - 2 * MARGIN), SMALL, ink=FAINT
    )
    return Picture(
        "whole-loom", "loom", title, "both", "", words, drawing.document(), drawing.width, drawing.height
    )


def _laid(areas: tuple[ZoneArea, ...], bundles: tuple[Bundle, ...]) -> tuple[_Manner, dict[str, Any]]:
    """The first manner that an upright page takes; with names if a page laid across takes them."""
    across: tuple[_Manner, dict[str, Any]] | None = None
    for manner in _MANNERS:
        if across and across[0].is_named and not manner.is_named:
            break
        (found,) = lay_out([_graph(areas, bundles, manner)])
        if _has_room(found, _UPRIGHT_MM):
            return manner, found
        if across is None and _has_room(found, PAGE_MM):
            across = manner, found
    return across or (manner, found)


def _has_room(laid: dict[str, Any], page: tuple[float, float]) -> bool:
    width: float = laid["width"] + 2 * MARGIN
    height: float = laid["height"] + 2 * MARGIN + HEAD + 2 * LINE
    return width <= page[0] and height <= page[1]


def _graph(areas: tuple[ZoneArea, ...], bundles: tuple[Bundle, ...], manner: _Manner) -> dict[str, Any]:
    ids = {area.zone: f"z{n}" for n, area in enumerate(areas)}
    nodes: list[dict[str, Any]] = []
    for area in areas:
        height = (
            LINE + 2 * _PAD + sum(_chip_height(chip, manner.width - 2 * _PAD) + _GAP for chip in area.chips)
        )
        height += len(_others(area, manner)) * LINE
        nodes.append({"id": ids[area.zone], "width": manner.width, "height": height})
    edges = []
    for n, bundle in enumerate(bundles):
        label = {
            "id": f"l{n}",
            "text": "-",
            "width": width_of(bundle.words, SMALL, bold=True),
            "height": LINE,
        }
        one, other = (ids[zone] for zone in bundle.zones)
        edges.append({"id": f"e{n}", "sources": [one], "targets": [other], "labels": [label]})
    options = {**_OPTIONS, "elk.direction": manner.direction}
    return {"id": "g", "layoutOptions": options, "children": nodes, "edges": edges}


def _others(area: ZoneArea, manner: _Manner) -> tuple[str, ...]:
    """The lines that name the places where nothing happens, or say how many they are."""
    if not area.others:
        return ()
    count = len(area.others)
    if manner.is_named:
        text = "; ".join(area.others)
    elif area.chips:
        text = tr_count("{count} place more", "{count:,} places more", count)
    else:
        text = tr_count("{count} place", "{count:,} places", count)
    return wrap(text, SMALL, manner.width - 2 * _PAD, _MOST_LINES)


def _draw_bundle(drawing: Drawing, bundle: Bundle, edge: dict[str, Any]) -> None:
    (section,) = edge["sections"]
    points = [section["startPoint"], *section.get("bendPoints", ()), section["endPoint"]]
    way = [(point["x"], point["y"]) for point in points]
    thick = 0.8 + min(2.0, bundle.wires / 12)
    drawing.line(way, stroke=INK, stroke_width=thick + 0.5, stroke_linejoin="round")
    drawing.line(way, stroke="#bbbbbb", stroke_width=thick, stroke_linejoin="round")
    label = edge["labels"][0]
    at = label["x"] + label["width"] / 2, label["y"] + LINE - 0.8
    drawing.text(at, bundle.words, SMALL, "middle", bold=bool(bundle.changed))


def _draw_area(drawing: Drawing, area: ZoneArea, node: dict[str, Any], manner: _Manner) -> None:
    x, y, room = node["x"], node["y"], manner.width - 2 * _PAD
    drawing.rect(x, y, manner.width, node["height"], fill="#f7f7f2", stroke=INK, stroke_width=0.35, rx=2.0)
    drawing.text((x + _PAD, y + LINE), fit(area.title, TITLE, room, bold=True), TITLE, bold=True)
    y += LINE + _PAD
    for chip in area.chips:
        _draw_chip(drawing, chip, (x + _PAD, y), room)
        y += _chip_height(chip, room) + _GAP
    for line in _others(area, manner):
        y += LINE
        drawing.text((x + _PAD, y - 1.2), line, SMALL)


def _chip_titles(chip: Chip, width: float) -> tuple[str, ...]:
    return wrap(chip.title, SMALL, width - 2.4, 2, bold=True)


def _chip_height(chip: Chip, width: float) -> float:
    return (len(_chip_titles(chip, width)) + 1) * LINE + 1.4


def _draw_chip(drawing: Drawing, chip: Chip, corner: tuple[float, float], width: float) -> None:
    x, y = corner
    drawing.open(place=chip.place)
    titles = _chip_titles(chip, width)
    drawing.rect(x, y, width, _chip_height(chip, width), fill="#dddddd", stroke=INK, stroke_width=0.8)
    for n, title in enumerate(titles, 1):
        drawing.text((x + 1.2, y + n * LINE - 0.3), title, SMALL, bold=True)
    drawing.text((x + 1.2, y + (len(titles) + 1) * LINE - 0.1), chip.word, SMALL)
    drawing.close()


def _said(area: ZoneArea) -> str:
    names = (*(f"{chip.title} ({chip.word})" for chip in area.chips), *area.others)
    return f"{area.title}: {', '.join(names) or tr('no places')}."


def _said_bundle(areas: tuple[ZoneArea, ...], bundle: Bundle) -> str:
    titles = {area.zone: area.title for area in areas}
    one, other = (titles[zone] for zone in bundle.zones)
    return tr("Between {one} and {other}: {wires}.", one=one, other=other, wires=bundle.words)
