"""All pictures of one work: its circuits before and after, a page each."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.picture import Picture, PictureWhen, Side
from planner.pictures.arrange import Arranged, arrange
from planner.pictures.changes import end_changes
from planner.pictures.circuit import ROOM_MM, draw_circuit
from planner.pictures.direction import flow, gathered
from planner.pictures.extents import Extent, extents, smaller, without_repeats
from planner.pictures.graph import WHENS, Graph, When
from planner.pictures.place import draw_places
from planner.pictures.union import Looms, union_of
from planner.pictures.whole_loom import draw_whole_loom
from planner.pictures.words import circuit_foot, circuit_title, circuit_words

# Of the shipped jobs' circuits none of more than 14 legs fits a page: what has many more is not tried.
_MOST_LEGS = 24
# Which way legs go, and whether wires go through joiners or turn back there: the easiest to read comes first.
_WAYS = ((gathered, True), (gathered, False), (flow, False))


def draw_pictures(
    before: Loom,
    after: Loom,
    catalogue: Catalogue,
    swapped: Collection[str],
    shown: Callable[[str], str] = str,
    side: Side = "wiring",
    stations: Mapping[str, str] = MappingProxyType({}),
    live_ends: Mapping[tuple[str, int], str] = MappingProxyType({}),
) -> tuple[Picture, ...]:
    """The pictures of a work that swaps parts at some places; ``shown`` gives what people call a wire.

    ``side`` is that from which the terminals of a place are seen. ``stations`` are the places at which
    anything is done, each with the one under which its picture stands. ``live_ends`` are ends that are
    tied back and stay live, each with the words for it.
    """
    looms = Looms(before, after, catalogue, _with_new_parts(before, after, swapped), shown, live_ends)
    pages = _pages(looms)
    circuits = (
        _circuit(looms, pages, number, when)
        for number, (_, arranged) in enumerate(pages)
        for when in _whens(arranged.graph)
        if any(leg.look(shown_in(when)) for leg in arranged.graph.legs)
    )
    return (*circuits, *draw_stations(looms, side, stations), draw_whole_loom(looms))


def draw_stations(looms: Looms, side: Side, stations: Mapping[str, str]) -> Iterator[Picture]:
    """Yield the terminals of the places at which something is done, of each under its place before others."""
    at = {**{place: place for place in looms.swapped}, **stations}
    for place in sorted(at, key=lambda place: at[place] != place):
        pictures = tuple(draw_places(looms, place, side, in_part=place not in looms.swapped))
        if place not in looms.swapped and not _leaves(looms, place):
            pictures = pictures[-1:]
        for picture in pictures:
            yield replace(picture, place=at[place])


def _leaves(looms: Looms, place: str) -> bool:
    """Whether anything happens to an end that is there before; else the picture after says it all."""
    ends = looms.before.ends_of_place(place)
    return any(end_changes(looms.before, looms.after, wire, end) for wire, end, _ in ends)


def _with_new_parts(before: Loom, after: Loom, swapped: Collection[str]) -> tuple[str, ...]:
    """The swapped places, and every other at which a part comes, goes or is another."""
    places = dict.fromkeys((*swapped, *after.places, *before.places))
    return tuple(
        place
        for place in places
        if place in swapped
        or (was := before.places.get(place)) is None
        or (now := after.places.get(place)) is None
        or was.part != now.part
    )


def _pages(looms: Looms) -> list[tuple[Extent, Arranged]]:
    """The circuits in pictures of which each fits a page, or cannot be made smaller."""

    def graph_of(extent: Extent) -> Graph:
        return union_of(looms, extent.wires, () if extent.piece else extent.places)

    pages: dict[Extent, Arranged] = {}
    order = extents(looms)
    while open_ := [extent for extent in order if extent not in pages]:
        arranged = _arranged([graph_of(extent) for extent in open_])
        for n, extent in enumerate(open_):
            elsewhere = {wire for other in order if other != extent for wire in other.wires}
            less = [extent] if n in arranged else smaller(looms, extent, elsewhere)
            if less == [extent]:
                pages[extent] = arranged[n] if n in arranged else arrange([graph_of(extent)])[0]
            number = order.index(extent)
            order[number : number + 1] = less
    return [(extent, pages[origin]) for extent, origin in without_repeats(order)]


def _arranged(graphs: Sequence[Graph]) -> dict[int, Arranged]:
    """Those of the graphs that a page takes, drawn in the first of some ways in which it does."""
    found: dict[int, Arranged] = {}
    for way, through in _WAYS:
        left = [n for n, graph in enumerate(graphs) if n not in found and len(graph.legs) <= _MOST_LEGS]
        some = arrange([graphs[n] for n in left], ROOM_MM, way, through=through)
        found |= {left[n]: each for n, each in some.items()}
    return found


def _whens(graph: Graph) -> tuple[PictureWhen, ...]:
    return ("both",) if graph.is_alike else WHENS


def shown_in(when: PictureWhen) -> When:
    """The loom that a picture shows: of both, where the wires are alike, the one after the work."""
    return "before" if when == "before" else "after"


def _circuit(looms: Looms, pages: list[tuple[Extent, Arranged]], number: int, when: PictureWhen) -> Picture:
    title = circuit_title(looms, [extent for extent, _ in pages], number, when)
    words = circuit_words(looms, pages[number][1].graph, shown_in(when))
    foot = circuit_foot(looms, [extent for extent, _ in pages], number)
    drawing = draw_circuit(pages[number][1], shown_in(when), title, words, foot)
    name = f"circuit-{number + 1}-{when}"
    return Picture(name, "circuit", title, when, "", words, drawing.document(), drawing.width, drawing.height)
