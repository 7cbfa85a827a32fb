"""Other volts, or the other pole earthed: a tractor, a small car and a hauler, with quieter neighbours."""

import pytest
from planned import (
    catalogue,
    covered,
    held,
    lines,
    loads,
    made,
    moved,
    new_hazards,
    nothing_is_worse,
    outcomes,
    pair,
    planned,
    positions,
    says,
    steps,
    worse,
)

from planner.engine.packs import installed_rules
from planner.model.elements import Source
from planner.model.job import Swap
from planner.model.loom import Supply
from planner.model.plan import Plan, StrainLine
from planner.pipeline import plan as make_plan
from planner.reading.catalogue import read_job
from planner.telling.verdict import exit_status

OLD_WIPER, NEW_WIPER = "tractor-to-12-volts", "tractor-to-12-volts-new-wiper"
CAR, NEW_RADIO = "car-to-negative-earth", "car-to-negative-earth-new-radio"
HAULER, POLE_ALONE = "hauler-to-12-volts", "tractor-to-negative-earth"
JOBS = (OLD_WIPER, NEW_WIPER, CAR, NEW_RADIO, HAULER, POLE_ALONE)
LIKES = {
    "nose.left": "work-headlamp-12v",
    "nose.right": "work-headlamp-12v",
    "rear.plough": "work-headlamp-12v",
    "rear.lamp": "work-rear-lamp-12v",
    "nose.horn": "work-horn-12v",
    "dash.gauge": "temperature-gauge-12v",
}
EXCHANGED = {
    ("C2", "dash.ammeter:-", "dash.ammeter:+"),
    ("C3", "dash.ammeter:+", "dash.ammeter:-"),
    ("C4", "dash.ammeter:+", "dash.ammeter:-"),
    ("C6", "bay.coil:-", "bay.coil:+"),
    ("C7", "bay.coil:+", "bay.coil:-"),
    ("C9", "bay.fan:-", "bay.fan:+"),
    ("C10", "bay.fan:+", "bay.fan:-"),
}
TURNED_BATTERY = {
    ("C1", "bay.battery:+", "bay.battery:-"),
    ("C2", "bay.battery:-", "bay.battery:+"),
}


def strained(plan: Plan) -> dict[tuple[str, str], StrainLine]:
    """What a plan answers for, by kind and place."""
    return {(line.kind, line.at): line for line in plan.strains if line.is_new}


def fitted(plan: Plan) -> dict[str, str]:
    """What is fitted where."""
    return {step.fields["at"]: step.fields["part"] for step in steps(plan, "fit")}


@pytest.mark.parametrize("job", JOBS)
class TestEveryChangeOfSupply:
    def test_it_comes_first_and_says_what_was_and_what_will_be(self, job: str) -> None:
        first, *others = planned(job).steps
        assert first.do == "supply" and "supply" not in {step.do for step in others}
        earthed = {"volts": first.fields["volts"], "earthed": first.fields["earthed"]}
        assert earthed == {"volts": 6.0 if job == POLE_ALONE else 12.0, "earthed": "negative"}
        assert "(it was" in first.text and "earthed post last" in first.text

    def test_the_battery_comes_out_first_and_goes_on_last(self, job: str) -> None:
        """A list that is followed step by step must not make the vehicle live before its parts suit it."""
        plan = planned(job)
        places = [str(s.fields.get("from", s.fields.get("at", ""))).partition(":")[0] for s in plan.steps]
        about = [number for number, place in enumerate(places, 1) if place.endswith(".battery")]
        out = 1 + next(n for n, step in enumerate(plan.steps) if step.do == "remove")
        assert {step.do for step in plan.steps[1 : out - 1]} <= {
            "hold"
        }  # an end comes off before the battery
        last = len(about) - (out - 1)
        assert about == [*range(2, out + 1), *range(len(places) - last + 1, len(places) + 1)]

    def test_no_wire_is_renewed_or_covered(self, job: str) -> None:
        assert covered(planned(job)) == set() and steps(planned(job), "cut") == []

    def test_no_plan_beside_it_keeps_the_old_battery(self, job: str) -> None:
        assert not any("battery" in a.title for a in planned(job).alternatives)

    def test_no_hazard_comes_with_it(self, job: str) -> None:
        assert new_hazards(planned(job)) == set()

    def test_it_is_the_cheapest_that_does_as_well(self, job: str) -> None:
        assert planned(job).is_proven_cheapest and planned(job).unsettled == ()


