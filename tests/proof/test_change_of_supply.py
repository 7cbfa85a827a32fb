"""A loom after at another supply: each side is computed with its own, and compared by appearance."""

from collections.abc import Iterator, Mapping
from itertools import product

import pytest
from small_looms import ROLES, Bench, make_parts, prove
from tiny import outcomes, unsafe

from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.proof.compare import Finding
from planner.proof.prove import Prover

PARTS = make_parts(
    """
    switch:
      terminals: {"30": "30", "58": "58"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
    three-way:
      terminals: {"30": "30", "58": "58", "56": "56"}
      inside:
        - control: {name: light, positions: ["off", dim, "on"]}
        - resistor: {between: ["30", "58"], ohms: 6, when: {light: dim}}
        - contact: {join: ["30", "58"], when: {light: "on"}}
        - contact: {join: ["30", "56"], when: {light: "on"}}
    lamp-6:
      volts: 6
      terminals: {"58": "58", "31": "31"}
      inside: [{lamp: {between: ["58", "31"], watts: 6, does: shine}}]
    lamp-12:
      terminals: {"58": "58", "31": "31"}
      inside: [{lamp: {between: ["58", "31"], watts: 6, does: shine}}]
    lamp-24:
      volts: 24
      terminals: {"58": "58", "31": "31"}
      inside: [{lamp: {between: ["58", "31"], watts: 6, does: shine}}]
    led:
      terminals: {"58": "58", "31": "31"}
      inside: [{led: {between: ["58", "31"], watts: 3, does: shine}}]
    relay-12:
      terminals: {"86": "86", "85": "85", "30": "30", "87": "87"}
      inside:
        - coil: {between: ["86", "85"], ohms: 90, pulls_in_v: 7.5, drops_out_v: 3, name: armature}
        - contact: {join: ["30", "87"], when: {armature: pulled}}
    """
)
LIVE = {"live": {"role": "30"}}
LAMPS = ["feed:live > dash:30", "out = dash:58 > rear:58", "rear:31 > earth"]
RELAY = [
    "feed:live > dash:30 > relay:30",
    "in = dash:58 > relay:86",
    "relay:85 > earth",
    "out = relay:87 > rear:58",
    "rear:31 > earth",
]
SUPPLIES = [(6.0, "negative"), (6.0, "positive"), (12.0, "negative"), (12.0, "positive"), (24.0, "negative")]


def lamps(part: str, volts: float = 12.0, earthed: str = "negative", switch: str = "switch") -> Bench:
    return Bench(PARTS, {"dash": switch, "rear": part}, LAMPS, LIVE, volts=volts, earthed=earthed)


def relays(part: str, volts: float = 12.0, earthed: str = "negative") -> Bench:
    places = {"dash": "three-way", "relay": "relay-12", "rear": part}
    return Bench(PARTS, places, RELAY, LIVE, volts=volts, earthed=earthed)


def two_lamps(first: str, second: str, volts: float = 12.0, earthed: str = "negative") -> Bench:
    """Two lamps in series, the second shorted by a switch in its way: what each gets depends on the other."""
    wires = ["feed:live > dash:30 > rear:58", "mid = rear:31 > nose:58 > dash:58", "nose:31 > earth"]
    places = {"dash": "switch", "rear": first, "nose": second}
    return Bench(PARTS, places, wires, LIVE, volts=volts, earthed=earthed)


CHANGES = tuple(product(SUPPLIES, SUPPLIES))
PAIRS = [
    *((lamps("lamp-6", *a, switch=s), lamps(p, *b, switch=s))
      for a, b in CHANGES for p in ("lamp-6", "lamp-12", "led") for s in ("switch", "three-way")),
    *((relays("lamp-12", *a), relays("lamp-24", *b)) for a, b in CHANGES),
    *((two_lamps("lamp-6", "lamp-6", *a), two_lamps("lamp-12", "lamp-6", *b)) for a, b in CHANGES),
]  # fmt: skip


def positions(bench: Bench) -> Iterator[dict[str, str]]:
    """Every setting of the controls."""
    controls = bench.view.net.controls
    for row in product(*(bench.view.net.variables[name].values for name in controls)):
        yield dict(zip(controls, row, strict=True))


