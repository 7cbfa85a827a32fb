"""What the meter page looks at: the loads whose current goes through what the work changed, on and off."""

from collections.abc import Iterator, Sequence

from planner.circuit.fitted import LoadKey
from planner.currents.surveyed import Survey
from planner.model.loom import split_address
from planner.model.plan import BehaviourLine
from planner.testing.page.setups import Setup, Stands
from planner.testing.wired import Wired

_WORKS = frozenset(("full", "over"))
MOST_WORSE = 6  # behaviours that are no longer as they were, each tested once
_MOST_TRIED = 8  # of its positions


def at_work(wired: Wired, survey: Survey, stands: Stands) -> list[Setup]:
    """One setup for each load that the changed circuits feed, with as little else on as can be."""
    changed = {
        index
        for index, gated in enumerate(survey.grid.branches)
        if (gated.kind == "wire" and gated.branch.name[1] in wired.touched_wires)
        or split_address(gated.branch.name[1])[0] in wired.touched_places
    }
    found = []
    for key, samples in survey.alone.items():
        sample = min(samples, key=lambda s: (s.is_generating, s.held))
        if not changed.isdisjoint(sample.flow.shares(survey.grid.loads[key])):
            found.append(stands.like(sample.position, key))
    return found


def switched_off(wired: Wired, setups: Sequence[Setup], stands: Stands) -> Iterator[Setup]:
    """Yield each setup with the changed controls back at rest, where that is another one."""
    seen = {setup.name for setup in setups}
    for setup in setups:
        moved = {n: v for n, v in setup.moved.items() if place_of(n) not in wired.touched_places}
        off = stands.at(moved)
        if moved != setup.moved and off.name not in seen:
            seen.add(off.name)
            yield off


def own_loads(wired: Wired, survey: Survey) -> tuple[LoadKey, ...]:
    """The tasks of the parts that the work fitted."""
    loads = survey.positions.view.net.loads
    return tuple(key for key, info in loads.items() if info.is_task and key[0] in wired.touched_places)


def no_longer(behaviours: Sequence[BehaviourLine], stands: Stands) -> Iterator[tuple[BehaviourLine, Setup]]:
    """Yield what is lost or changed, each with a setup in which it shows."""
    worse = [line for line in behaviours if line.outcome in ("lost", "changed", "unintended")]
    for line in worse[:MOST_WORSE]:
        if not line.is_memory:
            for known in _least_moved(line, stands)[:_MOST_TRIED]:
                setup = stands.at(known, ((line.at, line.what),))
                if stands.works(setup) == (line.after in _WORKS):  # else it shows from another start only
                    yield line, setup
                    break


def _least_moved(line: BehaviourLine, stands: Stands) -> list[dict[str, str]]:
    """The positions of a line that somebody can set, first those with least moved: a flash with lamps off."""
    variables = stands.variables
    known = [{n: v for n, v in own.items() if n in variables} for own in line.positions]
    can = [own for own in known if all(v in variables[n].values for n, v in own.items())]
    return sorted(can, key=lambda own: sum(v != variables[n].values[0] for n, v in own.items()))


def place_of(variable: str) -> str:
    """The place of a control; empty for a condition of the vehicle."""
    return variable.rpartition("/")[0]
