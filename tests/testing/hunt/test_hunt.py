"""Hunts for mistakes that are known: symptoms first, then readings answered as the faulted vehicle would."""

import numpy as np
import pytest
from bench_person import Person
from testing_ground import ground

from planner.model.observations import Observation
from planner.testing.hunt.agreeing import where_it_sits
from planner.testing.hunt.asking import Asking
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.hunt.words import one_of

WIPE = (("dash.ignition-switch/ignition", "on"), ("dash.wiper-switch/wiper", "slow"))
STILL = Observation("looks", "scuttle.wiper-motor/wipe slowly", "off", WIPE)


@pytest.fixture(scope="module")
def known() -> Known:
    van = ground("two-speed-wipers")
    return Known(Vehicle(van.wired, van.catalogue))


def world_of(known: Known, name: str) -> int:
    vehicle = known.vehicle
    number = next(n for n, mistake in enumerate(vehicle.mistakes) if mistake.id == name)
    return [n for n, world in enumerate(vehicle.worlds) if world.mistakes == (number,)][-1]


@pytest.mark.parametrize("name", ["W36.1-on-scuttle.wiper-motor:31b", "W36.0-off", "W33/0-poor"])
def test_a_hunt_ends_at_the_mistake_that_was_made(known: Known, name: str) -> None:
    world = world_of(known, name)
    hunt = Hunt(known)
    hunt.add(STILL)
    for _ in range(12):
        question = Asking(hunt).next()
        if question is None or Report(hunt).is_sure:
            break
        hunt.add(Person(known, world).answer(question))
    report = Report(hunt)
    assert report.verdict in ("found", "alike")
    alike = {s.mistakes for s in report.alike or hunt.suspects[:1]}
    assert known.vehicle.worlds[world].mistakes in alike


def test_a_lamp_that_works_clears_the_feed_that_it_shares(known: Known) -> None:
    hunt = Hunt(known)
    hunt.add(STILL)
    fuse = known.vehicle.worlds[world_of(known, "dash.fuse-box/2-fuse-blown")].mistakes
    before = next(s.chance for s in hunt.suspects if s.mistakes == fuse)
    hunt.add(Observation("looks", "dash.instruments/oil warning lamp", "full", WIPE))
    after = next((s.chance for s in hunt.suspects if s.mistakes == fuse), 0.0)
    assert after < before / 5


def test_before_power_only_readings_with_battery_and_fuses_out_are_asked_for(known: Known) -> None:
    hunt = Hunt(known)
    hunt.add(
        Observation("ohms", "dash.wiper-switch:53", 50_000.0, (), "scuttle.wiper-motor:53", "", None, True)
    )
    for _ in range(4):
        question = Asking(hunt).next()
        if question is None:
            break
        assert question.kind == "sits" or question.has_fuses_out
        hunt.add(
            Observation(
                question.kind,
                question.at,
                str(where_it_sits(known.vehicle, question.at, np.array([0]))[0])
                if question.kind == "sits"
                else 0.1,
                (),
                question.to,
                has_fuses_out=question.has_fuses_out,
            )
        )
    hunt.add(Observation("volts", "bay.battery:+", 12.6, WIPE))
    assert not hunt.is_before_power


def test_a_way_through_a_fuse_is_open_with_the_fuses_out(known: Known) -> None:
    vehicle, nothing = known.vehicle, np.array([0])
    fuse = next(g.branch for g in vehicle.grid.branches if g.kind == "fuse")
    dead = known.outlook.dead
    assert dead.ohms(fuse.a, fuse.b, nothing)[0] < 0.5
    assert dead.ohms(fuse.a, fuse.b, nothing, has_fuses_out=True)[0] > 1.0


def test_readings_that_contradict_one_another_are_named_and_can_be_withdrawn(known: Known) -> None:
    hunt = Hunt(known)
    hunt.add(STILL)
    hunt.add(Observation("volts", "bay.battery:+", 12.6, WIPE))
    hunt.add(Observation("volts", "bay.battery:+", 0.0, WIPE))
    assert any(each <= {1, 2} for each in hunt.contradictions())
    assert frozenset({2}) in hunt.to_withdraw()
    hunt.withdraw(2)
    assert not hunt.contradictions()
    assert [o.says for o in hunt.observations] == ["off", 12.6]


