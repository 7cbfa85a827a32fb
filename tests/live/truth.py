"""What a vehicle does in one position after another, worked without the proof: slowly, and by other means.

Positions are read one at a time by ``naive.work``; hidden states are moved by their laws; currents in wires
are those of a network in which every joint has some resistance, drawn by lot.
"""

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
from naive import Reading, work

from planner.circuit.appearance import judge_load
from planner.circuit.compile import compile_network
from planner.circuit.network import Tie, node_of
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom

State = tuple[str, ...]
CARRIES_NOTHING, CARRIES_SURELY = 1e-6, 1e-4


class Truth:
    """One loom at work."""

    def __init__(self, loom: Loom, catalogue: Catalogue, addresses: Sequence[str], seed: int) -> None:
        self.net = compile_network(loom, catalogue, frozenset(addresses))
        # A diode without ohms is given few: the slow reading divides by them.
        self.net.conductances = [replace(c, ohms=c.ohms or 1e-4) for c in self.net.conductances]
        self.rest = {name: variable.values[0] for name, variable in self.net.variables.items()}
        self.controls = dict(self.rest)
        self._readings: dict[tuple[str, ...], Reading] = {}
        self._legs: dict[tuple[str, ...], dict[str, float]] = {}
        self._finals: dict[object, tuple[list[list[State]], bool]] = {}
        lots = random.Random(seed)
        self.joints = [
            (tie, lots.uniform(0.5, 2.0))
            for tie in (*self.net.ties, *(Tie(p.a, p.b, p.guard, ("fuse", p.label)) for p in self.net.passes))
        ]

    def reading(self, hidden: Mapping[str, str]) -> Reading:
        position = self.controls | hidden
        key = tuple(position.values())
        if key not in self._readings:
            self._readings[key] = work(self.net, position)
        return self._readings[key]

    # -- hidden states ---------------------------------------------------------------------------------------

    def settle(self, hidden: tuple[str, ...], start: State) -> tuple[list[list[State]], bool]:
        """The ways in which some hidden variables can end, and whether relays find no rest."""
        key = (hidden, start, tuple(self.controls.values()))
        if key not in self._finals:
            self._finals[key] = self._settle(hidden, start)
        return self._finals[key]

    def _settle(self, hidden: tuple[str, ...], start: State) -> tuple[list[list[State]], bool]:
        edges: dict[State, list[State]] = {}
        moving: set[State] = set()
        ahead = [start]
        while ahead:
            state = ahead.pop()
            if state in edges:
                continue
            here = dict(zip(hidden, state, strict=True))
            nexts = list(self._relays(here))
            if nexts:
                moving.add(state)
            edges[state] = [tuple(n[v] for v in hidden) for n in (nexts or self._slow(here))]
            ahead += edges[state]
        reach = {state: _reached(edges, state) for state in edges}
        ends = {frozenset(r) for s, r in reach.items() if all(reach[other] == r for other in r)}
        calm = [end - moving for end in ends if end - moving]
        return [sorted(end) for end in calm or ends], not calm

    def _relays(self, here: dict[str, str]) -> Iterator[dict[str, str]]:
        for law in self.net.armatures.values():
            if law.variable not in here:
                continue
            volts = abs(self.reading(here).loads.get(law.load, 0.0)) * law.ohms
            if here[law.variable] == "released" and volts >= law.pulls_in_v:
                yield here | {law.variable: "pulled"} | {s: self._after(here, s) for s in law.steps}
            elif here[law.variable] == "pulled" and volts < law.drops_out_v:
                yield here | {law.variable: "released"}

    def _slow(self, here: dict[str, str]) -> Iterator[dict[str, str]]:
        for cam in self.net.cams.values():
            loads = self.reading(here).loads
            runs = [(loads.get(k, 0.0) / self.net.loads[k].rated_amps) ** 2 >= 0.3 for k in cam.loads]
            if cam.variable in here and any(runs):
                yield here | {cam.variable: self._after(here, cam.variable)}
        for beat in self.net.beats.values():
            if beat.variable not in here:
                continue
            lit = self.reading(here | {beat.variable: "light"})
            if lit.is_tied:  # joints alone do not decide what flows between sources; its lamps tell
                dark = self.reading(here | {beat.variable: "dark"})
                amps = sum(lit.loads.values()) - sum(dark.loads.values())
            else:
                amps = max(abs(lit.labels.get(beat.label, 0.0)), abs(lit.through.get(beat.label, 0.0)))
            runs_on = amps >= beat.needs_amps
            if beat.supply:
                now, (live, back) = self.reading(here), beat.supply
                runs_on = runs_on and live in now.live and back in now.earthed
            then = {"rest": "light", "light": "dark", "dark": "light"}[here[beat.variable]]
            target = then if runs_on else "rest"
            if target != here[beat.variable]:
                yield here | {beat.variable: target}

    def _after(self, here: Mapping[str, str], name: str) -> str:
        values = self.net.variables[name].values
        return values[(values.index(here[name]) + 1) % len(values)]

    def _is_bridged(self, hidden: Mapping[str, str]) -> bool:
        """Whether a flasher is live on both sides while it is dark: joints alone do not say if it beats."""
        for beat in self.net.beats.values():
            if beat.variable in hidden:
                live = self.reading(hidden | {beat.variable: "dark"}).live
                if all(node in live for p in self.net.passes if p.label == beat.label for node in (p.a, p.b)):
                    return True
        return False

    # -- what is seen ----------------------------------------------------------------------------------------

    def load(self, name: str, hidden: Mapping[str, str]) -> str | None:
        """How a load appears, or where a cam stands; None where what feeds it is shorted or undecided."""
        if self._is_bridged(hidden):
            return None
        place, _, does = name.partition("/")
        if (cam := f"{place}/{does.removeprefix('park the ')}") in self.net.cams:
            return "parks" if hidden[cam] == self.rest[cam] else "stops off-park"
        info, reading = self.net.loads[(place, does)], self.reading(hidden)
        if info.key in reading.doubtful_loads:
            return None
        return str(judge_load(info.kind, info.rated_amps)(reading.loads.get(info.key, 0.0)))

    def terminal(self, address: str, hidden: Mapping[str, str]) -> str | None:
        """What a terminal is joined to; None where it is shorted or undecided."""
        if self._is_bridged(hidden):
            return None
        name, reading = node_of(address), self.reading(hidden)
        if name in reading.doubtful_names:
            return None
        if name in reading.live:
            return "live"
        if name in reading.earthed or name in reading.earthed_by_fuse:
            return "earth"
        return "live through a load" if name in reading.volts else "neither"

    def leg(self, name: str, hidden: Mapping[str, str]) -> str | None:
        """Whether a leg, ``wire/leg``, carries current; None where anything is shorted or undecided."""
        if self._is_bridged(hidden):
            return None
        position = self.rest | self.controls | hidden
        key = tuple(position.values())
        if key not in self._legs:
            reading = self.reading(hidden)
            is_clear = not reading.shorts and not reading.is_tied
            self._legs[key] = self._amps(position, reading) if is_clear else {}
        amps = self._legs[key].get(name)
        if amps is None:
            return None
        assert not CARRIES_NOTHING < amps < CARRIES_SURELY, (name, amps)
        return "carries current" if amps >= CARRIES_SURELY else "no current"

    def _amps(self, position: Mapping[str, str], reading: Reading) -> dict[str, float]:
        closed = [(t, o) for t, o in self.joints if all(position[v] in ok for v, ok in t.guard)]
        given: dict[str, float] = {}
        for load in self.net.conductances:
            if all(position[v] in ok for v, ok in load.guard):
                amps = reading.loads.get(load.key, 0.0)
                given[load.a] = given.get(load.a, 0.0) - amps
                given[load.b] = given.get(load.b, 0.0) + amps
        poles = {self.net.zero} | {
            s.node for s in self.net.supplies if all(position[v] in ok for v, ok in s.guard)
        }
        volts = _potentials(closed, given, poles)
        found: dict[str, float] = {}
        count: dict[str, int] = {}
        for tie, ohms in closed:
            if tie.what[0] == "wire":
                leg = count[tie.what[1]] = count.get(tie.what[1], -1) + 1
                found[f"{tie.what[1]}/{leg}"] = abs(volts[tie.a] - volts[tie.b]) / ohms
        return found


