"""Clean paths: whether extra activity is what the wiring is meant to do, or a way the current found.

A clean path leads from a feed through the load to earth, crosses every contact from an earlier rank to a
later or equal one, crosses no other load, and uses only untouched wires, ends on their old role, and added
wires that join equal roles (or give a terminal just what it wants, or bring one feed to two terminals that
want the same, or lead from a new relay's output, or from a charge lamp to the dynamo whose armature earths
it). A way that was there and closed before explains nothing: what held the load off beside it is gone, as
when nothing earths a magneto any more.
"""

from collections.abc import Collection, Mapping
from typing import NamedTuple

from planner.circuit.fitted import Guard, LoadKey
from planner.circuit.network import Network
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.loom import Loom, split_address
from planner.proof.paths import AIDS, Position, Step, holds, joints_of

EARTH_ROLE, MAKE_ROLE = "31", "87"
ON_THE_ARMATURE = frozenset({"61", "D+"})
_WANTED_NATURE = {"live": "always-live", "ignition": "ignition-live", "earth": "earth"}


class CleanPath(NamedTuple):
    """A way that was found: from one end of a load back to a feed, and from the other to earth."""

    near: str
    far: str
    fed: tuple[Step, ...]
    back: tuple[Step, ...]
    guards: tuple[Guard, ...]  # of the steps that have one

    def is_closed(self, live: Collection[str], position: Position, let_go: Collection[str]) -> bool:
        """Whether current takes it in a position, and by no contact of what let go."""
        feed = self.fed[-1].end if self.fed else self.near
        return feed in live and all(holds(g, position) and not _is_of(g, let_go) for g in self.guards)


def _is_of(guard: Guard, variables: Collection[str]) -> bool:
    """Whether a guard is moved by one of some variables."""
    return any(name in variables for name, _ in guard)


Found = dict[LoadKey, list[CleanPath]]


