"""Blocks solved from their hub give the class of every result that exact solving gives."""

import random
from itertools import product

import pytest

from planner.circuit.appearance import judge_load
from planner.circuit.factor import Factored
from planner.circuit.hub import HubSolver
from planner.circuit.network import BeatLaw, Conductance, LoadInfo, Network, Pass, Supply, Tie, Variable
from planner.circuit.store import Store
from planner.circuit.tree import evaluate

VOLTS = 12.0


def switch(net: Network, name: str) -> Variable:
    variable = Variable(name, "control", ("off", "on"), ("off", "on"))
    net.variables[name] = variable
    return variable


def add_load(net: Network, name: str, a: str, b: str, ohms: float, rated_ohms: float) -> None:
    key = ("here", name)
    net.conductances.append(Conductance(key, a, b, ohms))
    net.loads[key] = LoadInfo(key, "lamp", "none", ohms, VOLTS / rated_ohms, a, b, True)


def random_star(seed: int) -> Network:
    """Arms on one floating node: lamps behind switches, some fed, some through a fuse or a flasher."""
    chance = random.Random(seed)
    net = Network(VOLTS)
    net.supplies.append(Supply("battery", (), "source:battery"))
    for number in range(chance.randint(4, 7)):
        name = f"arm {number}"
        switch(net, name)
        on = ((name, frozenset({"on"})),)
        ohms = chance.choice((2.0, 7.0, 30.0, 65.0))
        kind = chance.choice(("earthed", "earthed", "fed", "fused", "flasher", "tying", "ganged"))
        node = f"node {number}"
        if kind == "earthed":
            net.ties.append(Tie("hub", node, on, ("contact",)))
            add_load(net, name, node, "earth", ohms, ohms)
            add_load(net, f"{name} b", node, "earth", 3 * ohms, ohms)
        elif kind == "fed":
            net.ties.append(Tie("battery", node, on, ("contact",)))
            add_load(net, name, node, "hub", ohms, ohms)
        elif kind == "ganged":  # one knob, two contacts, each with a switch of its own behind it
            for side in ("left", "right"):
                own = f"{side} {number}"
                switch(net, own)
                net.ties.append(Tie("hub", f"{node} {side}", on, ("contact",)))
                net.ties.append(
                    Tie(f"{node} {side}", f"lamp {own}", ((own, frozenset({"on"})),), ("contact",))
                )
                add_load(net, own, f"lamp {own}", "earth", ohms, ohms)
        elif kind == "fused":
            net.passes.append(Pass("hub", node, (), f"fuse:{number}", 5.0))
            net.ties.append(Tie(node, f"{node}b", on, ("contact",)))
            add_load(net, name, f"{node}b", "earth", ohms, ohms)
        elif kind == "flasher":
            net.passes.append(Pass("hub", node, on, f"flasher:{number}"))
            add_load(net, name, node, "earth", ohms, ohms)
            net.beats[name] = BeatLaw(name, f"flasher:{number}", VOLTS / ohms / 3, None)
        else:
            where = chance.choice(("earth", "battery"))
            net.ties.append(Tie("hub", node, on, ("contact",)))
            other = f"other {number}"
            switch(net, other)
            net.ties.append(Tie(node, where, ((other, frozenset({"on"})),), ("contact",)))
    add_load(net, "pilot", "battery", "hub", chance.choice((5.0, 65.0)), 65.0)
    net.watched = {"hub", "node 0"}
    return net


@pytest.mark.parametrize("seed", range(120))
def test_every_class_from_the_hub_is_the_exact_one(seed: int) -> None:
    net = random_star(seed)
    quick, exact = Factored(net, Store(VOLTS, by_class=True)), Factored(net, Store(VOLTS))
    chance = random.Random(seed)
    for _ in range(60):
        values = {name: chance.randrange(2) for name in net.variables}
        here = {quick.variables[n]: v for n, v in values.items()}
        there = {exact.variables[n]: v for n, v in values.items()}
        short = _is_shorted(quick, here)
        assert short == _is_shorted(exact, there)
        if short:
            continue  # what loads do while a fuse blows is nobody's business
        for key, info in net.loads.items():
            judge = judge_load(info.kind, info.rated_amps)
            got = judge(evaluate(quick.tree, quick.store.key("load", *key), here))
            assert got == judge(evaluate(exact.tree, exact.store.key("load", *key), there)), (key, values)
        for law in net.beats.values():
            assert _beats(quick, law, here) == _beats(exact, law, there), (law.label, values)
        for node in net.watched:
            for kind in ("live", "zero", "volt"):
                got = evaluate(quick.tree, quick.store.key(kind, node), here) != 0.0
                assert got == (evaluate(exact.tree, exact.store.key(kind, node), there) != 0.0), (kind, node)


