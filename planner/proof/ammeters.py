"""Ammeters in a proof: one shows what all others take, and the others are judged for themselves.

With a second speed in the wipers it shows more, with light-emitting lamps less, and works as before all the
same. It is lost where it shows nothing any more, in any position.
"""

from planner.circuit.fitted import LoadKey
from planner.model.catalogue import Catalogue
from planner.model.elements import Gauge
from planner.model.loom import Loom
from planner.proof.behaviour import Behaviour


def shows_the_others(key: LoadKey, loom: Loom, catalogue: Catalogue, after: Behaviour | None) -> bool:
    """Whether a load of a loom is an ammeter that still shows something afterwards."""
    place, what = key
    if after is None or all(value in ("off", "glows") for value in after.function.values()):
        return False
    inside = catalogue.parts[loom.places[place].part].inside
    return any(isinstance(e, Gauge) and e.is_in_series and e.does == what for e in inside)
