"""What a fitted alternator's D+ has with the key on: the charge lamp's current, which is what excites it.

All the ways to a fitted D+ may be sound, and the charge lamp be blown: the alternator gets no field then and
does not charge. So it is read, though the band of a good one is wide (``excited.py``). Common practice, no
source.
"""

from collections.abc import Iterator, Sequence

from planner.currents.grid import BODY
from planner.messages import tr
from planner.model.loom import split_address
from planner.testing.page.excited import excited
from planner.testing.page.ground import Ground
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup


def field_probes(ground: Ground, on: Sequence[Setup]) -> Iterator[Probe]:
    """Yield volts at the field's terminal of each fitted alternator, with its field on."""
    wired, grid = ground.wired, ground.grid
    for _, place, does in sorted(excited(wired.loom, ground.catalogue.parts)):
        if place not in wired.touched_places or (place, does) not in grid.loads:
            continue
        branch = grid.branches[grid.loads[place, does]].branch
        for address in (branch.a, branch.b):
            fed = address in wired.loom.ends_at and split_address(address)[0] == place
            for setup in [own for own in on if (place, does) in own.loads][:1] if fed else ():
                why = tr(
                    "what comes through the charge lamp to {terminal} excites it",
                    terminal=wired.at(address),
                )
                yield Probe(address, BODY, "volts", setup, why=why)
