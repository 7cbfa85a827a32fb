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
                    ends = (
                        tr("{ohms:g} ohm with {level} {value}", ohms=ohms, level=element.follows, value=value)
                        for value, ohms in element.ohms.items()
                        if value in levels[element.follows]
                    )
                    why = tr(
                        "loose in the hand, before it went in, it had {ends} if it is sound; fitted, what "
                        "else hangs on its wire takes part, and the figures above hold",
                        ends=tr(" and ").join(ends),
                    )
                    yield Probe(f"{place}:{one}", f"{place}:{other}", "ohms", why=why)
