"""What the work is for, read where it shows: loads of old parts that work in a setting in which they did not.

A delay lights the lamp that was there before, a dip lever flashes the old headlamps. Each such setting is
read once; what a delay lights is read once more when it has run out, for it has to let go as well.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.messages import tr
from planner.model.plan import BehaviourLine
from planner.testing.page.circuits import place_of
from planner.testing.page.cranking import Cranking
from planner.testing.page.ground import Ground
from planner.testing.page.on_and_off import is_flash, of_load
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup


def gained_probes(
    ground: Ground, behaviours: Sequence[BehaviourLine], on: Sequence[Setup], taken: Sequence[Probe]
) -> Iterator[Probe]:
    """Yield the readings of what is gained, but in settings of which something is ``taken`` already."""
    done = {frozenset(probe.setup.name) for probe in taken if probe.setup and probe.setup.name}
    known, cranking = {setup.name: setup for setup in on}, Cranking(ground)
    for line, least in sorted(_gained(ground, behaviours), key=lambda own: len(own[1].name)):
        setup = known.get(least.name, least)
        if cranking.turns(setup) or any(name <= frozenset(setup.name) for name in done):
            continue
        why = tr("'{does}' on the {place} is on", does=line.what, place=ground.wired.title_of(line.at))
        if is_flash(ground, (line.at, line.what), setup):
            why = tr("the flash of the headlamps: {why}", why=why)
        found = list(of_load(ground, (line.at, line.what), [setup], why))
        if found:
            done.add(frozenset(setup.name))
            yield from found
            yield from _run_out(ground, line, setup)


def _gained(ground: Ground, behaviours: Sequence[BehaviourLine]) -> Iterator[tuple[BehaviourLine, Setup]]:
    """Yield each gained task, with the least setting in which it is gained."""
    stands = ground.stands
    for line in behaviours:
        key = (line.at, line.what)
        if line.outcome != "gained" or line.is_memory or key not in stands.view.net.loads:
            continue
        for position in line.positions[:1]:
            own = {n: value for n, value in position.items() if n in stands.variables}
            if all(value in stands.variables[n].values for n, value in own.items()):
                setup = stands.like(own, key)
                if setup.name and setup.loads:
                    yield line, setup


def _run_out(ground: Ground, line: BehaviourLine, setup: Setup) -> Iterator[Probe]:
    """Yield the same reading once what runs out by itself has done so."""
    loom, parts = ground.wired.loom, ground.catalogue.parts
    running = {n for n in setup.moved if place_of(n) in ground.wired.touched_places}
    owners = {n: parts[loom.places[place_of(n)].part].controls.get(n.partition("/")[2]) for n in running}
    running = {n for n, control in owners.items() if control and control.runs_out}
    if running:
        off = ground.stands.at({n: v for n, v in setup.moved.items() if n not in running})
        why = tr("'{does}' on the {place} must go off", does=line.what, place=ground.wired.title_of(line.at))
        yield from of_load(ground, (line.at, line.what), [replace(off, is_run_out=True)], why)
