"""The factored tree against working every position of hundreds of random networks one by one."""

from itertools import product

import pytest
from naive import Reading, work
from random_networks import make_network
from small_looms import Bench, make_parts

from planner.circuit.factor import Factored
from planner.circuit.network import Conductance, Network, Tie, Variable
from planner.circuit.store import Store
from planner.circuit.tree import evaluate

NETWORKS = 300
TOGETHER = 10  # networks checked in one test
MOST_POSITIONS = 300


@pytest.mark.parametrize("first", range(0, NETWORKS, TOGETHER))
def test_every_position_agrees_with_working_it_alone(first: int) -> None:
    for seed in range(first, first + TOGETHER):
        net = make_network(seed)
        store = Store(net.volts)
        factored = Factored(net, store)
        names = list(net.variables)
        for values in list(product(*(net.variables[n].values for n in names)))[:MOST_POSITIONS]:
            position = dict(zip(names, values, strict=True))
            assignment = {
                factored.variables[n]: net.variables[n].values.index(v) for n, v in position.items()
            }
            found = {
                key: number
                for index, key in enumerate(list(store.key_names))
                if (number := evaluate(factored.tree, index, assignment))
            }
            compare(found, work(net, position), f"network {seed} in {position}")


def compare(found: dict[tuple[object, ...], float], reading: Reading, where: str) -> None:
    """Every result of one position."""
    of = {
        kind: {k[1:]: v for k, v in found.items() if k[0] == kind}
        for kind in ("load", "amps", "through", "volt", "by")
    }
    assert ("unsettled",) not in found, where
    for key in {*reading.loads, *of["load"]} - reading.doubtful_loads:
        assert of["load"].get(key, 0.0) == pytest.approx(reading.loads.get(key, 0.0), abs=1e-7), (where, key)
    for kind, expected in (("amps", reading.labels), ("through", reading.through)):
        carried = {str(k[0]): amps for k, amps in of[kind].items()}
        for label in {*expected, *carried} - reading.doubtful_labels:
            amps = expected.get(label, 0.0)
            assert carried.get(label, 0.0) == pytest.approx(amps, abs=1e-7), (where, kind, label)
    shorts = {str(k[1]) for k in found if k[0] == "short"}
    assert bool(shorts) == bool(reading.shorts), where
    assert shorts <= reading.shorts, where
    tied = any(k[0] == "tie" for k in found)
    assert tied == reading.is_tied or (tied and reading.may_be_tied), where
    for kind, expected in (("live", reading.live), ("zero", reading.earthed)):
        names = {str(k[1]) for k in found if k[0] == kind} - reading.earthed_by_fuse
        assert names - reading.doubtful_names == expected - reading.doubtful_names, (where, kind)
    volts = {str(k[0]): v for k, v in of["volt"].items() if k[0] not in reading.doubtful_names}
    assert volts == pytest.approx(
        {n: v for n, v in reading.volts.items() if n not in reading.doubtful_names}
    ), where
    for name, label in of["by"]:
        if name in reading.fed_by:
            assert label == reading.fed_by[str(name)], (where, name)


def test_random_networks_show_everything_that_is_compared() -> None:
    """The comparison is only worth something if shorts, ties, currents and potentials all occur."""
    seen: dict[str, int] = {}
    for seed in range(NETWORKS):
        net = make_network(seed)
        store = Store(net.volts)
        factored = Factored(net, store)
        for key in factored.tree.keys:
            kind = str(store.key_names[key][0])
            seen[kind] = seen.get(kind, 0) + 1
        for kind, some in (("armature", net.armatures), ("cam", net.cams), ("beat", net.beats)):
            seen[kind] = seen.get(kind, 0) + len(some)
    assert all(
        seen.get(kind, 0) > 10 for kind in ("load", "amps", "through", "short", "tie", "live", "zero", "volt")
    )
    assert all(seen[kind] > 10 for kind in ("armature", "cam", "beat"))


