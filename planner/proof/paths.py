"""Paths: which way the current takes, terminal by terminal, in one position."""

from collections import deque
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import NamedTuple

from planner.circuit.fitted import Guard, LoadKey
from planner.circuit.network import Network

LOAD = "load"
AIDS = ("resistor", "diode")
NO_JOINTS = (LOAD, *AIDS)
Position = Mapping[str, str]  # variable: label


class Step(NamedTuple):
    """One joint on a path: from a node to a node, through what (wire, contact, mounting, fuse)."""

    start: str
    end: str
    through: tuple[str, ...]
    guard: Guard = ()


def holds(guard: Guard, position: Position) -> bool:
    """Whether a guard holds; a variable not named in the position counts as any value."""
    for name, values in guard:
        label = position.get(name)
        if label is not None and label not in values:
            return False
    return True


class Joints:
    """The joints of a network as a graph of nodes; which are closed is asked position by position.

    Loads are edges too, but crossed only where that is asked for; an *aid* serves other loads and is none
    itself: a dimmer's resistor, a diode.
    """

    def __init__(self, net: Network) -> None:
        self.net = net
        self._joined: dict[str, list[Step]] = {}
        self._loaded: dict[str, list[Step]] = {}  # loads and aids
        for tie in net.ties:
            _join(self._joined, tie.a, tie.b, tie.what, tie.guard)
        for joint in net.passes:
            _join(self._joined, joint.a, joint.b, ("fuse", joint.label), joint.guard)
        for load in net.conductances:
            info = net.loads.get(load.key)
            is_aid = info is not None and not info.is_task and info.kind in AIDS
            through = (info.kind, load.a) if info is not None and is_aid else (LOAD, *load.key)
            _join(self._loaded, load.a, load.b, through, load.guard)

    def has(self, step: Step) -> bool:
        """Whether a step of another network is one of this as well."""
        return step in self._joined.get(step.start, ()) or step in self._loaded.get(step.start, ())

    def live(self, position: Position) -> list[str]:
        """The nodes that a pole or an edge feed holds in a position."""
        return [s.node for s in self.net.supplies if holds(s.guard, position)]

    def shortest(
        self,
        starts: list[str],
        goals: set[str],
        position: Position,
        allowed: Callable[[Step], bool] | None = None,
        crossing: tuple[str, ...] = (),
    ) -> tuple[Step, ...] | None:
        """The path with the fewest closed joints from any start to any goal, crossing only allowed ones.

        ``crossing`` names what is crossed besides joints: aids, or loads as well.
        """
        came: dict[str, Step | None] = dict.fromkeys(sorted(starts))
        queue = deque(came)
        while queue:
            node = queue.popleft()
            if node in goals:
                return tuple(_trace(came, node))
            steps = self._joined.get(node, [])
            if crossing:
                steps = steps + [s for s in self._loaded.get(node, ()) if s.through[0] in crossing]
            for step in steps:
                if step.end in came or (step.guard and not holds(step.guard, position)):
                    continue
                if allowed is None or allowed(step):
                    came[step.end] = step
                    queue.append(step.end)
        return None


@lru_cache(maxsize=4)
def joints_of(net: Network) -> Joints:
    """The joints of a network, kept for the next position: one proof asks many of two networks."""
    return Joints(net)


def _join(steps: dict[str, list[Step]], a: str, b: str, through: tuple[str, ...], guard: Guard) -> None:
    steps.setdefault(a, []).append(Step(a, b, through, guard))
    steps.setdefault(b, []).append(Step(b, a, through, guard))


def _trace(came: Mapping[str, Step | None], node: str) -> list[Step]:
    out: list[Step] = []
    step = came[node]
    while step is not None:
        out.append(step)
        step = came[step.start]
    return out[::-1]


def nodes_on(path: tuple[Step, ...]) -> tuple[str, ...]:
    """The nodes of a path in order."""
    return (path[0].start, *(step.end for step in path)) if path else ()


def feeding_path(net: Network, load: LoadKey, position: Position) -> tuple[str, ...]:
    """Nodes from the live pole through the load to earth; through other loads only if there is no other way.

    Empty if nothing feeds the load.
    """
    info = net.loads[load]
    joints = joints_of(net)
    live = set(joints.live(position))
    own = (LOAD, *load)

    def is_other(step: Step) -> bool:
        return step.through != own

    for crossing in ((), NO_JOINTS):
        for near, far in ((info.a, info.b), (info.b, info.a)):
            # Looked for from the load back to the feed: far less hangs on the load's side.
            feed = joints.shortest([near], live, position, is_other, crossing)
            back = (
                joints.shortest([far], {net.zero}, position, is_other, crossing) if feed is not None else None
            )
            if feed is not None and back is not None:
                return (*reversed(nodes_on(feed) or (near,)), *(nodes_on(back) or (far,)))
    return ()


def shorting_path(net: Network, position: Position) -> tuple[str, ...]:
    """Nodes of a way from a live pole straight to the earthed pole; empty if there is none."""
    joints = joints_of(net)
    found = joints.shortest(joints.live(position), {net.zero}, position)
    return nodes_on(found) if found else ()
