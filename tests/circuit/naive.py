"""A slow, independent way to work a network: one position at a time, all of it at once.

Closed ties are merged, what fuses join is one potential, and all loads are solved together. Where a live
pole is shorted to earth, or feeds are tied, order decides how what is between is labelled; those results
are said to be doubtful.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import product

import numpy as np

from planner.circuit.fitted import Guard, LoadKey
from planner.circuit.network import Conductance, Network, Pass

LIVE, ZERO, DOUBTFUL = "live", "zero", "doubtful"


@dataclass
class Reading:
    """What a network does in one position."""

    loads: dict[LoadKey, float] = field(default_factory=dict)
    labels: dict[str, float] = field(default_factory=dict)  # out of what each fuse and feed holds
    through: dict[str, float] = field(default_factory=dict)  # through each fuse that floats between loads
    volts: dict[str, float] = field(default_factory=dict)  # of watched names that float between the poles
    live: set[str] = field(default_factory=set)  # watched names on a live pole
    earthed: set[str] = field(default_factory=set)  # by contacts and wires
    earthed_by_fuse: set[str] = field(default_factory=set)
    fed_by: dict[str, str] = field(default_factory=dict)  # watched name: label, where there is one way only
    group_label: dict[str, str] = field(default_factory=dict)
    shorts: set[str] = field(default_factory=set)  # labels a short may be named by
    is_tied: bool = False
    may_be_tied: bool = False
    doubtful_loads: set[LoadKey] = field(default_factory=set)
    doubtful_labels: set[str] = field(default_factory=set)
    doubtful_names: set[str] = field(default_factory=set)


def _holds(guard: Guard, position: Mapping[str, str]) -> bool:
    return all(position[name] in values for name, values in guard)


class _Sets:
    """Union of names."""

    def __init__(self) -> None:
        self.parent: dict[str, str] = {}

    def find(self, name: str) -> str:
        self.parent.setdefault(name, name)
        while self.parent[name] != name:
            name = self.parent[name]
        return name

    def join(self, a: str, b: str) -> None:
        self.parent[self.find(a)] = self.find(b)


def work(net: Network, position: Mapping[str, str]) -> Reading:
    """Read a network in one full position."""
    reading = Reading()
    always, groups = _Sets(), _Sets()
    for tie in net.ties:
        if not tie.guard:
            always.join(tie.a, tie.b)
        if _holds(tie.guard, position):
            groups.join(tie.a, tie.b)
    passes = [p for p in net.passes if _holds(p.guard, position)]
    joined = _Sets()
    for p in passes:
        joined.join(groups.find(p.a), groups.find(p.b))
    feeds = [(groups.find(s.node), s.label) for s in net.supplies if _holds(s.guard, position)]
    zero = groups.find(net.zero)
    together = _Joined(groups, joined, passes, feeds, zero)
    poles = _poles(reading, together)

    def pole(name: str) -> str:
        """LIVE, ZERO, DOUBTFUL or the potential a name floats at."""
        if always.find(name) == always.find(net.zero):
            return ZERO
        home = joined.find(groups.find(name))
        return poles.get(home, home)

    loads = [load for load in net.conductances if _holds(load.guard, position)]
    _solve(net, reading, loads, pole)
    for name in net.watched:
        at = pole(name)
        if at == DOUBTFUL:
            reading.doubtful_names.add(name)
        elif at == LIVE:
            reading.live.add(name)
            if groups.find(name) in reading.group_label:
                reading.fed_by[name] = reading.group_label[groups.find(name)]
        elif at == ZERO:
            is_direct = groups.find(name) == zero
            (reading.earthed if is_direct else reading.earthed_by_fuse).add(name)
    _label_amps(reading, loads, together, poles)
    return reading


@dataclass
class _Joined:
    """What is joined in one position: by contacts (groups) and further by fuses."""

    groups: _Sets
    joined: _Sets
    passes: list[Pass]
    feeds: list[tuple[str, str]]  # group, label
    zero: str


def _poles(reading: Reading, at: _Joined) -> dict[str, str]:
    """What holds each joined potential, the shorts and the ties; each group gets a label."""
    groups, joined, passes, feeds = at.groups, at.joined, at.passes, at.feeds
    poles = {joined.find(at.zero): ZERO}
    members: dict[str, set[str]] = {}
    for name in list(groups.parent):
        members.setdefault(joined.find(groups.find(name)), set()).add(groups.find(name))
    for group, label in feeds:
        home = joined.find(group)
        members.setdefault(home, set()).add(group)
        is_short = poles.get(home) in (ZERO, DOUBTFUL)
        poles[home] = DOUBTFUL if is_short else LIVE
        if is_short:
            reading.shorts.add(label)
    for home, held in poles.items():
        inside = [p for p in passes if joined.find(groups.find(p.a)) == home]
        here = [(group, label) for group, label in feeds if joined.find(group) == home]
        bridged = [p for p in inside if groups.find(p.a) == groups.find(p.b)]
        ways = len(inside) - len(bridged) + len(here)
        is_tied = ways > len(members.get(home, {home}))
        loops = is_tied or bool(bridged)  # a fuse bridged before it is fed is not seen as a tie
        if held == DOUBTFUL:
            reading.shorts |= {p.label for p in inside}
            reading.may_be_tied |= loops
        elif held == LIVE:
            reading.is_tied |= is_tied
            reading.may_be_tied |= loops
            if loops:
                reading.doubtful_labels |= {label for _, label in here} | {p.label for p in inside}
            else:
                _name_groups(reading, groups, inside, here)
        if held == DOUBTFUL:
            reading.doubtful_labels |= {label for _, label in here} | {p.label for p in inside}
    return poles


def _name_groups(reading: Reading, groups: _Sets, inside: list[Pass], here: list[tuple[str, str]]) -> None:
    """Each group of a tree is fed through one fuse."""
    reading.group_label |= dict(here)
    for _ in inside:
        for p in inside:
            a, b = groups.find(p.a), groups.find(p.b)
            for near, far in ((a, b), (b, a)):
                if near in reading.group_label and far not in reading.group_label:
                    reading.group_label[far] = p.label


def _solve(net: Network, reading: Reading, loads: list[Conductance], pole: object) -> None:
    """Node by node, all loads at once; every pattern of LEDs is tried."""
    ends = {i: (pole(load.a), pole(load.b)) for i, load in enumerate(loads)}  # type: ignore[operator]
    spoilt = _spoilt(ends.values())
    usable = {i: pair for i, pair in ends.items() if not spoilt & set(pair) and pair[0] != pair[1]}
    for i, pair in ends.items():
        if spoilt & set(pair):
            reading.doubtful_loads.add(loads[i].key)
    reading.doubtful_names |= {n for n in net.watched if pole(n) in spoilt}  # type: ignore[operator]
    leds = [i for i in usable if loads[i].drop_v is not None]
    for pattern in product((False, True), repeat=len(leds)):
        on = dict(zip(leds, pattern, strict=True))
        volts = _voltages(net.volts, loads, {i: p for i, p in usable.items() if on.get(i, True)})
        amps = {
            i: (volts[a] - volts[b] - (loads[i].drop_v or 0.0)) / loads[i].ohms if a in volts else 0.0
            for i, (a, b) in usable.items()
            if on.get(i, True)
        }
        if all(amps[i] >= 0 for i in leds if on[i]) and _stay_blocked(loads, usable, on, volts):
            for i, value in amps.items():
                reading.loads[loads[i].key] = reading.loads.get(loads[i].key, 0.0) + value
            for name in net.watched:
                at = pole(name)  # type: ignore[operator]
                if at not in (LIVE, ZERO, DOUBTFUL) and abs(volts.get(at, 0.0)) > 1e-9:
                    reading.volts[name] = volts[at]
            return
    raise AssertionError("no pattern of LEDs holds")


def _spoilt(ends: Iterable[tuple[str, str]]) -> set[str]:
    """What hangs on a doubtful potential, however far."""
    spoilt = {DOUBTFUL}
    grown = True
    while grown:
        more = {n for pair in ends if spoilt & set(pair) for n in pair} - spoilt - {LIVE, ZERO}
        spoilt |= more
        grown = bool(more)
    return spoilt


def _voltages(supply: float, loads: list[Conductance], live: dict[int, tuple[str, str]]) -> dict[str, float]:
    volts = {LIVE: supply, ZERO: 0.0}
    reached = set(volts)
    while more := {n for pair in live.values() if reached & set(pair) for n in pair} - reached:
        reached |= more
    nodes = sorted(reached - set(volts))
    column = {node: k for k, node in enumerate(nodes)}
    matrix, right = np.zeros((len(nodes), len(nodes))), np.zeros(len(nodes))
    for i, (a, b) in live.items():
        for here, there, sign in ((a, b, 1.0), (b, a, -1.0)):
            if here in column:
                matrix[column[here], column[here]] += 1 / loads[i].ohms
                right[column[here]] += sign * (loads[i].drop_v or 0.0) / loads[i].ohms
                if there in column:
                    matrix[column[here], column[there]] -= 1 / loads[i].ohms
                else:
                    right[column[here]] += volts[there] / loads[i].ohms
    solved = np.linalg.solve(matrix, right) if nodes else right
    return volts | {node: float(solved[k]) for node, k in column.items()}


def _stay_blocked(
    loads: list[Conductance], ends: dict[int, tuple[str, str]], on: dict[int, bool], volts: dict[str, float]
) -> bool:
    """Whether what floats can have voltages at which no blocked LED would conduct."""
    least = dict(volts)
    for _ in range(len(ends) + 2):
        before = dict(least)
        for i, (a, b) in ends.items():
            drop = loads[i].drop_v or 0.0
            both = [(a, b, drop), (b, a, -drop)] if on.get(i, True) else [(a, b, drop)]
            for source, target, fall in both:
                if source in least and not (on.get(i, True) and source in volts):
                    level = least[source] - fall
                    if target in volts:
                        if level > volts[target] + 1e-9:
                            return False
                    else:
                        least[target] = max(level, least.get(target, level))
        if least == before:
            return True
    return False


def _label_amps(reading: Reading, loads: list[Conductance], at: _Joined, poles: dict[str, str]) -> None:
    """What each fuse and feed carries into the loads behind it; nothing is said of loops."""
    groups, joined, passes, zero = at.groups, at.joined, at.passes, at.zero
    leaving: dict[str, float] = {}
    for load in loads:
        if load.key in reading.doubtful_loads:
            for end in (load.a, load.b):
                label = reading.group_label.get(groups.find(end))
                if label:
                    reading.doubtful_labels.add(label)
            continue
        amps = reading.loads.get(load.key, 0.0)
        for end, sign in ((load.a, 1.0), (load.b, -1.0)):
            group = groups.find(end)
            leaving[group] = leaving.get(group, 0.0) + sign * amps
    for group, label in reading.group_label.items():
        if group in leaving:
            reading.labels[label] = reading.labels.get(label, 0.0) + leaving[group]
    for p in passes:
        home = joined.find(groups.find(p.a))
        if poles.get(home) in (LIVE, DOUBTFUL):
            continue
        inside = [q for q in passes if joined.find(groups.find(q.a)) == home]
        beyond = {groups.find(p.b)}
        while (
            more := {
                g
                for q in inside
                if q is not p and beyond & {groups.find(q.a), groups.find(q.b)}
                for g in (groups.find(q.a), groups.find(q.b))
            }
            - beyond
        ):
            beyond |= more
        if groups.find(p.a) in beyond:
            reading.doubtful_labels.add(p.label)  # one of several ways: how it shares is not determined
            continue
        side, sign = (beyond, 1.0) if zero not in beyond else (None, -1.0)
        if side is None:
            others = {groups.find(n) for n in groups.parent if joined.find(groups.find(n)) == home}
            side = others - beyond
        if any(
            load.key in reading.doubtful_loads and groups.find(e) in side
            for load in loads
            for e in (load.a, load.b)
        ):
            reading.doubtful_labels.add(p.label)
        reading.through[p.label] = sign * sum(leaving.get(g, 0.0) for g in side)
