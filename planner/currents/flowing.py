"""The currents of an island that was solved, also where its volts lack the digits.

In a branch of a micro-ohm near a battery some nano-amperes are less than a last digit of the volts at its
ends. What that leaves over at the nodes is shared out once more, as volts kept apart from the others.
"""

from planner.currents.island import Island
from planner.currents.laws import Resistance

MOST_LEFT_AMPS = 1e-10  # what Kirchhoff's current law may be missed by at a node


def flowing_in(island: Island) -> list[float]:
    """What flows in each branch of an island, in A, from its first node to its second."""
    volts, parts = island.volts, island.parts
    amps = [law.amps(volts[a] - volts[b]) for a, b, law in parts]
    left = dict.fromkeys(volts, 0.0)
    for (a, b, _), own in zip(parts, amps, strict=True):
        left[a] -= own
        left[b] += own
    if not island.is_settled or max(map(abs, left.values())) <= MOST_LEFT_AMPS:
        return amps
    slopes = [law.siemens(volts[a] - volts[b]) for a, b, law in parts]
    tangents = [(a, b, Resistance(1.0 / slope)) for (a, b, _), slope in zip(parts, slopes, strict=True)]
    further = Island(island.root, tangents)
    further.pushed = left
    further.solve()
    return [
        own + slope * (further.volts[a] - further.volts[b])
        for (a, b, _), own, slope in zip(parts, amps, slopes, strict=True)
    ]