def test_equal_blocks_of_two_networks_are_solved_once() -> None:
    net = make_network(7)
    store = Store(net.volts)
    first = Factored(net, store)
    solved = store.solved
    second = Factored(make_network(7), store)
    assert second.tree is first.tree
    assert store.solved - solved <= solved // 2


def test_loads_that_nothing_feeds_are_not_enumerated_though_a_node_there_is_watched() -> None:
    names = [f"v{n}" for n in range(12)]
    net = Network(volts=12.0, watched={"hub"})
    net.variables = {n: Variable(n, "control", ("open", "shut"), ("open", "shut")) for n in names}
    net.ties = [Tie(f"far {n}", "earth", ((n, frozenset({"shut"})),), ("contact", n)) for n in names]
    net.ties.append(Tie("hub", "far v0", ((names[1], frozenset({"shut"})),), ("contact", "hub")))
    net.conductances = [Conductance(("at", n), "hub", f"far {n}", 3.0) for n in names]
    store = Store(net.volts)
    factored = Factored(net, store)
    zero = store.key("zero", "hub")
    for first, second in product((0, 1), repeat=2):
        position = dict.fromkeys(factored.variables.values(), 1)
        position |= {factored.variables["v0"]: first, factored.variables["v1"]: second}
        assert evaluate(factored.tree, zero, position) == float(first and second)
    assert store.solved <= 4


FUSE_BOX = """
box: {terminals: {B: "30", "1": "30"}, inside: [{fuse: {between: [B, "1"], amps: 8}}]}
switch:
  terminals: {a: "", b: ""}
  inside: [{control: {name: way, positions: ["off", "on"]}}, {contact: {join: [a, b], when: {way: "on"}}}]
lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 24, does: shine}}]}
unit:
  terminals: {"49": "49", 49a: 49a, E: "31"}
  inside:
    - flasher: {between: ["49", 49a], kind: electronic, needs_amps: 0.5, name: beat, supply: ["49", E]}
"""
FUSED_AFTER_FLASHER = Bench(
    make_parts(FUSE_BOX),
    {"unit": "unit", "box": "box", "lamp": "lamp"},
    ["feed:live > unit:49", "unit:49a > box:B", "box:1 > lamp:a", "lamp:b > unit:E > earth"],
    {"live": {"role": "30"}},
)
BRIDGED_FUSE = Bench(
    make_parts(FUSE_BOX),
    {"box": "box", "lamp": "lamp"},
    ["feed:live > box:B > box:1 > lamp:a", "lamp:b > earth"],
    {"live": {"role": "30"}},
)
FUSED_RETURN = Bench(
    make_parts(FUSE_BOX),
    {"lamp": "lamp", "box": "box", "unit": "unit", "turn": "lamp"},
    [
        "feed:live > lamp:a > unit:49",
        "lamp:b > box:1 > unit:E",
        "box:B > earth",
        "unit:49a > turn:a",
        "turn:b > earth",
    ],
    {"live": {"role": "30"}},
)


def test_flasher_beats_through_a_fuse_behind_it() -> None:
    assert FUSED_AFTER_FLASHER.shows("lamp/shine") == "flashes"


def test_fuse_bridged_by_a_wire_is_found() -> None:
    assert BRIDGED_FUSE.events({}, "tie") == {("feed:live", "fuse:box:1")}


def test_earth_through_a_fuse_is_earth() -> None:
    assert FUSED_RETURN.shows("turn/shine") == "flashes"


def test_current_at_rest_is_counted_once_whatever_fuses_it_passes() -> None:
    """A 24 W lamp at 12 V takes 2 A, through a fuse in its feed or in its return, either way round."""
    for wires in (
        ["feed:live > box:B", "box:1 > lamp:a", "lamp:b > earth"],
        ["feed:live > lamp:a", "lamp:b > box:B", "box:1 > earth"],
        ["feed:live > lamp:a", "lamp:b > box:1", "box:B > earth"],
    ):
        bench = Bench(make_parts(FUSE_BOX), {"lamp": "lamp", "box": "box"}, wires, {"live": {"role": "30"}})
        assert bench.view.amps_at_rest == pytest.approx(2.0)
