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
    if after is None or after.kind != "gauge":
        return False
    place, what = key
    inside = catalogue.parts[loom.places[place].part].inside
    is_ammeter = any(isinstance(e, Gauge) and e.is_in_series and e.does == what for e in inside)
    return is_ammeter and any(value not in ("off", "glows") for value in after.function.values())
