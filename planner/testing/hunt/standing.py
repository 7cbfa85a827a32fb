"""The settings in which a vehicle's loads work: those that a person tries one after another."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from planner.circuit.fitted import LoadKey
from planner.circuit.store import Store
from planner.circuit.tree import Projector
from planner.currents.positions import Positions
from planner.currents.seek import Seek
from planner.problems import TooLargeError
from planner.proof.behaviour import View
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.vehicle import Vehicle

SET = ("control", "condition", "step")  # kinds of variables that a setting names
# What takes current and does its work where nobody sees it; common practice, no source.
UNSEEN = ("ignition", "generator", "regulator")


@dataclass(frozen=True)
class Standing:
    """A setting for each load that can be seen, and the settings to try one after another.

    In these each position of each control that has to do with a load is met, with as little else as can be:
    "left" with the ignition on, for with the hazards on two wires traded at the turn switch show nowhere.
    ``ways`` are all settings in which a load works with nothing more than it takes, and no more levers held.
    """

    working: dict[LoadKey, Setting]
    settings: tuple[Setting, ...]
    ways: dict[LoadKey, tuple[Setting, ...]]


def standing(vehicle: Vehicle) -> Standing:
    """The settings of a vehicle; only that at rest where its loom is too large to be proven."""
    seen = [key for key in vehicle.net.loads if _is_seen(vehicle, key)]
    try:
        view = View(vehicle.wired.loom, vehicle.catalogue, Store(vehicle.net.volts), Projector())
        seek = Seek(Positions(view))
        ways = {key: sorted(_ways(seek, key)) for key in seen if key in view.loads}
    except TooLargeError:
        return Standing(dict.fromkeys(seen, ()), ((),), {})
    working = {key: own[0][3] for key, own in ways.items() if own}
    settings = dict.fromkeys(((), *working.values()))
    met = {each for setting in settings for each in setting}
    least = {key: _least(own) for key, own in ways.items()}
    more = [setting for own in ways.values() for turned, _, _, setting in own if not turned]
    # First those that take no more than they have to: turn left with the ignition on, not with the hazards.
    for setting in (*chain.from_iterable(least.values()), *more):
        if not met.issuperset(setting):
            settings[setting] = None
            met.update(setting)
    return Standing(working, tuple(sorted(settings, key=lambda setting: (len(setting), setting))), least)


def _least(ways: list[tuple[int, int, int, Setting]]) -> tuple[Setting, ...]:
    """The settings with no cam off its rest and the fewest levers held, of which none holds another."""
    fewest = min((held for turned, _, held, _ in ways if not turned), default=0)
    settings = {setting for turned, _, held, setting in ways if not turned and held == fewest}
    return tuple(s for s in sorted(settings) if not any(set(other) < set(s) for other in settings))


def _is_seen(vehicle: Vehicle, key: LoadKey) -> bool:
    part = vehicle.catalogue.parts[vehicle.wired.loom.places[key[0]].part]
    return vehicle.net.loads[key].is_task and part.family not in UNSEEN


def _ways(seek: Seek, key: LoadKey) -> Iterator[tuple[int, int, int, Setting]]:
    """Yield each setting in which a load works fully: cams off rest, moves, levers held, the setting.

    A setting says where a stepping relay stands, but not a cam: a motor that only goes on to park is not
    what is looked for.
    """
    positions = seek.positions
    variables = positions.view.net.variables
    for row in positions.loads[key].rows:
        assignment = seek.alone(key, row, {}) if positions.is_full(key, row) else None
        if assignment is None:
            continue
        labels = positions.labels(assignment)
        moved = {name for name, label in labels.items() if label != variables[name].values[0]}
        moved &= _asked(positions, key)
        turned = sum(variables[name].kind == "cam" for name in moved)
        setting = tuple(sorted((n, labels[n]) for n in moved if variables[n].kind in SET))
        numbers = positions.view.variable_number
        held = positions.held({numbers[n]: assignment.get(numbers[n], 0) for n in moved})
        yield turned, len(setting), held, setting


def _asked(positions: Positions, key: LoadKey) -> set[str]:
    """The variables that a load depends on, directly or through hidden ones."""
    states = positions.view.states
    numbers = set(positions.loads[key].scope)
    group = states.group(frozenset(numbers))
    return {states.names[number] for number in numbers | set(group.controls) | set(group.hidden)}
