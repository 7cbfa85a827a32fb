"""All pictures of one work: its circuits before and after, a page each."""

from collections.abc import Callable, Collection

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.picture import Picture
from planner.pictures.arrange import Arranged, arrange
from planner.pictures.circuit import ROOM_MM, draw_circuit
from planner.pictures.extents import Extent, extents, smaller, without_repeats
from planner.pictures.graph import WHENS, Graph, When
from planner.pictures.place import draw_place
from planner.pictures.union import Looms, union_of
from planner.pictures.whole_loom import draw_whole_loom
from planner.pictures.words import circuit_foot, circuit_title, circuit_words


def draw_pictures(
    before: Loom,
    after: Loom,
    catalogue: Catalogue,
    swapped: Collection[str],
    shown: Callable[[str], str] = str,
) -> tuple[Picture, ...]:
    """The pictures of a work that swaps parts at some places; ``shown`` gives what people call a wire."""
    looms = Looms(before, after, catalogue, _with_new_parts(before, after, swapped), shown)
    pages = _pages(looms)
    circuits = (
        _circuit(looms, pages, number, when)
        for number, (_, arranged) in enumerate(pages)
        for when in WHENS
        if any(leg.look(when) for leg in arranged.graph.legs)
    )
    places = (draw_place(looms, place, when) for place in looms.swapped for when in WHENS)
    return (*circuits, *(place for place in places if place is not None), draw_whole_loom(looms))


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
        arranged = arrange([graph_of(extent) for extent in open_], ROOM_MM)
        for n, extent in enumerate(open_):
            elsewhere = {wire for other in order if other != extent for wire in other.wires}
            less = [extent] if n in arranged else smaller(looms, extent, elsewhere)
            if less == [extent]:
                pages[extent] = arranged[n] if n in arranged else arrange([graph_of(extent)])[0]
            number = order.index(extent)
            order[number : number + 1] = less
    return [(extent, pages[origin]) for extent, origin in without_repeats(order)]


def _circuit(looms: Looms, pages: list[tuple[Extent, Arranged]], number: int, when: When) -> Picture:
    title = circuit_title(looms, [extent for extent, _ in pages], number, when)
    words = circuit_words(looms, pages[number][1].graph, when)
    foot = circuit_foot(looms, [extent for extent, _ in pages], number)
    drawing = draw_circuit(pages[number][1], when, title, words, foot)
    name = f"circuit-{number + 1}-{when}"
    return Picture(name, "circuit", title, when, "", words, drawing.document(), drawing.width, drawing.height)