class TestTractor:
    @pytest.mark.parametrize("job", [OLD_WIPER, NEW_WIPER])
    def test_lamps_horn_and_gauge_give_way_to_their_likes(self, job: str) -> None:
        assert LIKES.items() <= fitted(planned(job)).items()

    @pytest.mark.parametrize("job", [OLD_WIPER, NEW_WIPER])
    def test_the_relay_is_kept_with_a_dropper_before_its_coil(self, job: str) -> None:
        plan = planned(job)
        (insert,) = steps(plan, "insert")
        assert (insert.fields["wire"], insert.fields["at"]) == ("T8", "dash.relay:86")
        assert insert.fields["part"] == "dropper-60-ohm-2-w"
        assert "dash.relay" not in fitted(plan)
        assert any("60 ohm, which burn 0.6 W" in fact for fact in insert.facts)

    @pytest.mark.parametrize("job", [OLD_WIPER, NEW_WIPER])
    def test_the_coil_gets_its_volts_and_the_dropper_stands_it(self, job: str) -> None:
        near = {(line.kind, line.at): line for line in planned(job).strains}
        coil = near["coil", "dash.relay"]
        assert not coil.is_over and 5.5 < coil.value < 6.5
        (dropper,) = [line for line in planned(job).strains if line.kind == "resistor"]
        assert 0.6 < dropper.value < 0.9 and dropper.limit == 2

    def test_the_old_wiper_cannot_be_kept_for_it_would_burn(self) -> None:
        plan = planned(OLD_WIPER)
        assert (plan.verdict, exit_status(plan)) == ("unsafe", 1)
        assert {(line.what, line.at, line.outcome) for line in worse(plan)} == {
            ("wipe slowly", "cab.wiper", "changed")
        }
        assert [line.after for line in lines(plan, "changed")] == ["over"]
        assert set(strained(plan)) == {("overheats", "cab.wiper")}
        assert says(plan, "cab wiper", "cannot be kept", "never put a dropper", "leave the live wire off")
        assert "cab.wiper" not in fitted(plan)

    def test_with_a_new_wiper_nothing_is_lost(self) -> None:
        plan = planned(NEW_WIPER)
        assert (plan.verdict, exit_status(plan)) == ("no-loss", 0)
        assert nothing_is_worse(plan) and strained(plan) == {}
        assert not says(plan, "cannot be kept")
        assert set(made(plan)) == {pair("cab.wiper:31", "earth:cab")}

    @pytest.mark.parametrize("job", [OLD_WIPER, NEW_WIPER])
    def test_the_battery_is_the_other_way_round(self, job: str) -> None:
        turned = {
            ("T1", "bonnet.battery:+", "bonnet.battery:-"),
            ("T2", "bonnet.battery:-", "bonnet.battery:+"),
            ("T3", "bonnet.battery:-", "bonnet.battery:+"),
        }
        assert moved(planned(job)) == turned
        assert held(planned(job)) == {("T1", "bonnet.battery:+")}

    def test_the_fuses_are_halved(self) -> None:
        changed = steps(planned(NEW_WIPER), "fuse")
        told = {(s.fields["at"], s.fields["old_amps"], s.fields["amps"]) for s in changed}
        assert told == {("dash.fuses:1", 25, 15), ("dash.fuses:2", 15, 7.5)}

    def test_a_fuse_that_the_old_wiper_would_blow_stays_in(self) -> None:
        """A 6 V motor on 12 V takes twice its amps: half a fuse is too little, so nothing is done to it."""
        (fuse,) = steps(planned(OLD_WIPER), "fuse")
        assert (fuse.fields["at"], fuse.fields["old_amps"], fuse.fields["amps"]) == ("dash.fuses:1", 25, 15)

    @pytest.mark.parametrize("job", [OLD_WIPER, NEW_WIPER])
    def test_the_new_dynamo_is_polarised(self, job: str) -> None:
        assert says(planned(job), "dynamo", "repolarise")

    def test_the_gauge_reads_as_before(self) -> None:
        assert outcomes(planned(NEW_WIPER), "temperature gauge", "dash.gauge") == {"kept"}

    def test_the_pole_alone_touches_nothing_but_the_battery(self) -> None:
        plan = planned(POLE_ALONE)
        assert (plan.verdict, exit_status(plan)) == ("no-loss", 0)
        assert nothing_is_worse(plan) and strained(plan) == {}
        assert fitted(plan) == {"bonnet.battery": "battery-6v-negative-earth"}
        assert {wire for wire, _, _ in moved(plan)} == {"T1", "T2", "T3"}
        assert says(plan, "dynamo", "repolarise") and steps(plan, "fuse") == []


