"""Heavier loads: what each strains before anything is done about it, what is done, and the neighbour's peace.

Of each job the looms are looked at twice: as the wiring alone would leave it, and as the plan leaves it.
"""

from functools import lru_cache

import pytest
from planned import (
    catalogue,
    covered,
    loads,
    made,
    moved,
    new_hazards,
    nothing_is_worse,
    pair,
    piggybacked,
    planned,
    steps,
    worse,
)

from planner.currents.currents import Currents
from planner.model.plan import Plan
from planner.model.strain import Strain
from planner.pipeline import settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job
from planner.telling.verdict import exit_status
from rules import RULES

# Kind, the job that provokes it, what is strained, and the job beside it that does not.
PROVOKED = [
    ("contact", "brighter-headlamps", "dash.lighting-switch:56", "headlamps-of-the-old-watts"),
    ("drop", "brighter-headlamps", "right.headlamp", "headlamps-of-the-old-watts"),
    ("wire", "dynamo-to-alternator", "C2", "dynamo-to-small-alternator"),
    ("fuse", "electric-fan", "dash.fuse-box:2", "small-electric-fan"),
    ("tab", "electric-fan", "bay.fan:15", "small-electric-fan"),
    ("tab", "stronger-heater-on-a-piggyback", "dash.fuse-box:2", "heater-like-the-old-one"),
    ("fuse-over-wire", "fuse-box-with-larger-fuses", "A5", "fuse-box-with-like-fuses"),
    ("earth", "lamp-on-a-poor-earth", "front.spot-lamp", "lamp-on-a-sound-earth"),
    ("wire", "fan-in-a-bundle", "F1", "fan-on-its-own-wire"),
    ("fuse", "stronger-foot-heater", "dash.fuse-box:1", "foot-heater-like-the-old-one"),
]
JOBS = sorted({job for _, job, _, _ in PROVOKED})
NEIGHBOURS = sorted({neighbour for _, _, _, neighbour in PROVOKED})


@lru_cache
def by_the_wiring_alone(job: str) -> dict[tuple[str, str], Strain]:
    """What a job's loom strains that it did not before, if currents are not asked when it is chosen."""
    read, loom = read_job(job, catalogue())
    prover = Prover(loom, catalogue(), read)
    chosen = settle(read, loom, catalogue(), RULES, prover).chosen
    faults = Currents(prover).faults(chosen.candidate.loom)
    return {(f.strain.kind, f.strain.at): f.strain for f in faults if f.strain}


def over(plan: Plan) -> set[tuple[str, str]]:
    """Kind and place of what a plan strains itself."""
    return {(line.kind, line.at) for line in plan.strains if line.is_new}


class TestEveryPair:
    @pytest.mark.parametrize(("kind", "job", "at", "neighbour"), PROVOKED)
    def test_a_strain_is_provoked_by_one_job_and_not_by_its_neighbour(
        self, kind: str, job: str, at: str, neighbour: str
    ) -> None:
        strain = by_the_wiring_alone(job)[kind, at]
        assert strain.is_over and strain.source
        assert not {k for k, _ in by_the_wiring_alone(neighbour)} & {kind}

    @pytest.mark.parametrize("job", JOBS)
    def test_the_plan_strains_nothing_any_more_and_loses_nothing_for_it(self, job: str) -> None:
        plan = planned(job)
        assert over(plan) == set()
        assert worse(plan) == [] and new_hazards(plan) == set()
        is_open = any(line.is_open for line in plan.remarks)  # an ammeter in the way of the output
        assert is_open == (job == "dynamo-to-alternator")
        assert (plan.verdict, exit_status(plan)) == (("unsettled", 1) if is_open else ("no-loss", 0))

    @pytest.mark.parametrize("job", NEIGHBOURS)
    def test_the_neighbour_needs_no_remedy(self, job: str) -> None:
        plan = planned(job)
        remedies = {"wire-too-thin", "heavy-load-on-old-way", "terminal-carries-too-much", "poor-earth",
                    "fuse-larger-than-wire", "fuse-smaller-than-load"}  # fmt: skip
        # D+ has a little more than the ignition, so the lamp glows by 2.3 %: no load, and a diode answers it.
        glows = {("sneak", "dash.charge-lamp")} if job == "dynamo-to-small-alternator" else set()
        assert set(by_the_wiring_alone(job)) == glows and over(plan) == set()
        assert not remedies & {rule for step in plan.steps for rule in step.because}
        assert nothing_is_worse(plan) and plan.verdict == "no-loss"

    @pytest.mark.parametrize("job", [*JOBS, *NEIGHBOURS])
    def test_nothing_is_offered_beside_the_plan_that_burns(self, job: str) -> None:
        """What takes less work because it leaves a strain is no alternative."""
        for alternative in planned(job).alternatives:
            assert not [loss for loss in alternative.loses if loss.startswith("strain")], alternative


