"""Hidden state: final sets and start states of random networks against a plain simulation of the moves."""

from collections.abc import Iterator, Mapping
from itertools import product

import pytest
from random_networks import make_network

from planner.circuit.factor import Factored
from planner.circuit.network import Network
from planner.circuit.states import States
from planner.circuit.store import Store
from planner.circuit.tree import Projector, evaluate

NETWORKS = 240
TOGETHER = 20
RUNS_FROM_SHARE = 0.3

State = dict[str, str]


class Simulation:
    """Moves armatures, steps, cams and beats by their laws, one at a time, and sees where that ends."""

    def __init__(self, net: Network, factored: Factored) -> None:
        self.net, self.factored = net, factored
        self.hidden = sorted(net.hidden, key=factored.variables.__getitem__)
        self.controls = net.controls
        self._moves: dict[tuple[str, ...], tuple[bool, list[State]]] = {}
        self._amps: dict[tuple[object, ...], float] = {}

    def amps(self, state: Mapping[str, str], *key: object) -> float:
        wanted = (tuple(state[name] for name in self.net.variables), key)
        if wanted not in self._amps:
            self._amps[wanted] = self._evaluate(state, key)
        return self._amps[wanted]

    def _evaluate(self, state: Mapping[str, str], key: tuple[object, ...]) -> float:
        numbers = {
            number: self.net.variables[name].values.index(state[name])
            for name, number in self.factored.variables.items()
        }
        return evaluate(self.factored.tree, self.factored.store.key(*key), numbers)

    def _after(self, state: State, name: str, by: int = 1) -> str:
        values = self.net.variables[name].values
        return values[(values.index(state[name]) + by) % len(values)]

    def relays(self, state: State) -> Iterator[State]:
        for law in self.net.armatures.values():
            volts = abs(self.amps(state, "load", *law.load)) * law.ohms
            if state[law.variable] == "released" and volts >= law.pulls_in_v:
                steps = {step: self._after(state, step) for step in law.steps}
                yield state | steps | {law.variable: "pulled"}
            if state[law.variable] == "pulled" and volts < law.drops_out_v:
                yield state | {law.variable: "released"}

    def slow(self, state: State) -> Iterator[State]:
        for cam in self.net.cams.values():
            for load in cam.loads:
                rated = self.net.loads[load].rated_amps
                if (self.amps(state, "load", *load) / rated) ** 2 >= RUNS_FROM_SHARE:
                    yield state | {cam.variable: self._after(state, cam.variable)}
                    break
        for beat in self.net.beats.values():
            light = state | {beat.variable: "light"}
            runs = any(abs(self.amps(light, k, beat.label)) >= beat.needs_amps for k in ("amps", "through"))
            now = state[beat.variable]
            then = {"rest": "light", "light": "dark", "dark": "light"}[now] if runs else "rest"
            if then != now:
                yield state | {beat.variable: then}

    def walk(self, start: State) -> dict[tuple[str, ...], tuple[bool, list[State]]]:
        """Every state that can be reached: whether relays move there, and where to."""
        found: dict[tuple[str, ...], tuple[bool, list[State]]] = {}
        ahead = [start]
        while ahead:
            state = ahead.pop()
            if self.named(state) not in found:
                found[self.named(state)] = self.moves(state)
                ahead += found[self.named(state)][1]
        return found

    def moves(self, state: State) -> tuple[bool, list[State]]:
        """Whether relays move, and where to; slow things move only when relays rest."""
        full = tuple(state[name] for name in self.net.variables)
        if full not in self._moves:
            relays = list(self.relays(state))
            self._moves[full] = (bool(relays), relays or list(self.slow(state)))
        return self._moves[full]

    def named(self, state: State) -> tuple[str, ...]:
        return tuple(state[name] for name in self.hidden)

    def ends(self, start: State) -> tuple[set[frozenset[tuple[str, ...]]], bool]:
        """The sets of states it can end in, and whether it finds no rest whatever the order."""
        walk = self.walk(start)

        def ahead_of(name: tuple[str, ...]) -> frozenset[tuple[str, ...]]:
            seen = {name}
            while more := {self.named(s) for n in seen for s in walk[n][1]} - seen:
                seen |= more
            return frozenset(seen)

        reach = {name: ahead_of(name) for name in walk}
        last = {reach[n] for n in walk if all(reach[m] == reach[n] for m in reach[n])}
        quiet = {frozenset(n for n in end if not walk[n][0]) for end in last} - {frozenset()}
        return (quiet or last), not quiet