def test_two_mistakes_are_found_where_one_does_not_explain_it(known: Known) -> None:
    hunt = Hunt(known)
    hunt.add(STILL)
    lights = (("dash.lighting-switch/lighting", "side"),)
    hunt.add(Observation("looks", "left.side/side lamp", "off", lights))
    hunt.add(Observation("volts", "left.side:lamp", 12.3, lights))
    hunt.add(Observation("volts", "scuttle.wiper-motor:53", 0.0, WIPE))
    found = known.vehicle.mistake_words(hunt.suspects[0].mistakes)
    assert hunt.has_pairs
    assert "side lamp" in found and "; and " in found


def test_nothing_seen_asks_nothing(known: Known) -> None:
    assert Report(Hunt(known)).verdict == "nothing seen"


def test_a_rare_mistake_that_explains_two_dark_lamps_is_not_found_without_thinking_of_two() -> None:
    socket = ground("trailer-socket-13")
    known = Known(Vehicle(socket.wired, socket.catalogue))
    hunt = Hunt(known)
    coupled = ("rear.trailer-socket/trailer", "coupled")
    hunt.add(
        Observation(
            "looks", "rear.trailer-socket/trailer stop lamps", "off", (("brake pedal", "pressed"), coupled)
        )
    )
    hunt.add(
        Observation(
            "looks", "rear.trailer-socket/trailer left tail lamp", "off", (("lighting", "head"), coupled)
        )
    )
    # A lamp on the same earth works: of single mistakes only two wires traded explain that.
    hunt.add(
        Observation(
            "looks", "rear.trailer-socket/trailer right tail lamp", "full", (("lighting", "head"), coupled)
        )
    )
    assert not Report(hunt).is_sure
    assert hunt.has_pairs


def test_two_mistakes_are_found_of_which_neither_shows_without_the_other() -> None:
    tractor = ground("tractor-to-negative-earth")
    known = Known(Vehicle(tractor.wired, tractor.catalogue))
    hunt = Hunt(known)
    # The wiper's own switch stays closed, which nobody sees until its feed is always live.
    hunt.add(Observation("looks", "cab.wiper/wipe slowly", "full", ()))
    hunt.add(Observation("looks", "dash.gauge/temperature gauge", "over", ()))
    hunt.add(Observation("volts", "dash.key:15", 0.0, (("dash.lighting/lighting", "plough"),)))
    hunt.add(Observation("sits", "T12.0", "dash.key:30"))
    first = hunt.suspects[0]
    assert {known.vehicle.mistakes[n].kind for n in first.mistakes} == {"wrong terminal", "contact closed"}
    assert not first.unexplained


def test_a_pair_is_not_left_out_for_being_rarer_than_what_later_readings_clear(known: Known) -> None:
    traded, earthed = world_of(known, "W79.0-traded-W90.0"), world_of(known, "W81/0-earthed")
    world = known.vehicle.pair(traded, earthed)
    assert world is not None
    hunt = Hunt(known)
    pulled, head = ("column.dip-lever/dip lever", "pulled"), ("dash.lighting-switch/lighting", "head")
    hunt.add(Observation("looks", "right.headlamp/main beam", "off", (pulled,)))
    hunt.add(Observation("looks", "left.headlamp/dipped beam", "off", (head,)))
    hunt.add(Observation("looks", "right.side/side lamp", "full", (pulled,)))
    hunt.add(Observation("sits", "W79.0", "dash.fuse-box:6"))
    hunt.add(Observation("fuse", "dash.fuse-box:9", "yes", (head,)))
    assert known.vehicle.worlds[world].mistakes in [s.mistakes for s in hunt.suspects[:3]]


def test_what_several_suspects_have_in_common_is_said_once(known: Known) -> None:
    vehicle = known.vehicle
    off, earthed, traded = (
        vehicle.worlds[world_of(known, name)].mistakes[0]
        for name in ("W36.0-off", "W81/0-earthed", "W79.0-traded-W90.0")
    )
    said = one_of(vehicle, [(off, earthed), (off, traded), (off,)])
    assert said.startswith(f"{vehicle.mistake_words((off,))}; and besides: ")
    assert said.count("(W36)") == 1 and said.endswith("; or nothing else")
    assert one_of(vehicle, [(off,), (traded,)]).count("; or ") == 1