def covers(finding: Finding, where: Mapping[str, str]) -> bool:
    """Whether a finding speaks of a position; what is not a control is another start of the same."""
    said = finding.positions() or [{}]
    return any(all(where.get(name, value) == value for name, value in p.items()) for p in said)


@pytest.mark.parametrize("number", range(len(PAIRS)))
def test_each_side_is_what_it_is_on_its_own(number: int) -> None:
    """Position by position, against looms that were never compared with any other."""
    before, after = PAIRS[number]
    findings = [f for f in prove(before, after).findings if f.kind != "cam" and not f.is_memory]
    for place, does in before.view.loads:
        own = [f for f in findings if (f.at, f.what) == (place, does)]
        for where in positions(before):
            was, now = (bench.shows_in(f"{place}/{does}", where) for bench in (before, after))
            found = [f for f in own if covers(f, where)]
            assert len(found) == 1, (where, found)
            if found[0].before or found[0].after:
                assert (found[0].before, found[0].after) == (was, now), where
            else:  # kept everywhere, and told without saying how
                assert found[0].outcome == "kept" and was == now, where


def test_lamp_of_the_new_volts_is_kept() -> None:
    before, after = lamps("lamp-6", 6.0, "positive"), lamps("lamp-12", 12.0, "negative")
    proof = prove(before, after)
    assert {finding.outcome for finding in proof.findings} == {"kept"}
    assert proof.faults == ()


def test_lamp_of_the_old_volts_is_changed_to_over() -> None:
    found = outcomes(prove(lamps("lamp-6", 6.0), lamps("lamp-6", 12.0)), "rear/shine")
    assert found["changed", "full", "over"] == [{"dash/light": "on"}]


def test_lamp_of_twice_the_volts_is_changed_to_dim() -> None:
    found = outcomes(prove(lamps("lamp-24", 24.0), lamps("lamp-24", 12.0)), "rear/shine")
    assert found["changed", "full", "dim"] == [{"dash/light": "on"}]


def test_relay_that_no_longer_pulls_in_loses_its_lamp() -> None:
    found = outcomes(prove(relays("lamp-12", 12.0), relays("lamp-12", 6.0)), "rear/shine")
    assert found["lost", "full", "off"] == [{"dash/light": "dim"}, {"dash/light": "on"}]


def test_led_is_lost_with_the_other_pole_earthed() -> None:
    found = outcomes(prove(lamps("led", 12.0, "negative"), lamps("led", 12.0, "positive")), "rear/shine")
    assert found["lost", "full", "off"] == [{"dash/light": "on"}]
    assert unsafe(prove(lamps("led", 12.0, "negative"), lamps("led", 12.0, "positive"))) == {}


def test_filament_lamp_does_not_mind_the_pole() -> None:
    proof = prove(lamps("lamp-12", 12.0, "negative"), lamps("lamp-12", 12.0, "positive"))
    assert {finding.outcome for finding in proof.findings} == {"kept"}


def prover_of(*benches: Bench) -> Prover:
    catalogue = Catalogue(ROLES, {}, PARTS, {}, {}, {})
    return Prover(benches[0].loom, catalogue, Job.model_validate({"job": "small", "loom": "small"}))


def test_a_second_supply_does_not_disturb_what_was_found_at_the_first() -> None:
    """Blocks are shared by all looms of one supply, and by none of another."""
    low, high = lamps("lamp-6", 6.0), lamps("lamp-6", 12.0)
    prover = prover_of(low)
    first = prover.prove(low.loom)
    assert {f.after for f in prover.prove(high.loom).findings if f.outcome == "changed"} == {"over"}
    again = prover.prove(low.loom)
    assert again.findings == first.findings and again.faults == first.faults


def test_points_solved_are_counted_at_both_supplies() -> None:
    low, high = lamps("lamp-6", 6.0), lamps("lamp-6", 12.0)
    prover = prover_of(low)
    before = prover.solved
    assert prover.prove(high.loom).solved == prover.solved - before > 0
