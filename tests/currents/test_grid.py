"""A loom compiled to branches: what each element becomes, where it is earthed, and when it is there."""

from dataclasses import dataclass

import pytest
from small_looms import Bench, make_parts

from planner.currents.grid import Conditions, Gated, Grid, compile_grid, is_met
from planner.currents.laws import Emf, Filament, Junction, Law, Resistance
from planner.currents.solver import solve

PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    measured-battery:
      terminals: {+: "30", -: "31"}
      inside: [{source: {between: [+, -], volts: 12, open_v: 12.9, ohms: 0.03}}]
    generator:
      terminals: {D: "", earth: mounting}
      inside: [{source: {between: [D, earth], volts: 12, when: {engine: running}}}]
    lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 21, does: stop, duty: stop}}]}
    lamp-6: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 3, volts: 6, does: x}}]}
    led: {terminals: {a: "", b: ""}, inside: [{led: {between: [a, b], watts: 6, drop_v: 2, does: x}}]}
    diode: {terminals: {a: "", b: ""}, inside: [{diode: {between: [a, b], amps: 5}}]}
    cut-out: {terminals: {a: "", b: ""}, inside: [{diode: {between: [a, b], drop_v: 0}}]}
    motor:
      terminals: {a: "", b: ""}
      inside: [{winding: {between: [a, b], watts: 48, does: wipe, stalled_amps: 20}}]
    fan: {terminals: {a: "", b: ""}, inside: [{winding: {between: [a, b], watts: 48, does: blow}}]}
    coil:
      terminals: {a: "", b: ""}
      inside: [{coil: {between: [a, b], ohms: 80, pulls_in_v: 7, drops_out_v: 3, name: armature}}]
    gauge:
      terminals: {a: "", b: ""}
      inside: [{gauge: {between: [a, b], ohms: 60, full_scale_amps: 0.1, does: x}}]
    dimmer:
      terminals: {a: "", b: ""}
      inside:
        - control: {name: s, positions: [full, dim]}
        - contact: {join: [a, b], when: {s: full}}
        - resistor: {between: [a, b], ohms: 10, when: {s: dim}}
    row: {terminals: {a: "", b: "", c: ""}, inside: [{contact: {join: [a, b, c], ohms: 0.02}}]}
    fuse: {terminals: {a: "", b: ""}, inside: [{fuse: {between: [a, b], amps: 8}}]}
    blowing-fuse: {terminals: {a: "", b: ""}, inside: [{fuse: {between: [a, b], amps: 16, marked: blowing}}]}
    thermal:
      terminals: {a: "", b: ""}
      inside: [{flasher: {between: [a, b], kind: thermal, needs_amps: 1, heater_ohms: 60, name: beat}}]
    electronic:
      terminals: {a: "", b: ""}
      inside: [{flasher: {between: [a, b], kind: electronic, needs_amps: 1, name: beat}}]
    sender:
      terminals: {a: "", b: ""}
      inside: [{sender: {between: [a, b], follows: fuel, ohms: {empty: 180, full: 10}}}]
    earthed-lamp:
      terminals: {a: "", body: mounting}
      inside: [{lamp: {between: [a, body], watts: 5, does: tail, duty: tail}}]
    """
)


@dataclass(frozen=True)
class Figure:
    """A figure as the published tables hand it out."""

    value: float


class Tables:
    """Round figures in place of the published ones: 18.5 mohm mm2/m, 0.1 V across a fuse at its rating."""

    def wire_ohms_per_metre(self, mm2: float, celsius: float = 20.0) -> Figure:
        return Figure(0.0185 * (1 + (celsius - 20) / 250) / mm2)

    def fuse_ohms(self, rated_amps: float) -> Figure:
        return Figure(0.1 / rated_amps)


def there(gated: Gated, position: dict[str, str]) -> bool:
    """Whether a branch is closed in a position."""
    return is_met(gated.guard, position)


def grid_of(part: str, conditions: Conditions | None = None, **fields: object) -> Grid:
    """The grid of one part at the place ``p``; its mounting may follow behind an exclamation mark."""
    given: dict[str, object] = {"places": {"p": part}, "wires": [], **fields}
    bench = Bench(PARTS, **given)  # type: ignore[arg-type]
    return compile_grid(bench.loom, bench.catalogue, Tables(), conditions)


def of_kind(grid: Grid, kind: str) -> list[Gated]:
    return [gated for gated in grid.branches if gated.kind == kind]


def only(grid: Grid, kind: str) -> Gated:
    (gated,) = of_kind(grid, kind)
    return gated


@pytest.mark.parametrize(
    ("part", "law"),
    [
        ("lamp", Filament(12.0, 1.75)),
        ("lamp-6", Filament(6.0, 0.5)),
        ("led", Junction(2.0, 20.0)),  # 6 W at 12 V: 0.5 A through what 10 V are left for
        ("diode", Junction(0.7, 0.02)),  # its drop rises by 0.1 V up to 5 A
        ("cut-out", Junction(0.0, 0.005)),
        ("motor", Resistance(3.0)),
        ("coil", Resistance(80.0)),
        ("gauge", Resistance(60.0)),
    ],
)
def test_load_becomes_its_law_under_its_key(part: str, law: Law) -> None:
    grid = grid_of(part)
    load = only(grid, "load")
    assert load.branch.law == law
    assert (load.branch.a, load.branch.b, load.guard) == ("p:a", "p:b", ())
    assert {index: key for key, index in grid.loads.items()} == {0: load.branch.name[1:]}


def test_led_takes_its_watts_at_its_rated_volts() -> None:
    law = only(grid_of("led"), "load").branch.law
    assert 12.0 * law.amps(12.0) == pytest.approx(6.0, rel=1e-4)


def test_motor_held_still_takes_its_stalled_current_where_it_is_known() -> None:
    stalled = Conditions(stalled=True)
    assert only(grid_of("motor", stalled), "load").branch.law == Resistance(0.6)
    assert only(grid_of("fan", stalled), "load").branch.law == Resistance(3.0)


def test_contact_has_its_ohms_from_terminal_to_terminal() -> None:
    legs = of_kind(grid_of("row"), "contact")
    assert [(leg.branch.a, leg.branch.b, leg.branch.law) for leg in legs] == [
        ("p:a", "p:b", Resistance(0.02)),
        ("p:b", "p:c", Resistance(0.02)),
    ]


def test_guards_open_and_close_contacts_and_resistors() -> None:
    grid = grid_of("dimmer")
    contact, resistor = only(grid, "contact"), only(grid, "load")
    assert contact.branch.law == Resistance(0.005)
    assert (there(contact, {"p/s": "full"}), there(resistor, {"p/s": "full"})) == (True, False)
    assert (there(contact, {"p/s": "dim"}), there(resistor, {"p/s": "dim"})) == (False, True)
    assert [grid.branches[i] for i in grid.closed({"p/s": "dim"})] == [resistor]


def test_fuse_marked_with_its_blowing_current_is_one_of_half_of_that() -> None:
    assert only(grid_of("blowing-fuse"), "fuse").branch.law == Resistance(0.0125)


def test_fuse_has_the_resistance_of_its_table() -> None:
    assert only(grid_of("fuse"), "fuse").branch.law == Resistance(0.0125)


@pytest.mark.parametrize(("part", "heats"), [("thermal", True), ("electronic", False)])
def test_flasher_is_a_contact_while_light_and_heats_at_rest_if_it_is_thermal(part: str, heats: bool) -> None:
    grid = grid_of(part)
    contact = only(grid, "flasher")
    assert contact.branch.law == Resistance(0.02)
    assert [there(contact, {"p/beat": beat}) for beat in ("rest", "light", "dark")] == [
        False,
        True,
        False,
    ]
    heaters = of_kind(grid, "load")
    assert [heater.branch.law for heater in heaters] == [Resistance(60.0)] * heats
    for heater in heaters:
        assert [there(heater, {"p/beat": b}) for b in ("rest", "light", "dark")] == [
            True,
            False,
            False,
        ]


def test_sender_has_the_resistance_of_what_it_follows() -> None:
    grid = grid_of("sender")
    found = {
        fuel: [g.branch.law for g in of_kind(grid, "load") if there(g, {"fuel": fuel})]
        for fuel in ("empty", "full", "half")
    }
    assert found == {"empty": [Resistance(180.0)], "full": [Resistance(10.0)], "half": []}


# -- sources ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("part", "charge", "law"),
    [
        ("battery", 1.0, Emf(12.7, 0.012)),
        ("battery", 0.0, Emf(11.7, 0.012)),
        ("battery", 0.5, Emf(12.2, 0.012)),
        ("measured-battery", 1.0, Emf(12.9, 0.03)),
    ],
)
def test_battery_has_the_volts_of_its_charge_behind_its_own_resistance(
    part: str, charge: float, law: Emf
) -> None:
    grid = grid_of(part, Conditions(charge=charge))
    found = only(grid, "source").branch
    assert isinstance(found.law, Emf) and found.law.ohms == pytest.approx(law.ohms)
    assert found.law.volts == pytest.approx(law.volts)
    assert grid.zero == "p:-"


def test_generator_gives_what_its_regulator_holds_while_it_is_driven() -> None:
    source = only(grid_of("generator"), "source")
    assert isinstance(source.branch.law, Emf)
    assert (source.branch.law.volts, source.branch.law.ohms) == pytest.approx((14.2, 0.05))
    assert (there(source, {"engine": "running"}), there(source, {"engine": "off"})) == (
        True,
        False,
    )


def test_feed_at_the_edge_stands_on_the_body_with_its_resistance() -> None:
    feeds = {"live": {"role": "30"}, "key": {"role": "15", "when": {"ign": ["on"]}, "ohms": 0.1}}
    grid = grid_of("lamp", wires=["feed:live > p:a"], feeds=feeds)
    live, key = of_kind(grid, "feed")
    assert (live.branch.a, live.branch.b, live.branch.law) == ("feed:live", "earth", Emf(12.7, 0.02))
    assert key.branch.law == Emf(12.7, 0.1)
    assert (there(key, {"ign": "on"}), there(key, {"ign": "off"})) == (True, False)
    assert grid.zero == "earth"


@pytest.mark.parametrize(("charge", "volts"), [(1.0, 12.7), (0.5, 12.2), (0.0, 11.7)])
def test_a_feed_has_the_volts_of_the_charge_behind_it(charge: float, volts: float) -> None:
    grid = grid_of("lamp", Conditions(charge=charge), wires=["feed:x > p:a"], feeds={"x": {"role": "30"}})
    assert only(grid, "feed").branch.law == Emf(pytest.approx(volts), 0.02)  # type: ignore[arg-type]


WIRED = {"places": {"bat": "battery", "p": "lamp", "d": "diode"}, "wires": [
    "bat:+ > p:a", "p:b > earth:z", "bat:- > earth:z", "bat:+ > d:a"]}  # fmt: skip


def test_positive_earth_is_the_mirror_image() -> None:
    plus, minus = (grid_of("lamp", **WIRED, earthed=earthed) for earthed in ("negative", "positive"))
    for gated, other in zip(plus.branches, minus.branches, strict=True):
        if isinstance(gated.branch.law, Emf):
            assert isinstance(other.branch.law, Emf)
            assert other.branch.law.volts == -gated.branch.law.volts
        else:
            assert other == gated
    here, there = (solve([g.branch for g in grid.branches], grid.zero) for grid in (plus, minus))
    assert here.volts["p:a"] == pytest.approx(-there.volts["p:a"]) and here.volts["p:a"] > 12


# -- wires and earth -------------------------------------------------------------------------------------


def test_wire_has_a_branch_for_each_leg_with_both_its_crimps() -> None:
    """1 m of 1 mm2: 18.5 mohm by the stand-in's table, and 1 mohm a crimp."""
    legs = of_kind(grid_of("lamp", wires=["p:a > joint:x > p:b"]), "wire")
    assert [(leg.branch.name, leg.branch.a, leg.branch.b) for leg in legs] == [
        (("wire", "W1", "0"), "p:a", "joint:x"),
        (("wire", "W1", "1"), "joint:x", "p:b"),
    ]
    for leg in legs:
        assert isinstance(leg.branch.law, Resistance) and leg.branch.law.ohms == pytest.approx(0.0205)