class CleanPaths:
    """Judges paths of the loom after against the loom before.

    ``found`` is what was found in other looms: most of it is there in this one as well.
    """

    def __init__(
        self,
        before: Loom,
        after: Loom,
        net: Network,
        catalogue: Catalogue,
        facts: Facts,
        found: Found | None = None,
        was: Network | None = None,
    ) -> None:
        self.before, self.after, self.net, self.was = before, after, net, was
        self.catalogue, self.facts = catalogue, facts
        self._joints = joints_of(net)
        self._found = {} if found is None else found
        self._known: Found = {}
        self._ranks: dict[str, int | None] = {}
        self._wires: dict[str, bool] = {}

    def explains(self, load: LoadKey, position: Position, let_go: Collection[str] = ()) -> bool:
        """Whether a clean path feeds the load in a position of controls and states.

        ``let_go`` are armatures whose contacts it may not use: they rest where they held before.
        """
        info = self.net.loads[load]
        joints, live = self._joints, set(self._joints.live(position))
        if load not in self._known:
            self._known[load] = [path for path in self._found.get(load, ()) if self._is_here(path, load)]
        for path in self._known[load]:
            if path.is_closed(live, position, let_go):
                return not self._was_closed(path, position)

        def may_feed(step: Step) -> bool:
            return self._may_feed(step) and not _is_of(step.guard, let_go)

        def may_return(step: Step) -> bool:
            return self._may_return(load, step) and not _is_of(step.guard, let_go)

        for near, far in ((info.a, info.b), (info.b, info.a)):
            # Looked for from the load back to the feed: far less hangs on the load's side.
            fed = joints.shortest([near], live, position, may_feed, AIDS)
            if fed is None:
                continue
            back = joints.shortest([far], {self.net.zero}, position, may_return, AIDS)
            if back is not None:
                path = CleanPath(near, far, fed, back, tuple(s.guard for s in fed + back if s.guard))
                self._known[load].append(path)
                self._found.setdefault(load, []).append(path)
                return not self._was_closed(path, position)
        return False

    def _was_closed(self, path: CleanPath, position: Position) -> bool:
        """Whether a way was there and closed in the loom before, all of it by what no swap changes."""
        if self.was is None or self.before.supply != self.after.supply:
            return False
        joints = joints_of(self.was)
        steps = path.fed + path.back
        names = {name for guard in path.guards for name, _ in guard}
        return (
            (path.fed[-1].end if path.fed else path.near) in joints.live(position)
            and all(joints.has(step) for step in steps)
            and names <= set(self.was.controls)
            and not any(self._is_changed(step.start) and self._is_changed(step.end) for step in steps)
        )

    def _is_changed(self, node: str) -> bool:
        """Whether a node belongs to a part that was another before."""
        place, _ = split_address(node)
        old, new = self.before.places.get(place), self.after.places.get(place)
        return (old and old.part) != (new and new.part)

    def _is_here(self, path: CleanPath, load: LoadKey) -> bool:
        """Whether a way found in another loom is there and clean in this one."""
        info = self.net.loads[load]
        ends = (path.near, path.far)
        return (
            ends in ((info.a, info.b), (info.b, info.a))
            and (path.back[-1].end if path.back else path.far) == self.net.zero
            and all(self._joints.has(step) for step in path.fed + path.back)
            and all(self._may_feed(step) for step in path.fed)
            and all(self._may_return(load, step) for step in path.back)
        )

    def _may_feed(self, step: Step) -> bool:
        """Whether a way back to the feed may cross a joint."""
        return self._may_cross(step, back=True)

    def _may_return(self, load: LoadKey, step: Step) -> bool:
        """Whether a load's way to earth may cross a joint."""
        return self._may_cross(step) and not (self._is_screw(step, load[0]) and self._lacked_earth(load))

    def _is_screw(self, step: Step, place: str) -> bool:
        """Whether a joint earths a place's part by its mounting, or by a new wire from that."""
        if step.through[0] != "wire":
            return step.through == ("mounting", place)
        at, mark = split_address(step.start)
        if at != place or step.through[1] in self.before.wire_index:
            return False
        return self.catalogue.parts[self.after.places[place].part].terminals[mark].by == "mounting"

    def _lacked_earth(self, load: LoadKey) -> bool:
        """Whether the part before had the load but no earth: the new mounting bypasses what switched it."""
        place, does = load
        old, new = self.before.places.get(place), self.after.places.get(place)
        if old is None or new is None or old.part == new.part:
            return False
        part = self.catalogue.parts[old.part]
        if not any(getattr(element, "does", None) == does for element in part.inside):
            return False
        return not any(self.facts.at(f"{place}:{mark}").nature == "earth" for mark in part.terminals)

    def _may_cross(self, step: Step, *, back: bool = False) -> bool:
        """Whether the current may cross a joint; ``back`` if the step is walked against the current."""
        kind = step.through[0]
        if kind == "contact":
            start, end = self.rank(step.start), self.rank(step.end)
            if back:
                start, end = end, start
            return start is None or end is None or start <= end
        if kind == "diode":
            return (step.end if back else step.start) == step.through[1]
        if kind == "wire":
            return self._wire_is_clean(step.through[1])
        return True

    def rank(self, node: str) -> int | None:
        """Rank of a terminal's role; of its conductor's role if it has none of its own."""
        if node not in self._ranks:
            self._ranks[node] = self._find_rank(node)
        return self._ranks[node]

    def _find_rank(self, node: str) -> int | None:
        role = _role(self.after, self.catalogue, node)
        if role is None:
            ends = self.after.ends_at.get(node, ())
            for wire, number in ends:
                old = self.before.end_address(wire, number)
                role = role or (old and _role(self.before, self.catalogue, old))
        if role is None:
            for wire, _ in self.after.ends_at.get(node, ()):
                for end in self.after.find(wire).ends:
                    role = role or _role(self.after, self.catalogue, end.at)
        known = self.catalogue.roles.get(role) if role is not None else None
        return known.rank if known else None

    def _wire_is_clean(self, name: str) -> bool:
        if name not in self._wires:
            self._wires[name] = self._judge_wire(name)
        return self._wires[name]

    def _judge_wire(self, name: str) -> bool:
        wire = self.after.find(name)
        if name not in self.before.wire_index:
            return self._joins_equals(wire.ends[0].at, wire.ends[-1].at)
        old = self.before.find(name)
        if len(old.ends) != len(wire.ends):
            return True  # an end was cut off; the rest is untouched
        if self._is_used_again([was.at for was in old.ends], [now.at for now in wire.ends]):
            return True
        for was, now in zip(old.ends, wire.ends, strict=True):
            if was.at == now.at and split_address(was.at)[0] in self.before.places:
                same_part = (
                    self.before.places[split_address(was.at)[0]].part
                    == self.after.places.get(
                        split_address(now.at)[0], self.before.places[split_address(was.at)[0]]
                    ).part
                )
                if same_part:
                    continue
            if not self._keeps_role(was.at, now.at):
                return False
        return True

    def _is_used_again(self, was: list[str], now: list[str]) -> bool:
        """Whether a wire that both its parts gave up joins equal roles of the new ones, as a new one may."""
        roles = {_role(self.after, self.catalogue, at) for at in now}
        given_up = all(
            self._is_changed(before) and before != after for before, after in zip(was, now, strict=True)
        )
        return len(now) == 2 and given_up and len(roles) == 1 and None not in roles

    def _keeps_role(self, was: str, now: str) -> bool:
        if now in ("loose", "unknown") or was in ("loose", "unknown") or now.startswith("joint:"):
            return True
        old = _role(self.before, self.catalogue, was)
        new = _role(self.after, self.catalogue, now)
        if old is None or new is None or old == new:
            return True
        wants = self._wants(now)
        return _WANTED_NATURE.get(wants, "") == self.facts.at(was).nature

    def _joins_equals(self, first: str, second: str) -> bool:
        a = _role(self.after, self.catalogue, first)
        b = _role(self.after, self.catalogue, second)
        if a is None or b is None or a == b or {a, b} == ON_THE_ARMATURE:
            return True
        if self._wants(first) == self._wants(second) and self._wants(first) in ("live", "ignition"):
            return True
        for wanting, giving in ((first, second), (second, first)):
            if self._is_new_output(giving):
                return True
            if _WANTED_NATURE.get(self._wants(wanting), "") == self.facts.at(giving).nature:
                return True
        return False

    def _is_new_output(self, address: str) -> bool:
        """Whether it is the make contact of a relay in a new place: its role is that of what it feeds."""
        is_new = split_address(address)[0] not in self.before.places
        return is_new and _role(self.after, self.catalogue, address) == MAKE_ROLE

    def _wants(self, address: str) -> str:
        place, mark = split_address(address)
        if place not in self.after.places:
            return "nothing"
        terminal = self.catalogue.parts[self.after.places[place].part].terminals.get(mark)
        if terminal is None:
            return "nothing"
        if terminal.wants:
            return terminal.wants
        role = self.catalogue.roles.get(terminal.role) if terminal.role else None
        return role.wants if role else "nothing"


def _role(loom: Loom, catalogue: Catalogue, address: str) -> str | None:
    place, mark = split_address(address)
    if place == "earth":
        return EARTH_ROLE
    if address in loom.feeds:
        return loom.feeds[address].role
    if place not in loom.places:
        return None
    terminals: Mapping[str, object] = catalogue.parts[loom.places[place].part].terminals
    return getattr(terminals.get(mark), "role", None)