class TestBrighterHeadlamps:
    """The switch is rated for 9 A of filaments; two of 60 W take 10 A, two of 55 W 9.2 A."""

    plan = staticmethod(lambda: planned("brighter-headlamps"))

    def test_each_beam_gets_a_relay_before_its_fuses(self) -> None:
        fitted = {(s.fields["at"], s.fields["part"]) for s in steps(self.plan(), "fit")}
        relays = {at for at, part in fitted if part == "relay-make-70"}
        assert relays == {"left.headlamp.relay", "left.headlamp.relay-2"}
        ends = {(wire, was) for wire, was, to in moved(self.plan()) if to.endswith(":86")}
        assert ends == {("E3", "bay.lamp-fuses:56a"), ("E4", "bay.lamp-fuses:56b")}

    def test_each_relay_is_fed_from_the_battery_by_its_own_fuse_and_feeds_the_fuses(self) -> None:
        wires = made(self.plan())
        for relay, beam in (("left.headlamp.relay", "56a"), ("left.headlamp.relay-2", "56b")):
            assert wires[pair("bay.battery:+", f"{relay}.fuse:in")].fields["mm2"] == 2.5
            assert wires[pair(f"{relay}.fuse:out", f"{relay}:30")].fields["mm2"] == 2.5
            assert pair(f"{relay}:87", f"bay.lamp-fuses:{beam}") in wires
            assert pair(f"{relay}:85", "earth:bay") in wires

    @pytest.mark.parametrize("job", ["brighter-headlamps", "headlamps-with-two-relays"])
    def test_a_fuse_for_each_beam_is_laid_ready_and_what_it_darkens_is_told(self, job: str) -> None:
        assert [step.fields["amps"] for step in steps(planned(job), "fuse")] == [15.0, 15.0]
        texts = [r.text for r in planned(job).remarks if r.because == "one-fuse-both-headlamps"]
        assert len(texts) == 2 and all("the other beam is left" in text for text in texts)
        assert not [
            wire for wire in made(planned(job)) if "bay.battery:+" in wire and "fuse:in" not in str(wire)
        ]

    def test_the_switch_works_two_coils_and_the_lamps_get_their_volts(self) -> None:
        lines = {(line.kind, line.at): line for line in self.plan().strains}
        assert lines["contact", "dash.lighting-switch:56"].value < 0.5
        drops = [line.value for line in self.plan().strains if line.kind == "drop" and line.duty == "head"]
        before = by_the_wiring_alone("brighter-headlamps")["drop", "right.headlamp"].value
        assert len(drops) == 4 and max(drops) < 0.6 < before