class TestSmallCar:
    @pytest.mark.parametrize("job", [CAR, NEW_RADIO])
    def test_the_leads_of_ammeter_coil_and_magnet_fan_are_exchanged(self, job: str) -> None:
        plan = planned(job)
        assert moved(plan) >= EXCHANGED | TURNED_BATTERY
        assert held(plan) == {
            ("C1", "bay.battery:+"), ("C3", "dash.ammeter:+"), ("C7", "bay.coil:+"), ("C10", "bay.fan:+"),
        }  # fmt: skip

    @pytest.mark.parametrize("job", [CAR, NEW_RADIO])
    def test_nothing_is_the_wrong_way_round_afterwards(self, job: str) -> None:
        assert not [line for line in planned(job).strains if line.kind == "reversed"]

    @pytest.mark.parametrize("job", [CAR, NEW_RADIO])
    def test_the_wound_wiper_stays_as_it_is(self, job: str) -> None:
        plan = planned(job)
        assert not any(at.startswith("bay.wiper") for _, at, _ in moved(plan)) and "bay.wiper" not in fitted(
            plan
        )
        assert outcomes(plan, "wipe slowly", "bay.wiper") == {"kept"}

    @pytest.mark.parametrize("job", [CAR, NEW_RADIO])
    def test_the_steps_of_a_part_stand_together(self, job: str) -> None:
        """The one that is held aside goes on before the next part is begun."""
        plan = planned(job)
        for at in ("bay.coil", "bay.fan", "dash.ammeter"):
            here = [s for s in plan.steps if s.do in ("hold", "move")]
            here = [s for s in here if str(s.fields.get("from", s.fields.get("at"))).startswith(f"{at}:")]
            numbers = [s.n for s in here]
            assert numbers == list(range(numbers[0], numbers[0] + len(numbers))) and len(numbers) >= 3, at

    def test_the_old_radio_must_come_out(self) -> None:
        plan = planned(CAR)
        assert (plan.verdict, exit_status(plan)) == ("unsafe", 1)
        (line,) = strained(plan).values()
        assert (line.kind, line.at, line.is_dangerous) == ("polarity", "dash.radio", True)
        assert "battery" in line.when
        assert says(plan, "radio", "must come out before the battery goes on")
        assert worse(plan) == []

    def test_with_a_radio_for_negative_earth_nothing_is_lost(self) -> None:
        plan = planned(NEW_RADIO)
        assert (plan.verdict, exit_status(plan)) == ("no-loss", 0)
        assert nothing_is_worse(plan) and strained(plan) == {}
        assert ("C12", "dash.radio:A", "dash.radio:75") in moved(plan)

    @pytest.mark.parametrize("job", [CAR, NEW_RADIO])
    def test_the_dynamo_is_repolarised(self, job: str) -> None:
        assert says(planned(job), "dynamo", "repolarise", "before the engine turns")


class TestHauler:
    def test_its_lamps_give_way_to_their_likes(self) -> None:
        assert fitted(planned(HAULER)) == {
            "box.battery": "battery-12v-negative-earth",
            "nose.left": "work-headlamp-12v",
            "nose.right": "work-headlamp-12v",
            "rear.work": "work-headlamp-12v",
            "rear.lamp": "work-rear-lamp-12v",
        }

    def test_its_relay_no_longer_pulls_in_and_the_work_lamp_is_lost(self) -> None:
        plan = planned(HAULER)
        assert (plan.verdict, exit_status(plan)) == ("losses", 1)
        assert loads(plan, "lost") == {("headlamp", "rear.work")}
        assert positions(plan, "lost", "headlamp", "rear.work") == {
            frozenset({("dash.lighting/lighting", "plough")})
        }
        (line,) = strained(plan).values()
        assert (line.kind, line.at, line.is_least) == ("coil", "dash.relay", True)
        assert line.value < line.limit == 15
        assert says(plan, "work lamp relay", "cannot be kept", "nothing gives it more volts")

    def test_its_fuses_stay(self) -> None:
        assert says(planned(HAULER), "fuse block", "2 times the amps", "the fuses stay")
        assert steps(planned(HAULER), "fuse") == []

    def test_its_battery_is_not_turned(self) -> None:
        assert moved(planned(HAULER)) == set() and steps(planned(HAULER), "hold") == []


class TestAVanWithABatteryOfTheOtherPole:
    """The charging side of the van, taken to positive earth: both thick cables go on the new battery."""

    def test_each_cable_goes_to_the_post_that_does_what_its_old_one_did(self) -> None:
        job, loom = read_job("dynamo-to-alternator", catalogue())
        swap = Swap(at="bay.battery", fit="battery-12v-positive-earth")
        turned = job.model_copy(
            update={
                "supply": Supply(volts=12, earthed="positive"),
                "swaps": (swap,),
                "wants": (),
                "accepts": (),
            }
        )
        plan = make_plan(turned, loom, catalogue(), installed_rules())
        ends = {e.at: w for w in loom.wires for e in w.ends if e.at.startswith("bay.battery:")}
        live, earth = ends["bay.battery:+"].wire, ends["bay.battery:-"].wire
        assert {(live, "bay.battery:+", "bay.battery:-"), (earth, "bay.battery:-", "bay.battery:+")} <= moved(
            plan
        )
        assert (covered(plan), made(plan)) == (set(), {})


def test_every_battery_of_the_catalogue_has_posts_of_the_same_two_roles() -> None:
    """So that a cable finds the post that does what its old one did, whichever battery comes in."""
    posts = {
        part.part: tuple(part.terminals[mark].role for mark in element.between)
        for part in catalogue().parts.values()
        for element in part.inside
        if isinstance(element, Source) and not element.when
    }
    assert len(posts) >= 7 and set(posts.values()) == {("30", "31")}
