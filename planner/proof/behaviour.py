"""What each load does in every position: the behaviours of one loom."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import NamedTuple

from planner.circuit.appearance import judge_load
from planner.circuit.compile import Compiled, compile_network
from planner.circuit.factor import Factored
from planner.circuit.fitted import LoadKey
from planner.circuit.hidden_group import Group
from planner.circuit.network import CamLaw, LoadInfo, Network
from planner.circuit.states import States, is_present
from planner.circuit.store import Store
from planner.circuit.tree import Function, Projector, evaluate
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.wording import park_name
from planner.proof.paths import feeding_path

ORDER_DECIDES = "depends on which pulls first"

Setting = tuple[int, ...]
Start = tuple[int, ...]


def is_on(appearance: object) -> bool:
    """Whether a load does its work, as against being off or glowing by accident."""
    return appearance not in ("off", "glows", "stops off-park", False)


class Behaviour(NamedTuple):
    """One load (or cam, or hazard) as a function of controls and start state."""

    what: str
    at: str
    duty: str
    kind: str
    function: Function
    group: Group
    controls: tuple[int, ...]  # variables of the setting, hidden ones left out
    any_moment: bool = False  # a hazard counts at any moment, not only at the end

    def starts(self, setting: Mapping[int, int]) -> tuple[Start, ...]:
        """Start states of the group that can be reached in a setting."""
        own = tuple(setting[c] for c in self.group.controls)
        return self.group.starts().get(own, ())

    def appears(self, setting: Mapping[int, int], start: Start) -> object:
        """How it appears in the end, with the controls held."""
        if not self.group.hidden:
            return self.function.at(setting)
        own = tuple(setting[c] for c in self.group.controls)
        final = self.group.final(own, start)
        if self.any_moment:
            return any(self._values(setting, final.visited))
        ways = list(dict.fromkeys(self._way(setting, end, final.chatters) for end in final.ends))
        return ways[0] if len(ways) == 1 else ORDER_DECIDES

    def _way(self, setting: Mapping[int, int], states: tuple[Start, ...], chatters: bool) -> object:
        """How it appears if it ends in these states."""
        seen = self._values(setting, states)
        if len(seen) == 1:
            return seen[0]
        if self.kind == "cam":
            return "turns"
        return "chatters" if chatters else "flashes"

    def _values(self, setting: Mapping[int, int], states: tuple[Start, ...]) -> list[object]:
        """The different values of the function in some states."""
        assignment = dict(setting)
        seen: list[object] = []
        for state in states:
            assignment.update(zip(self.group.hidden, state, strict=True))
            value = self.function.at(assignment)
            if value not in seen:
                seen.append(value)
        return seen

    def moment_when_on(self, setting: Mapping[int, int], start: Start) -> dict[int, int] | None:
        """A full assignment of the final set in which the load is on; None if it never is."""
        own = tuple(setting[c] for c in self.group.controls)
        for state in self.group.final(own, start).states:
            assignment = dict(setting) | dict(zip(self.group.hidden, state, strict=True))
            if is_on(self.function.at(assignment)):
                return assignment
        return None

    def is_same_as(self, other: "Behaviour") -> bool:
        """Whether two behaviours agree in every position and from every start."""
        return self.function is other.function and self.group.identity == other.group.identity


class View:
    """One loom with everything computed of it."""

    def __init__(
        self,
        loom: Loom,
        catalogue: Catalogue,
        store: Store,
        projector: Projector,
        watched: frozenset[str] = frozenset(),
        compiled: Compiled | None = None,
    ) -> None:
        self.loom = loom
        self.net: Network = compile_network(loom, catalogue, watched, compiled)
        self.factored = Factored(self.net, store)
        self.states = States(self.factored, projector)
        self.store, self.projector = store, projector
        self.variable_number = self.factored.variables
        self.loads: dict[LoadKey, Behaviour] = {
            key: self._load(info) for key, info in self.net.loads.items() if info.is_task
        }
        self.cams: dict[LoadKey, Behaviour] = dict(self._cams())
        self._paths: dict[tuple[LoadKey, frozenset[tuple[int, int]]], tuple[str, ...]] = {}

    def _behaviour(
        self, what: str, at: str, duty: str, kind: str, function: Function, *, any_moment: bool = False
    ) -> Behaviour:
        group = self.states.group(function.support)
        visible = (function.support - self.states.hidden) | set(group.controls)
        return Behaviour(what, at, duty, kind, function, group, tuple(sorted(visible)), any_moment)

    def _load(self, info: LoadInfo) -> Behaviour:
        judge = judge_load(info.kind, info.rated_amps)
        function = self.states.function(judge, "load", *info.key)
        place, does = info.key
        return self._behaviour(does, place, info.duty, info.kind, function)

    @property
    def never_working(self) -> tuple[LoadKey, ...]:
        """The loads that do their work in no position at all."""
        return tuple(key for key, does in self.loads.items() if not any(map(is_on, does.function.values())))

    def _duty(self, law: CamLaw) -> str:
        """The road function of what turns a cam: wipers that do not park are no wipers."""
        return next((self.net.loads[load].duty for load in law.loads), "none")

    def _cams(self) -> Iterator[tuple[LoadKey, Behaviour]]:
        for law in self.net.cams.values():
            name = law.variable.rpartition("/")[2]
            number = self.variable_number[law.variable]
            values = self.net.variables[law.variable].values
            function = self.projector.branch(
                number,
                tuple(
                    self.projector.constant("parks" if index == 0 else "stops off-park")
                    for index in range(len(values))
                ),
            )
            what = park_name(name)
            yield (law.place, what), self._behaviour(what, law.place, self._duty(law), "cam", function)

    @cached_property
    def events(self) -> Mapping[tuple[object, ...], Behaviour]:
        """Behaviours by result key of all recorded besides loads: shorts, ties, potentials."""
        return dict(self._events())

    def _events(self) -> Iterator[tuple[tuple[object, ...], Behaviour]]:
        for key in sorted(self.factored.tree.keys):
            name = self.store.key_names[key]
            if name[0] in ("short", "tie", "live", "volt", "unsettled"):
                function = self.states.function(is_present, *name)
                at = str(name[1]) if len(name) > 1 else ""
                yield name, self._behaviour(str(name[0]), at, "none", "event", function, any_moment=True)

    @cached_property
    def chattering(self) -> tuple[tuple[Group, Setting], ...]:
        """Group and setting wherever relays find no rest."""
        return tuple(self._chattering())

    def _chattering(self) -> Iterator[tuple[Group, Setting]]:
        seen: set[tuple[int, ...]] = set()
        for law in self.states.laws.values():
            group = self.states.group(frozenset((law.variable,)))
            if group.hidden in seen:
                continue
            seen.add(group.hidden)
            for setting in group.chattering:
                yield group, setting

    @cached_property
    def amps_at_rest(self) -> float:
        """Current from all live poles with everything at rest: what all loads burn, by the supply's volts."""
        assignment = dict.fromkeys(self.states.names, 0)
        group = self.states.group(self.states.hidden)
        rest = tuple(0 for _ in group.hidden)
        final = group.final(tuple(0 for _ in group.controls), rest).states[0]
        assignment.update(zip(group.hidden, final, strict=True))
        tree = self.factored.point(assignment)
        watts = 0.0
        for load in {c.key: c for c in self.net.conductances}.values():
            amps = evaluate(tree, self.store.key("load", *load.key), assignment)
            watts += amps * amps * load.ohms + amps * (load.drop_v or 0.0)
        return watts / abs(self.net.volts)

    @cached_property
    def _rest(self) -> dict[str, str]:
        return {name: variable.values[0] for name, variable in self.net.variables.items()}

    def position(self, moment: Mapping[int, int]) -> dict[str, str]:
        """An assignment by number as labels by name; what it leaves open is at rest."""
        position = dict(self._rest)
        for number, value in moment.items():
            name = self.states.names[number]
            position[name] = self.net.variables[name].values[value]
        return position

    def feeding_path(self, load: LoadKey, moment: Mapping[int, int]) -> tuple[str, ...]:
        """Nodes from the live pole through a load to earth at a moment; empty if nothing feeds it."""
        known = (load, frozenset(moment.items()))
        if known not in self._paths:
            self._paths[known] = feeding_path(self.net, load, self.position(moment))
        return self._paths[known]

    def label_of(self, number: int) -> str:
        """Full name of a variable."""
        return self.states.names[number]


def controls_product(view: View) -> int:
    """How many settings the controls and conditions of a loom have together."""
    product = 1
    for name in view.net.controls:
        product *= len(view.net.variables[name].values)
    return product