class TestElectricFan:
    """18 A: more than the fuse, the wire as usually made, and its blades."""

    plan = staticmethod(lambda: planned("electric-fan"))

    def test_the_wire_from_the_fuse_box_works_only_the_coil(self) -> None:
        assert pair("dash.fuse-box:2a", "bay.fan.relay:86") in made(self.plan())
        assert pair("dash.fuse-box:2a", "bay.fan:15") not in made(self.plan())

    def test_the_current_comes_from_the_battery_by_a_fuse_of_25_amps_that_its_wires_stand(self) -> None:
        (fuse,) = steps(self.plan(), "fuse")
        assert (fuse.fields["at"], fuse.fields["amps"]) == ("bay.fan.relay.fuse:out", 25.0)
        assert fuse.fields["old_amps"] is None
        way = [("bay.battery:+", "bay.fan.relay.fuse:in"), ("bay.fan.relay.fuse:out", "bay.fan.relay:30"),
               ("bay.fan.relay:87", "bay.fan:15")]  # fmt: skip
        assert [made(self.plan())[pair(*ends)].fields["mm2"] for ends in way] == [4.0, 4.0, 4.0]

    def test_the_relay_is_rated_for_a_motor(self) -> None:
        (relay,) = [s for s in steps(self.plan(), "fit") if s.fields["at"] == "bay.fan.relay"]
        assert relay.fields["part"] == "relay-make-40"
        lines = {(line.kind, line.at): line for line in self.plan().strains}
        assert lines["contact", "bay.fan.relay:87"].limit == 20.0

    def test_the_earth_goes_straight_to_the_battery(self) -> None:
        assert pair("bay.fan:31", "bay.battery:-") in made(self.plan())

    def test_the_fan_runs_with_the_ignition_and_that_is_a_gain(self) -> None:
        assert loads(self.plan(), "gained") == {("cool the radiator", "bay.fan")}
        assert loads(self.plan(), "unintended") == set()

    def test_the_small_fan_is_fed_by_the_free_blade_alone(self) -> None:
        assert set(made(planned("small-electric-fan"))) == {
            pair("dash.fuse-box:2a", "bay.fan:15"), pair("bay.fan:31", "earth:bay")
        }  # fmt: skip


class TestPiggybackTooMany:
    plan = staticmethod(lambda: planned("stronger-heater-on-a-piggyback"))

    def test_the_other_end_goes_to_the_second_blade_of_the_fuse(self) -> None:
        assert moved(self.plan()) == {("A5", "dash.fuse-box:2", "dash.fuse-box:2a")}
        assert made(self.plan()) == {} and piggybacked(self.plan()) == [] and covered(self.plan()) == set()

    def test_each_blade_then_carries_its_own(self) -> None:
        tabs = {line.at: line.value for line in self.plan().strains if line.kind == "tab"}
        shared = by_the_wiring_alone("stronger-heater-on-a-piggyback")["tab", "dash.fuse-box:2"].value
        assert tabs["dash.fuse-box:2"] + tabs["dash.fuse-box:2a"] == pytest.approx(shared, rel=0.02)


class TestFuseLargerThanTheWire:
    plan = staticmethod(lambda: planned("fuse-box-with-larger-fuses"))

    def test_one_smaller_fuse_guards_both_thin_wires(self) -> None:
        (fuse,) = steps(self.plan(), "fuse")
        assert fuse.fields == {"at": "dash.fuse-box:2", "amps": 15.0, "old_amps": 25.0}
        assert "in place of the one of 25 A" in fuse.text

    def test_the_fuse_that_its_wire_stands_is_left_alone(self) -> None:
        line = next(s for s in self.plan().strains if (s.kind, s.at) == ("fuse-over-wire", "A6"))
        assert (line.value, line.limit) == (25.0, 32.0)


class TestPoorEarth:
    plan = staticmethod(lambda: planned("lamp-on-a-poor-earth"))

    def test_a_lead_to_the_battery_cures_it(self) -> None:
        new = [s for s in steps(self.plan(), "add") if "poor-earth" in s.because]
        assert [(s.fields["from"], s.fields["to"], s.fields["mm2"]) for s in new] == [
            ("earth:front", "bay.battery:-", 4.0)
        ]

    def test_more_than_a_volt_is_won_back(self) -> None:
        lost = by_the_wiring_alone("lamp-on-a-poor-earth")["earth", "front.spot-lamp"].value
        (now,) = [s.value for s in self.plan().strains if (s.kind, s.at) == ("earth", "front.spot-lamp")]
        assert lost > 1.2 and now < 0.1


class TestFuseSmallerThanTheLoad:
    def test_the_next_rating_that_carries_it_goes_in_and_the_wire_stands_it(self) -> None:
        plan = planned("stronger-foot-heater")
        (fuse,) = steps(plan, "fuse")
        assert fuse.fields == {"at": "dash.fuse-box:1", "amps": 15.0, "old_amps": 8.0}
        line = next(s for s in plan.strains if (s.kind, s.at) == ("fuse-over-wire", "A6"))
        assert line.value == 15.0 < line.limit
