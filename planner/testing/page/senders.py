"""The ohms of a tank sender that the work fitted, at both ends of its arm: a gauge can only follow them."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.elements import Sender
from planner.testing.page.ground import Ground
from planner.testing.page.levels import Levels
from planner.testing.page.probes import Probe


def sender_probes(ground: Ground) -> Iterator[Probe]:
    """Yield ohms across each such sender."""
    wired = ground.wired
    levels = Levels(wired.loom, ground.catalogue.parts).ends
    for place in (name for name in wired.loom.places if name in wired.touched_places):
        part = ground.catalogue.parts[wired.loom.places[place].part]
        for element in part.inside:
            if isinstance(element, Sender) and element.follows in levels:
                one, other = element.between
                if {one, other} <= part.terminals.keys():
                    why = tr(
                        "surest before it goes in: move its arm by hand from end to end, and read both ends"
                    )
                    yield Probe(f"{place}:{one}", f"{place}:{other}", "ohms", why=why)