def test_hot_wires_have_more_resistance() -> None:
    legs = of_kind(grid_of("lamp", Conditions(wire_celsius=70.0), wires=["p:a > p:b"]), "wire")
    assert [leg.branch.law for leg in legs] == [Resistance(pytest.approx(0.0222 + 0.002))]


def test_loose_ends_of_one_wire_are_nodes_of_their_own() -> None:
    (leg,) = of_kind(grid_of("lamp", wires=["loose > unknown"]), "wire")
    assert (leg.branch.a, leg.branch.b) == ("end:W1:0", "end:W1:1")


@pytest.mark.parametrize(("ohms", "expected"), [(None, 0.002), (0.3, 0.3), (0, 0.0)])
def test_zone_reaches_the_body_through_what_was_measured_or_is_usual(
    ohms: float | None, expected: float
) -> None:
    zone = {} if ohms is None else {"earth_ohms": ohms}
    body = only(grid_of("lamp", wires=["p:b > earth:z"], more={"zones": {"z": zone}}), "body")
    assert (body.branch.a, body.branch.b, body.branch.law) == ("earth:z", "earth", Resistance(expected))


@pytest.mark.parametrize(("mounting", "ohms"), [("metal", 0.005), ("doubtful", 0.05), ("insulated", None)])
def test_mounting_earths_as_well_as_it_is_mounted(mounting: str, ohms: float | None) -> None:
    found = of_kind(grid_of(f"earthed-lamp!{mounting}"), "mounting")
    expected = [] if ohms is None else [("p:body", "earth:z", Resistance(ohms))]
    assert [(g.branch.a, g.branch.b, g.branch.law) for g in found] == expected


@pytest.mark.parametrize("mounting", ["metal", "insulated"])
def test_measured_resistance_of_a_mounting_counts_however_it_is_mounted(mounting: str) -> None:
    place = {"part": "earthed-lamp", "zone": "z", "mounting": mounting, "earth_ohms": 0.7}
    grid = grid_of("earthed-lamp", more={"places": {"p": place}})
    assert only(grid, "mounting").branch.law == Resistance(0.7)


def test_lamp_on_a_battery_has_what_its_wires_and_earth_leave() -> None:
    """12.7 V less the drops at about 1.78 A in two wires, the body once there and back, and the battery."""
    grid = grid_of("lamp", places={"bat": "battery", "p": "lamp"}, wires=[
        "bat:+ > p:a", "p:b > earth:z", "bat:- > earth:z"])  # fmt: skip
    point = solve([gated.branch for gated in grid.branches], grid.zero)
    lamp = grid.branches[grid.loads["p", "stop"]].branch
    amps = point.amps[grid.loads["p", "stop"]]
    assert point.across(lamp) == pytest.approx(12.7 - amps * (0.012 + 3 * 0.0205), rel=1e-12)
    assert amps == pytest.approx(1.75 * (point.across(lamp) / 12.0) ** 0.55)