def _potentials(
    closed: Sequence[tuple[Tie, float]], given: Mapping[str, float], poles: set[str]
) -> dict[str, float]:
    """Volts that joints lose, each pole at 0; of what no pole holds, the first node."""
    beside: dict[str, list[tuple[str, float]]] = {node: [] for node in (*given, *poles)}
    for tie, ohms in closed:
        beside.setdefault(tie.a, []).append((tie.b, ohms))
        beside.setdefault(tie.b, []).append((tie.a, ohms))
    volts: dict[str, float] = {}
    for node in sorted(beside):
        if node not in volts:
            island, ahead = {node}, [node]
            while ahead:
                more = {other for other, _ in beside[ahead.pop()]} - island
                island |= more
                ahead += more
            volts |= _island(sorted(island), beside, given, poles)
    return volts


def _island(
    nodes: Sequence[str],
    beside: Mapping[str, list[tuple[str, float]]],
    given: Mapping[str, float],
    poles: set[str],
) -> dict[str, float]:
    held = poles & set(nodes) or {nodes[0]}
    free = [node for node in nodes if node not in held]
    column = {node: k for k, node in enumerate(free)}
    matrix, right = np.zeros((len(free), len(free))), np.zeros(len(free))
    for node, k in column.items():
        right[k] = given.get(node, 0.0)
        for other, ohms in beside[node]:
            if other != node:
                matrix[k, k] += 1 / ohms
                if other in column:
                    matrix[k, column[other]] -= 1 / ohms
    solved = np.linalg.solve(matrix, right) if free else right
    return dict.fromkeys(held, 0.0) | {node: float(solved[k]) for node, k in column.items()}


def _reached(edges: Mapping[State, list[State]], state: State) -> set[State]:
    seen, ahead = {state}, [state]
    while ahead:
        for nxt in edges[ahead.pop()]:
            if nxt not in seen:
                seen.add(nxt)
                ahead.append(nxt)
    return seen
