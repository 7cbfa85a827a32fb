"""A picture of some wires of one loom, with marks on those that something is suspected of."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace

from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.picture import Picture
from planner.pictures.arrange import arrange
from planner.pictures.circuit import draw_circuit
from planner.pictures.graph import Graph, Leg, Outline
from planner.pictures.union import Looms, union_of
from planner.pictures.words import circuit_words


def draw_marked(
    loom: Loom,
    catalogue: Catalogue,
    wires: Collection[str],
    legs: Mapping[tuple[str, int], str],
    places: Mapping[str, str],
    title: str,
    shown: Callable[[str], str] = str,
) -> Picture:
    """The wires as they should be; ``legs`` and ``places`` say what is suspected of a leg or of a part."""
    looms = Looms(loom, loom, catalogue, (), shown)
    plain = union_of(looms, wires, ())
    graph = Graph(
        tuple(_outline(outline, places.get(outline.address, "")) for outline in plain.outlines),
        tuple(_leg(leg, legs.get((leg.wire, leg.leg), "")) for leg in plain.legs),
    )
    words = circuit_words(looms, graph, "after")
    foot = (
        tr("As it should be. Heavy, with bars across: what is suspected, said below it."),
        tr("A wire: its number, colour code, size in mm²."),
    )
    drawing = draw_circuit(arrange([graph])[0], "after", title, words, foot)
    svg = drawing.document()
    return Picture("suspected", "circuit", title, "after", "", words, svg, drawing.width, drawing.height)


def _leg(leg: Leg, mark: str) -> Leg:
    return replace(leg, after=replace(leg.after, notes=(mark,))) if mark and leg.after else leg


def _outline(outline: Outline, mark: str) -> Outline:
    if not mark or outline.after is None:
        return outline
    return replace(outline, is_swapped=True, after=replace(outline.after, fate=mark))
