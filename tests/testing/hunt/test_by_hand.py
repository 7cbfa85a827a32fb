"""A fuse, a warm wire, a test lamp: proposed where they tell enough, and answered as people answer."""

import pytest
from bench_person import Person
from testing_ground import ground

from planner.model.observations import Observation
from planner.testing.hunt.asking import Asking
from planner.testing.hunt.by_hand import ByHand
from planner.testing.hunt.effort import Effort
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.offers import Offers
from planner.testing.hunt.outcomes import outcomes
from planner.testing.hunt.question import Question
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.hunt.words import Words

WIPE = (("dash.ignition-switch/ignition", "on"), ("dash.wiper-switch/wiper", "slow"))
DEAD_GAUGE = Observation("looks", "dash.instruments/fuel gauge", "off", WIPE)
STILL = Observation("looks", "scuttle.wiper-motor/wipe slowly", "off", WIPE)


@pytest.fixture(scope="module")
def known() -> Known:
    van = ground("two-speed-wipers")
    return Known(Vehicle(van.wired, van.catalogue))


def hunt(known: Known, *seen: Observation) -> Hunt:
    hunt = Hunt(known)
    for each in seen:
        hunt.add(each)
    return hunt


def world_of(known: Known, name: str) -> int:
    numbers = [n for n, mistake in enumerate(known.vehicle.mistakes) if mistake.id == name]
    return next(n for n, world in enumerate(known.vehicle.worlds) if world.mistakes == tuple(numbers))


def test_a_fuse_is_asked_for_where_several_loads_behind_it_are_dead(known: Known) -> None:
    own = hunt(known, STILL, DEAD_GAUGE)
    offered = {question.at for question in ByHand(Offers(own)).fuses(WIPE)}
    assert "dash.fuse-box:3" in offered
    assert "dash.fuse-box:5" not in offered  # of the left side lamps


def test_who_answers_for_a_blown_fuse_says_so_and_the_short_behind_it_gains(known: Known) -> None:
    world = world_of(known, "W33/0-earthed")
    asked = Question("fuse", "dash.fuse-box:3", "", WIPE, 0.0, 0.0)
    seen = Person(known, world).answer(asked)
    assert seen.says == "yes"
    own = hunt(known, STILL, DEAD_GAUGE)
    truth = known.vehicle.worlds[world].mistakes
    before = next((s.chance for s in own.suspects if s.mistakes == truth), 0.0)
    own.add(seen)
    assert next(s.chance for s in own.suspects if s.mistakes == truth) > before


def test_a_wire_is_felt_where_a_likely_short_would_heat_it(known: Known) -> None:
    own = hunt(known, STILL, DEAD_GAUGE)
    assert not list(ByHand(Offers(own)).warm(()))  # everything is off: no wire carries anything
    world = world_of(known, "W5/0-earthed")  # unfused, from the battery to the lighting switch
    asked = Question("warm", "W4", "", (), 0.0, 0.0)
    assert Person(known, world).answer(asked).says == "yes"
    assert Person(known).answer(asked).says == "no"
    (cold,) = outcomes(asked, own)
    assert cold.reading == "cold" and cold.is_sound


def test_a_test_lamp_is_offered_where_the_meter_would_tell_most(known: Known) -> None:
    offers = Offers(hunt(known, STILL))
    volts = list(offers.in_settings([WIPE]))
    (lamp,) = ByHand(offers).lamp(volts)
    assert lamp.bits > 0.0
    assert lamp.at in {offer.at for offer in volts if offer.kind == "volts"}
    effort = Effort(known, None)
    assert effort.of("lamp", lamp.at, "", WIPE) < effort.of("volts", lamp.at, "", WIPE)
    words = Words(known.vehicle).question(lamp.kind, lamp.at, lamp.to)
    assert words.startswith("Test lamp on") and "lit, dim or dark?" in words


def test_no_test_lamp_is_offered_on_the_ignition(known: Known) -> None:
    """One by a capacitor's discharge holds hundreds of volts (common practice, no source)."""
    by_hand = ByHand(Offers(hunt(known, STILL)))
    volts = [offer for offer in by_hand.offers.in_settings([WIPE]) if offer.kind == "volts"]
    coil = [offer for offer in volts if offer.at.startswith("bay.coil:")]
    assert coil and not list(by_hand.lamp(coil))
    (lamp,) = by_hand.lamp([offer for offer in volts if offer.at.startswith("dash.")])
    assert lamp.at.startswith("dash.")


def test_the_chances_of_the_outcomes_of_a_test_lamp_add_up(known: Known) -> None:
    own = hunt(known, STILL)
    offers = Offers(own)
    (lamp,) = ByHand(offers).lamp(list(offers.in_settings([WIPE])))
    told = outcomes(Question(lamp.kind, lamp.at, "", WIPE, lamp.bits, 1.0), own)
    assert 0.9 < sum(outcome.chance for outcome in told) <= 1.0 + 1e-9
    assert any(outcome.is_sound for outcome in told)


def test_a_hunt_with_a_look_at_the_fuse_ends_at_the_ends_that_were_traded(known: Known) -> None:
    world = world_of(known, "W36.1-traded-W37.1")
    person, own = Person(known, world), hunt(known, STILL, DEAD_GAUGE)
    own.add(person.answer(Question("fuse", "dash.fuse-box:3", "", WIPE, 0.0, 0.0)))
    assert own.observations[-1].says == "yes"
    for _ in range(14):
        asked = Asking(own).next()
        if asked is None:
            break
        assert (asked.kind, asked.at) != ("fuse", "dash.fuse-box:3")  # it was looked at
        own.add(person.answer(asked))
    assert own.suspects[0].mistakes == known.vehicle.worlds[world].mistakes
