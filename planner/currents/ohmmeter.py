"""What an ohmmeter reads between two nodes of a loom with the battery off: a dead test, said beforehand."""

from math import inf

from planner.currents.grid import Grid, Position, branches_at
from planner.currents.laws import LEAK_SIEMENS, SHARP_BELOW_V, Emf, Filament, Junction, Resistance
from planner.currents.solver import Branch, solve

# What a meter has at its tips while it reads ohms, behind a resistance that keeps the current to milliamps:
# no filament warms, and no junction with a drop of 0.3 V or more (``SHARP_BELOW_V``) conducts. A meter's
# diode range has volts enough for a junction and reads something else. Common practice, no source.
TEST_V = 0.2
METER_OHMS = 100.0
OPEN_OHMS = 1e9  # beyond what any part or leakage has: what reads more is only rounding


def cold_ohms(grid: Grid, position: Position, a: str, b: str, *, lamps_out: bool = False) -> float:
    """What an ohmmeter reads from one node (its positive tip) to another, in ohm; inf if nothing joins them.

    Sources and feeds are disconnected, not shorted; contacts are as in the position, so armatures should be
    released in it. Filaments are cold, or taken out with ``lamps_out``. Junctions leak 0.1 uS (10 megohm)
    whichever way the meter is put on; one with less drop than the test volts stands for the contact of a
    cut-out, which its spring holds open while no generator turns. A winding has its running ohms, and those
    of standing still in a grid compiled with ``stalled``, which is nearer to what a meter finds.
    """
    meter = Branch(("meter",), a, b, Emf(TEST_V, METER_OHMS))
    dead = (dead_branch(branch, lamps_out=lamps_out) for _, branch in branches_at(grid, position))
    point = solve([meter, *(branch for branch in dead if branch is not None)], b)
    amps = -point.amps[0]
    return point.across(meter) / amps if amps > TEST_V / OPEN_OHMS else inf


def dead_branch(branch: Branch, *, lamps_out: bool = False) -> Branch | None:
    """A branch as the test volts find it; None where it is open then: a source, a lamp taken out."""
    law = branch.law
    if isinstance(law, Resistance):
        return branch
    if isinstance(law, Filament) and not lamps_out:
        return branch._replace(law=Resistance(law.cold_ohms))
    if isinstance(law, Junction) and law.drop_v >= SHARP_BELOW_V:
        return branch._replace(law=Resistance(1.0 / LEAK_SIEMENS))
    return None
