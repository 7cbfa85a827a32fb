"""A diode the wrong way round where all should block: only a meter with volts enough for diodes shows it.

What it reads is a matter of that meter, so it has no line of its own; and where a meter reads open, nothing
is proven. Common practice, no source.
"""

from collections.abc import Iterator, Mapping
from math import isinf

from planner.currents.grid import is_met
from planner.messages import tr
from planner.testing.mistakes.applied import Edit
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.blocked import Blocked
from planner.testing.page.exposing import Exposer, as_read
from planner.testing.page.exposure import Exposure
from planner.testing.page.probes import Probe


def less_if_turned(
    exposer: Exposer, exposure: Exposure, mistakes: Mapping[str, Mistake], probe: Probe, less: str
) -> str:
    """What less ohms than good mean, the diodes that may be the wrong way round before all else."""
    turned = [mistakes[name].words for name in _turned(exposer, exposure, probe)]
    if not turned:
        return less
    diodes = tr("; or ").join(turned)
    return tr("{diodes} (some meters read open all the same); or {less}", diodes=diodes, less=less)


def _turned(exposer: Exposer, exposure: Exposure, probe: Probe) -> Iterator[str]:
    """Yield the diodes through which such a meter reads something if they are the wrong way round."""
    plus = exposure.good[probe].plus
    minus = probe.to if plus == probe.at else probe.at
    for (name, _), edit in exposure.edits.items():
        is_asked = plus and name in exposure.misread and exposure.sees(probe, name)
        if is_asked and not isinf(as_read(_with(exposer, edit).read(plus, minus))):
            yield name


def _with(exposer: Exposer, edit: Edit) -> Blocked:
    """The dead vehicle with a mistake made."""
    grid, rest = exposer.live.grid, exposer.rest
    kept = [grid.bare[index] for index in grid.closed(rest) if index not in edit.gone]
    added = [gated.branch for gated in edit.added if is_met(gated.guard, rest)]
    closed = [branch for branch in (*kept, *added) if not {branch.a, branch.b} & exposer.posts]
    return Blocked(closed, exposer.blocked.electronic)
