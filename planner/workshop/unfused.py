"""What is live without a fuse once the battery is on, in every position: it is guarded and kept short.

What an edge of the loom feeds is left out: whether there is a fuse behind it is often not drawn.
"""

from collections.abc import Iterator, Mapping

from planner.model.elements import Gauge, Source
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor, joined_inside


def live_without_fuse(loom: Loom, parts: Mapping[str, Part]) -> frozenset[str]:
    """Every address that nothing but wire, ammeters and closed contacts parts from a battery's live post."""
    found: set[str] = set()
    queue = [
        f"{place}:{element.between[0]}"
        for place, fitted in loom.places.items()
        for element in parts[fitted.part].inside
        if isinstance(element, Source) and not element.when
    ]
    while queue:
        here = queue.pop()
        place, mark = split_address(here)
        if here in found or place == "earth":
            continue
        found.add(here)
        queue += conductor(loom, here)
        fitted = loom.places.get(place)
        if fitted is not None:
            part = parts[fitted.part]
            queue += (f"{place}:{other}" for other in _beyond(part, mark) if other in part.terminals)
    return frozenset(found)


def _beyond(part: Part, mark: str) -> Iterator[str]:
    joined = joined_inside(part, mark)
    yield from joined
    for element in part.inside:
        if isinstance(element, Gauge) and element.is_in_series and joined & set(element.between):
            yield from element.between
