"""Paths: which way the current takes, terminal by terminal, in one position."""

from collections import defaultdict, deque
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple, TypeVar

from planner.circuit.fitted import Guard, LoadKey
from planner.circuit.network import EARTH, Conductance, Network, Pass, Tie
from planner.model.elements import MOST_OHMS_IN_SERIES

LOAD = "load"
AIDS = ("resistor", "diode", "sender", "ammeter")
NO_JOINTS = (LOAD, *AIDS)
Position = Mapping[str, str]  # variable: label
_Joint = TypeVar("_Joint", bound=Tie | Pass | Conductance)


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
    itself: a dimmer's resistor, a diode, the sender of a gauge, an ammeter that all of it goes through.
    """

    def __init__(self, net: Network) -> None:
        self.net = net
        joints: list[Tie | Pass] = [*net.ties, *net.passes]
        self._joints_at = _by_node(joints)
        self._loads_at = _by_node(net.conductances)
        # Made of a node when somebody first comes there: most nodes are on nobody's way.
        self._joined: dict[str, list[Step]] = {}
        self._loaded: dict[str, list[Step]] = {}  # loads and aids

    def has(self, step: Step) -> bool:
        """Whether a step of another network is one of this as well."""
        return step in self._steps(step.start) or step in self._crossings(step.start)

    def _steps(self, node: str) -> list[Step]:
        """The joints at a node, away from it."""
        found = self._joined.get(node)
        if found is None:
            found = self._joined[node] = _away(node, self._joints_at.get(node, ()), _through_joint)
        return found

    def _crossings(self, node: str) -> list[Step]:
        """The loads and aids at a node, away from it."""
        found = self._loaded.get(node)
        if found is None:
            found = self._loaded[node] = _away(node, self._loads_at.get(node, ()), self._through_load)
        return found

    def _through_load(self, load: Conductance) -> tuple[str, ...]:
        """What a step through something with ohms is called."""
        info = self.net.loads.get(load.key)
        kind = info.kind if info is not None else "sender"  # which is no load of its own in any state
        if kind == "gauge" and load.ohms < MOST_OHMS_IN_SERIES:
            kind = "ammeter"
        is_aid = kind in AIDS and (kind == "ammeter" or info is None or not info.is_task)
        return (kind, load.a) if is_aid else (LOAD, *load.key)

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
            steps = self._steps(node)
            if crossing:
                steps = steps + [s for s in self._crossings(node) if s.through[0] in crossing]
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


def _by_node(joints: Iterable[_Joint]) -> dict[str, list[_Joint]]:
    """Joints or loads by the nodes that they lie between."""
    found: defaultdict[str, list[_Joint]] = defaultdict(list)
    for joint in joints:
        found[joint.a].append(joint)
        found[joint.b].append(joint)
    return found


def _away(node: str, joints: Iterable[_Joint], through: Callable[[_Joint], tuple[str, ...]]) -> list[Step]:
    """The steps from a node through all that lies there."""
    return [Step(node, j.b if j.a == node else j.a, through(j), j.guard) for j in joints]


def _through_joint(joint: Tie | Pass) -> tuple[str, ...]:
    """What a step through a joint is called."""
    return joint.what if isinstance(joint, Tie) else ("fuse", joint.label)


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


class Feeding(NamedTuple):
    """How a load is fed: the steps from its one side back to the feed, and from its other side to earth."""

    near: str
    feed: tuple[Step, ...]
    far: str
    back: tuple[Step, ...]

    @property
    def crossed(self) -> int:
        """How many other loads it leads through."""
        return sum(step.through[0] in NO_JOINTS for step in (*self.feed, *self.back))

    @property
    def nodes(self) -> tuple[str, ...]:
        """The nodes from the live pole through the load to earth."""
        return (*reversed(nodes_on(self.feed) or (self.near,)), *(nodes_on(self.back) or (self.far,)))


def feeding(net: Network, load: LoadKey, position: Position) -> Feeding | None:
    """How a load is fed in a position, through other loads only if there is no other way; None if not."""
    info = net.loads[load]
    joints = joints_of(net)
    live = set(joints.live(position))
    earth = {net.zero}
    if joints.shortest([EARTH], earth, position) is not None:
        earth.add(EARTH)  # no current comes back from there
    own = (LOAD, *load)

    def search(start: str, goals: set[str], shunned: set[str]) -> tuple[Step, ...] | None:
        def is_open(step: Step) -> bool:
            return step.through != own and step.end not in shunned

        straight = joints.shortest([start], goals, position, is_open)
        return joints.shortest([start], goals, position, is_open, NO_JOINTS) if straight is None else straight

    found: list[Feeding] = []
    for near, far in ((info.a, info.b), (info.b, info.a)):
        # Looked for from the load back to the feed: far less hangs on the load's side.
        feed = search(near, live, earth)
        back = search(far, {net.zero}, live) if feed is not None else None
        if feed is not None and back is not None:
            way = Feeding(near, feed, far, back)
            if not way.crossed:
                return way  # none is better
            found.append(way)
    return min(found, key=lambda way: way.crossed, default=None)


def feeding_path(net: Network, load: LoadKey, position: Position) -> tuple[str, ...]:
    """Nodes from the live pole through the load to earth; empty if nothing feeds it."""
    found = feeding(net, load, position)
    return found.nodes if found is not None else ()


def shorting_path(net: Network, position: Position) -> tuple[str, ...]:
    """Nodes of a way from a live pole straight to the earthed pole; empty if there is none."""
    joints = joints_of(net)
    found = joints.shortest(joints.live(position), {net.zero}, position)
    return nodes_on(found) if found else ()