def _states(seed: int) -> tuple[Network, States, Simulation]:
    net = make_network(seed, most_leds=1)
    factored = Factored(net, Store(net.volts))
    return net, States(factored, Projector()), Simulation(net, factored)


@pytest.mark.parametrize("first", range(0, NETWORKS, TOGETHER))
def test_final_sets_agree_with_a_plain_simulation(first: int) -> None:
    for seed in range(first, first + TOGETHER):
        net, states, simulation = _states(seed)
        group = states.group(states.hidden)
        hidden = [states.names[v] for v in group.hidden]
        for setting in product(*(net.variables[c].values for c in simulation.controls)):
            position = dict(zip(simulation.controls, setting, strict=True))
            own = tuple(
                net.variables[states.names[c]].values.index(position[states.names[c]]) for c in group.controls
            )
            for values in product(*(net.variables[name].values for name in hidden)):
                start = dict(zip(hidden, values, strict=True))
                final = group.final(own, _numbers(net, hidden, start))
                ends, chatters = simulation.ends(position | start)
                assert {_texts(net, hidden, end) for end in final.ends} == ends, (seed, position, start)
                assert final.chatters == chatters, (seed, position, start)


@pytest.mark.parametrize("first", range(0, NETWORKS, TOGETHER))
def test_start_states_are_those_that_moves_of_controls_reach(first: int) -> None:
    for seed in range(first, first + TOGETHER):
        net, states, simulation = _states(seed)
        group = states.group(states.hidden)
        hidden = [states.names[v] for v in group.hidden]
        controls = [states.names[v] for v in group.controls]
        rest = {name: v.values[0] for name, v in net.variables.items()}
        reached: dict[tuple[str, ...], set[tuple[str, ...]]] = {}
        ahead = [rest]
        while ahead:
            state = ahead.pop()
            setting = tuple(state[c] for c in controls)
            begin = tuple(state[h] for h in hidden)
            if begin in reached.setdefault(setting, set()):
                continue
            reached[setting].add(begin)
            for end in {name for ends in simulation.ends(state)[0] for name in ends}:
                settled = state | dict(zip(simulation.hidden, end, strict=True))
                settled |= dict.fromkeys(net.beats, "rest")
                ahead.append(settled)
                ahead += [
                    settled | {c: value}
                    for c in controls
                    for value in net.variables[c].values
                    if value != state[c]
                ]
        found = {
            tuple(net.variables[c].values[v] for c, v in zip(controls, setting, strict=True)): {
                tuple(net.variables[h].values[v] for h, v in zip(hidden, start, strict=True))
                for start in starts
            }
            for setting, starts in group.starts().items()
        }
        assert found == reached, seed


def _numbers(net: Network, names: list[str], state: Mapping[str, str]) -> tuple[int, ...]:
    return tuple(net.variables[name].values.index(state[name]) for name in names)


def _texts(net: Network, names: list[str], end: tuple[tuple[int, ...], ...]) -> frozenset[tuple[str, ...]]:
    return frozenset(
        tuple(net.variables[n].values[v] for n, v in zip(names, state, strict=True)) for state in end
    )


def test_random_networks_chatter_flash_and_race() -> None:
    """The comparison is only worth something if all of it occurs."""
    chattering = moving = racing = 0
    for seed in range(NETWORKS):
        _, states, _ = _states(seed)
        group = states.group(states.hidden)
        for setting, starts in group.starts().items():
            for start in starts:
                final = group.final(setting, start)
                chattering += final.chatters
                racing += final.depends_on_order
                moving += len(final.states) > 1 and not final.chatters
    assert min(chattering, moving, racing) > 5, (chattering, moving, racing)
