"""What is live without a fuse with the battery on, always or while a switch is on: it is guarded, kept short.

What an edge of the loom feeds is left out: whether there is a fuse behind it is often not drawn.
"""

from collections.abc import Callable, Mapping

from planner.model.catalogue import Catalogue
from planner.model.contact_table import table_of
from planner.model.elements import Gauge, Source
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor, joined_inside

_Joined = Callable[[Part, str], frozenset[str]]


def live_without_fuse(loom: Loom, parts: Mapping[str, Part]) -> frozenset[str]:
    """Every address that nothing but wire, ammeters and closed contacts parts from a battery's live post."""
    return _live(loom, parts, joined_inside)


def switched_without_fuse(loom: Loom, catalogue: Catalogue) -> frozenset[str]:
    """Those as well that are live so while a switch or a relay is on; none is crossed back to the battery."""

    def joined(part: Part, mark: str) -> frozenset[str]:
        own = _rank(part, mark, catalogue, 0)
        sometimes = _joined_sometimes(part, mark)
        return frozenset(node for node in sometimes if _rank(part, node, catalogue, own) >= own)

    return _live(loom, catalogue.parts, joined)


def _live(loom: Loom, parts: Mapping[str, Part], joined: _Joined) -> frozenset[str]:
    found: set[str] = set()
    seen: set[tuple[str, str]] = set()
    # Each address with the place whose contacts led there: two of one switch are seldom closed together.
    queue = [
        (f"{place}:{element.between[0]}", "")
        for place, fitted in loom.places.items()
        for element in parts[fitted.part].inside
        if isinstance(element, Source) and not element.when
    ]
    while queue:
        here, crossed = queue.pop()
        place, mark = split_address(here)
        if (here, crossed) in seen or place == "earth":
            continue
        seen.add((here, crossed))
        found.add(here)
        queue += [(other, "") for other in conductor(loom, here) if other != here]
        fitted = loom.places.get(place)
        if fitted is not None and place != crossed:
            part = parts[fitted.part]
            beyond = _beyond(part, joined(part, mark)) & part.terminals.keys()
            queue += [(f"{place}:{other}", place) for other in sorted(beyond)]
    return frozenset(found)


def _rank(part: Part, node: str, catalogue: Catalogue, without: int) -> int:
    """How far from the live pole a terminal's role puts it, or how far ``without`` a role."""
    terminal = part.terminals.get(node)
    role = catalogue.roles.get(terminal.role) if terminal is not None and terminal.role else None
    return role.rank if role is not None else without


def _joined_sometimes(part: Part, mark: str) -> frozenset[str]:
    """The terminals and inner nodes that some position of a part joins to one, itself among them."""
    if mark not in part.terminals:
        return frozenset({mark})
    table = table_of(part)
    return frozenset(node for node in (*part.terminals, *part.nodes) if any(table.joined(node, mark)))


def _beyond(part: Part, joined: frozenset[str]) -> frozenset[str]:
    """What is joined to a terminal, and what lies beyond an ammeter there."""
    meters = [e for e in part.inside if isinstance(e, Gauge) and e.is_in_series]
    return joined.union(*(e.between for e in meters if joined & set(e.between)))