def _is_shorted(factored: Factored, position: dict[int, int]) -> bool:
    key = factored.store.key("short", "source:battery")
    return evaluate(factored.tree, key, position) != 0.0


def _beats(factored: Factored, law: BeatLaw, position: dict[int, int]) -> bool:
    store = factored.store
    return any(
        abs(evaluate(factored.tree, store.key(kind, law.label), position)) >= law.needs_amps
        for kind in ("amps", "through")
    )


def twenty_lamps(hub: str) -> Network:
    """As many switched lamps on one floating node, and a pilot lamp that feeds it."""
    net = Network(VOLTS)
    net.supplies.append(Supply("battery", (), "source:battery"))
    for number in range(20):
        name = f"lamp {number}"
        switch(net, name)
        net.ties.append(Tie(hub, f"node {number}", ((name, frozenset({"on"})),), ("contact",)))
        add_load(net, name, f"node {number}", "earth", 7.0 + number / 10, 7.0)
    add_load(net, "pilot", "battery", hub, 65.0, 65.0)
    return net


def test_many_lamps_on_one_floating_node_need_few_operating_points() -> None:
    store = Store(VOLTS, by_class=True)
    factored = Factored(twenty_lamps("hub"), store)
    all_off = dict.fromkeys(factored.variables.values(), 0)
    one_on = all_off | {factored.variables["lamp 3"]: 1}
    assert evaluate(factored.tree, store.key("load", "here", "pilot"), all_off) == 0.0
    assert evaluate(factored.tree, store.key("load", "here", "pilot"), one_on) > 0.15
    assert store.solved < 2000, "of 2^20 positions"


def test_another_block_with_the_same_arms_is_not_solved_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """A wire that moved the node to another terminal gives it another name, and the arms another order."""
    store = Store(VOLTS, by_class=True)
    first = Factored(twenty_lamps("hub"), store)
    monkeypatch.delattr(HubSolver, "solve")
    net = twenty_lamps("a node that sorts first")
    net.ties[10:] = [Tie(tie.b, tie.a, tie.guard, tie.what) for tie in net.ties[10:]]
    assert Factored(net, store).tree is first.tree


def test_part_of_equal_ohms_and_another_rating_is_judged_by_its_own() -> None:
    """A 6 V lamp of 6 W and a 12 V lamp of 24 W have 6 ohms both; at one current one is full, one dim."""

    def star(rated_ohms: float) -> Network:
        net = Network(VOLTS)
        net.supplies.append(Supply("battery", (), "source:battery"))
        for number in range(6):
            switch(net, f"lamp {number}")
            here = ((f"lamp {number}", frozenset({"on"})),)
            net.ties.append(Tie("hub", f"node {number}", here, ("contact",)))
            rated = rated_ohms if number == 0 else 2.4
            add_load(net, f"lamp {number}", f"node {number}", "earth", 6.0 if number == 0 else 2.4, rated)
        add_load(net, "pilot", "battery", "hub", 2.4, 2.4)
        return net

    store = Store(VOLTS, by_class=True)
    for rated_ohms in (12.0, 6.0, 12.0):  # volts / rated ohms are the rated amps
        net = star(rated_ohms)
        quick, exact = Factored(net, store), Factored(net, Store(VOLTS))
        for row in product(range(2), repeat=6):
            names = [f"lamp {number}" for number in range(6)]
            for key, info in net.loads.items():
                judge = judge_load(info.kind, info.rated_amps)
                here = {quick.variables[n]: v for n, v in zip(names, row, strict=True)}
                there = {exact.variables[n]: v for n, v in zip(names, row, strict=True)}
                got = judge(evaluate(quick.tree, store.key("load", *key), here))
                assert got == judge(evaluate(exact.tree, exact.store.key("load", *key), there)), (key, row)
