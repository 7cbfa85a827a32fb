"""The chain from a mistake to what was seen: the volts along the way of each load."""

from collections.abc import Iterator

import numpy as np

from planner.currents.curves import Array
from planner.model.loom import split_address
from planner.model.observations import Observation, Settings
from planner.testing.hunt.agreeing import load_key
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.vehicle import NOTHING
from planner.testing.hunt.words import Words, ohms_words

MOST_POINTS = 10  # of one way that are told, if all of them are
PASSES = "on the way:"
LEAST_AMPS = 1e-3


def explain(hunt: Hunt, world: int) -> Iterator[str]:
    """Yield a line for each observation: what it comes from in a world, with volts."""
    words = Words(hunt.vehicle)
    told: set[tuple[str, Settings]] = set()
    for number, seen in enumerate(hunt.observations, 1):
        if seen.kind == "looks" and (seen.at, seen.settings) not in told:
            told.add((seen.at, seen.settings))
            yield from _way(hunt, world, number, seen, words)
        elif seen.kind in ("volts", "ohms"):
            now, sound = _foretold(hunt, seen, world), _foretold(hunt, seen, NOTHING)
            yield f"{number}. {words.seen(seen)}: with this mistake {now}, as it should be {sound}."
        elif seen.kind in ("lamp", "fuse", "warm", "sits"):
            fits = "does not go" if number - 1 in hunt.unexplained(world) else "goes"
            yield f"{number}. {words.seen(seen)}: {fits} with it."


def ways(hunt: Hunt) -> Iterator[list[str]]:
    """Yield the nodes on the way to each load that was looked at, and home, in the sound vehicle."""
    for seen in hunt.observations:
        if seen.kind == "looks":
            yield _way_to(hunt, seen)


def _way_to(hunt: Hunt, seen: Observation) -> list[str]:
    outlook, vehicle = hunt.known.outlook, hunt.vehicle
    position = outlook.position(seen.settings)
    sound = position.settling.sound.volts
    branch = vehicle.grid.branches[outlook.moves.loads[load_key(seen.at)]].branch
    a, b = vehicle.nodes[branch.a], vehicle.nodes[branch.b]
    fed, back = (branch.a, branch.b) if abs(sound[a]) >= abs(sound[b]) else (branch.b, branch.a)
    return [
        *reversed(_upstream(hunt, seen.settings, sound, fed, +1)),
        *_upstream(hunt, seen.settings, sound, back, -1),
    ]


def _foretold(hunt: Hunt, seen: Observation, world: int) -> str:
    own = np.array([world])
    if seen.kind == "ohms":
        dead = hunt.known.outlook.dead
        return ohms_words(float(dead.ohms(seen.at, seen.to, own, has_fuses_out=seen.has_fuses_out)[0]))
    volts = float(hunt.known.outlook.volts(seen.settings, seen.at, seen.to, own)[0])
    return f"{volts:.2f} V".replace("-0.00", "0.00")


def _way(hunt: Hunt, world: int, number: int, seen: Observation, words: Words) -> Iterator[str]:
    """Yield the volts on the way to a load and home, in the sound vehicle and in a world."""
    outlook, vehicle = hunt.known.outlook, hunt.vehicle
    position = outlook.position(seen.settings)
    sound, now = position.settling.sound.volts, position.all_volts(world)
    index = outlook.moves.loads[load_key(seen.at)]
    branch = vehicle.grid.branches[index].branch
    a, b = vehicle.nodes[branch.a], vehicle.nodes[branch.b]
    across = abs(float(now[a] - now[b]))
    should = abs(float(sound[a] - sound[b]))
    yield f"{number}. {words.seen(seen)}: it gets {across:.1f} V, as it should be {should:.1f} V."
    points = [
        node for node in _way_to(hunt, seen) if split_address(node)[0] not in ("", "end") and "::" not in node
    ]
    said = [
        f"{vehicle.wired.at(node)} {_volts(now, vehicle.nodes[node])}"
        + (
            ""
            if abs(now[vehicle.nodes[node]] - sound[vehicle.nodes[node]]) < 0.15
            else f" (should be {_volts(sound, vehicle.nodes[node])})"
        )
        for node in dict.fromkeys(points)
    ]
    if len(said) > 1:
        yield f"   {PASSES} " + "; ".join(_shortened(said))


def _shortened(said: list[str]) -> list[str]:
    """The points of a way; of a long one those at which something is not as it should be, and its ends."""
    if len(said) <= MOST_POINTS:
        return said
    return [text for n, text in enumerate(said) if n in (0, len(said) - 1) or "should be" in text]


def _volts(volts: Array, node: int) -> str:
    return f"{float(volts[node]):.1f} V".replace("-0.0", "0.0")


def _upstream(hunt: Hunt, setting: Settings, volts: Array, node: str, sign: int) -> list[str]:
    """The nodes from which (sign 1) or to which (sign -1) the current of a node comes or goes, from it on.

    Each time the branch is followed that brings most, in the sound vehicle.
    """
    position = hunt.known.outlook.position(setting)
    state = position.settling.sound.state
    vehicle = hunt.vehicle
    closed = vehicle.grid.closed({**position.settling.held, **dict(state.hidden)})
    live = 1 if vehicle.net.volts > 0 else -1
    found = [node]
    while len(found) < 40:
        best, amps = "", LEAST_AMPS
        for index in closed:
            gated = vehicle.grid.branches[index]
            branch = gated.branch
            if gated.kind in ("load", "source", "feed") or found[-1] not in (branch.a, branch.b):
                continue
            other = branch.b if found[-1] == branch.a else branch.a
            flow = branch.law.amps(float(volts[vehicle.nodes[branch.a]] - volts[vehicle.nodes[branch.b]]))
            into = (flow if found[-1] == branch.b else -flow) * sign * live
            if into > amps and other not in found:
                best, amps = other, into
        if not best:
            break
        found.append(best)
    return found
