"""LED lamps, alternators, gauges, drains, sneaks, coils: each with a neighbour that is no trouble."""

from functools import lru_cache

import pytest
from planned import (
    catalogue,
    fitted,
    inserted,
    joined,
    loads,
    made,
    new_strains,
    nothing_is_worse,
    pair,
    piggybacked,
    planned,
    positions,
    says,
    steps,
    strains,
)

from planner.currents.currents import Currents
from planner.engine.needs import swap_operations
from planner.model.delta import Add, new_end
from planner.model.loom import Wire
from planner.model.need import Fault
from planner.model.strain import Strain
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job
from planner.telling.verdict import exit_status

LAMPS = ("left.front", "right.front", "left.rear", "right.rear")
QUIET = (
    "led-rear-lamps-and-flasher",
    "led-indicators-own-earth",
    "dynamo-to-small-alternator",
    "fuel-gauge-and-sender",
    "route-recorder-ignition",
    "door-warning-lamp-always-live",
    "gauge-with-own-stabiliser",
    "sports-coil",
)
CURED = (
    "led-rear-lamps",
    "led-indicators",
    "fuel-gauge-of-another-year",
    "route-recorder",
    "door-warning-lamp",
    "gauge-stabiliser-lost",
    "ballast-coil",
)


REMEDIES = {
    "back-feed",
    "charge-lamp-excites-field",
    "coil-and-ballast-disagree",
    "drain-at-rest",
    "flasher-does-not-suit-lamps",
    "gauge-and-sender-disagree",
    "gauge-without-stabiliser",
    "shared-indicator-with-led-lamps",
    "way-of-the-output",
}


def wire(name: str, *ends: str) -> Add:
    """A plain wire of 1.5 mm2, as somebody would run it who sees no trouble."""
    record = Wire.model_construct(
        wire=name, colour=("BK",), mm2=(1.5,), metres=(0.5,), ends=tuple(new_end(at, None) for at in ends),
        known="measured", note=None,
    )  # fmt: skip
    return Add(record, None)


@lru_cache
def without_remedy(job_name: str, *wires: tuple[str, ...]) -> tuple[tuple[Strain, ...], tuple[Fault, ...]]:
    """What is strained and at fault if the parts are swapped, ends keep their marks, these wires run."""
    job, before = read_job(job_name, catalogue())
    prover = Prover(before, catalogue(), job)
    after = before
    for operation in swap_operations(before, job, catalogue().parts):
        after = operation.apply(after)
    parts = catalogue().parts
    fields = {}
    for swap in job.swaps:
        for name, number, mark in before.ends_of_place(swap.at):
            assert mark in parts[swap.fit].terminals
            ends = fields.setdefault(name, list(after.find(name).ends))
            ends[number] = ends[number].model_copy(update={"at": f"{swap.at}:{mark}"})
    records = [w.model_copy(update={"ends": tuple(fields.get(w.wire, w.ends))}) for w in after.wires]
    after = type(after).model_validate(
        {**after.model_dump(by_alias=True), "wires": [r.model_dump() for r in records]}
    )
    for number, ends in enumerate(wires):
        after = wire(f"T{number}", *ends).apply(after)
    return Currents(prover).strains(after), prover.prove(after).faults


def over(job: str, kind: str, *wires: tuple[str, ...]) -> dict[str, Strain]:
    """What of one kind is over its limit without the remedy, the worst at each place."""
    found: dict[str, Strain] = {}
    for strain in without_remedy(job, *wires)[0]:
        if strain.kind == kind and strain.is_over:
            found.setdefault(strain.at, strain)
    return found


@pytest.mark.parametrize("job", QUIET)
def test_a_neighbour_without_the_trouble_gets_no_remedy(job: str) -> None:
    """What the job asks for is done, and nothing is put in line, exchanged or warned of."""
    plan = planned(job)
    own = {"back-feed"} if job == "dynamo-to-small-alternator" else set()
    told = {rule for step in plan.steps for rule in step.because} | {r.because for r in plan.remarks}
    assert told & REMEDIES == own
    assert (plan.verdict, exit_status(plan)) == ("no-loss", 0)
    assert new_strains(plan) == set() and plan.questions == ()


@pytest.mark.parametrize("job", CURED)
def test_what_troubles_a_job_is_cured_without_a_loss(job: str) -> None:
    assert nothing_is_worse(planned(job)) and new_strains(planned(job)) == set()
    assert (planned(job).verdict, exit_status(planned(job))) == ("no-loss", 0)


class TestLedRearLamps:
    """21 W and 3 W together take 2.0 A; the thermal unit needs 2.6 A."""

    plan = staticmethod(lambda: planned("led-rear-lamps"))

    def test_without_a_remedy_nothing_flashes_on_either_side(self) -> None:
        faults = without_remedy("led-rear-lamps")[1]
        assert {(f.kind, f.what, f.at) for f in faults} == {("lost", "turn lamp", at) for at in LAMPS}

    def test_an_electronic_unit_takes_the_place_of_the_thermal_one(self) -> None:
        assert fitted(self.plan())["dash.flasher"] == "flasher-electronic"
        assert made(self.plan()) == {}

    def test_it_stands_on_a_card_of_its_own(self) -> None:
        (card,) = [card for card in self.plan().cards if card.at == "dash.flasher"]
        assert [(row.mark, row.goes_to) for row in card.rows][:2] == [("B", "B (stays)"), ("L", "L (stays)")]

    def test_resistors_beside_both_rear_lamps_are_the_other_way(self) -> None:
        (alternative,) = self.plan().alternatives
        fits = [text for text in alternative.steps if text.startswith("Fit the resistor")]
        assert [text.partition(":")[2] for text in fits] == [" load resistor, 15 ohms, 25 W"] * 2
        assert any(
            "12 V / 0.6 A are 20 ohms at most; 15 ohms burn 9.6 W" in fact for fact in alternative.facts
        )
        assert alternative.loses == () and alternative.minutes > self.plan().minutes

    def test_that_a_failed_lamp_no_longer_shows_is_said(self) -> None:
        assert says(self.plan(), "does not tell of a failed lamp")


class TestLedIndicators:
    """The indicator's 0.18 A go through the lamps of the other side."""

    plan = staticmethod(lambda: planned("led-indicators"))

    def test_without_a_remedy_the_other_side_glows_by_way_of_the_indicator(self) -> None:
        found = over("led-indicators", "sneak")
        assert set(found) == set(LAMPS)
        for at, strain in found.items():
            assert strain.value > 0.25
            path = strain.path
            ends = ("dash.turn-indicator:L", "dash.turn-indicator:R")
            first, last = ends if at.startswith("right") else ends[::-1]
            assert path.index(first) < path.index(last) < path.index(f"{at}:lamp")

    def test_each_side_gets_a_diode_towards_one_terminal_and_the_other_an_earth(self) -> None:
        assert inserted(self.plan()) == {
            "dash.turn-indicator:L": "diode-6",
            "dash.turn-indicator:R": "diode-6",
        }
        for step in steps(self.plan(), "insert"):
            assert "and L on the turn indicator, dash; the wire on 'anode'; the lead N" in step.text
            assert "from 'cathode' (a bullet) to there (a 4.8 mm push-on terminal)" in step.text
            assert "its cathode, is towards L on the turn indicator, dash; with it goes" in step.text
        assert set(made(self.plan())) == {pair("dash.turn-indicator:R", "earth:dash")}
        assert piggybacked(self.plan()) == ["dash.turn-indicator:L"]

    def test_an_indicator_with_an_earth_of_its_own_is_the_other_way(self) -> None:
        (alternative,) = self.plan().alternatives
        assert "with its own diodes and earth" in alternative.title
        assert alternative.loses == () and alternative.minutes < self.plan().minutes


class TestAlternators:
    """The old regulator goes; its wires are joined past it. One wire was sized for 22 A."""

    ALL = ("dynamo-to-alternator", "dynamo-to-small-alternator", "alternator-with-led-charge-lamp")

    @pytest.mark.parametrize("job", ALL)
    def test_the_wires_of_the_regulator_are_joined_in_two_groups(self, job: str) -> None:
        assert joined(planned(job)) == {frozenset({"C2", "C6", "C10"}), frozenset({"C3", "C4"})}

    @pytest.mark.parametrize("job", ALL)
    def test_the_output_is_joined_on_a_stud_and_the_charge_lamps_wire_in_a_joiner(self, job: str) -> None:
        thick, thin = sorted((s.text for s in steps(planned(job), "join")), key=lambda text: "C2" not in text)
        assert "on an M6 stud under a cover" in thick
        assert "in a sealed joiner" in thin  # the bulkhead gets wet

    @pytest.mark.parametrize("job", ALL)
    def test_the_dynamos_wires_become_output_and_lamp(self, job: str) -> None:
        moved = {(s.fields["wire"], s.fields["to"]) for s in steps(planned(job), "move")}
        laid = {(s.fields["wire"], s.fields["from"]) for s in steps(planned(job), "renew")}
        assert moved | laid == {("C2", "engine.dynamo:B+"), ("C3", "engine.dynamo:D+")}

    @pytest.mark.parametrize("job", ALL)
    def test_only_the_old_field_is_lost_and_nobody_is_told_that_its_volts_run_away(self, job: str) -> None:
        assert loads(planned(job), "lost") == {("dynamo field", "engine.dynamo")}
        assert not says(planned(job), "nothing limits the field")

    @pytest.mark.parametrize("job", ALL)
    def test_it_charges(self, job: str) -> None:
        line = strains(planned(job), "not-charging")["engine.dynamo"]
        assert not line.is_over and line.value > 1

    def test_the_old_wire_does_not_stand_45_amps_and_a_thicker_one_is_laid(self) -> None:
        before = strains(planned("dynamo-to-small-alternator"), "wire")["C2"].limit
        assert before == pytest.approx(29.8, abs=0.1)
        plan = planned("dynamo-to-alternator")
        (step,) = steps(plan, "renew")
        assert (step.fields["wire"], step.fields["mm2"]) == ("C2", 10)
        line = strains(plan, "wire")["C2"]
        assert line.value == 45 and not line.is_over
        assert new_strains(plan) == set()

    def test_an_ammeter_that_ends_below_the_output_is_left_to_settle(self) -> None:
        plan = planned("dynamo-to-alternator")
        assert says(plan, "ends at 30 A", "up to 45 A")
        (left,) = plan.unsettled
        assert plan.verdict == "unsettled"
        assert "with the ammeter, dash taken out and nothing in its place" in left

    def test_the_old_wire_stands_28_amps(self) -> None:
        line = strains(planned("dynamo-to-small-alternator"), "wire")["C2"]
        assert line.value == 28 and not line.is_over

    def test_the_engine_does_not_run_on_through_the_charge_lamp(self) -> None:
        assert inserted(planned("dynamo-to-small-alternator")) == {"dash.charge-lamp:I": "diode-6"}

    def test_a_light_emitting_lamp_lets_nothing_back_itself(self) -> None:
        assert inserted(planned("alternator-with-led-charge-lamp")) == {}

    def test_whether_it_excites_the_field_is_asked_and_a_resistor_offered(self) -> None:
        plan = planned("alternator-with-led-charge-lamp")
        assert plan.verdict == "measure"
        (question,) = plan.questions
        assert question.because == "charge-lamp-excites-field" and "0.3 W" in question.about
        assert any("82 ohms" in alternative.title for alternative in plan.alternatives)


class TestFuelGauges:
    def test_the_wrong_sender_is_off_by_more_than_a_tenth_and_every_reading_said(self) -> None:
        strain = over("fuel-gauge-of-another-year", "gauge")["dash.fuel-gauge"]
        assert strain.value == pytest.approx(12.7 / (69 + 20) / 0.1176 - 1, abs=0.01)
        assert "full 121%, should be 100%" in strain.note and "empty 43%, should be 33%" in strain.note

    def test_a_sender_of_its_range_is_fitted_on_the_same_wire(self) -> None:
        plan = planned("fuel-gauge-of-another-year")
        assert fitted(plan)["rear.tank-sender"] == "fuel-sender-33-240"
        assert strains(plan, "gauge")["dash.fuel-gauge"].value < 0.1

    @pytest.mark.parametrize("job", ["fuel-gauge-of-another-year", "fuel-gauge-and-sender"])
    def test_whoever_opens_the_tank_is_told_of_the_vapour(self, job: str) -> None:
        assert any("tank sender: Fuel and its vapour" in remark.text for remark in planned(job).remarks)

    def test_12_volts_on_a_gauge_for_10_are_found_by_volts_and_by_reading(self) -> None:
        assert over("gauge-stabiliser-lost", "over-voltage")["dash.fuel-gauge"].value == pytest.approx(
            12.7, abs=0.05
        )
        assert over("gauge-stabiliser-lost", "gauge")["dash.fuel-gauge"].value == pytest.approx(
            0.27, abs=0.01
        )

    def test_a_stabiliser_goes_into_its_feed_on_metal_and_it_reads_right(self) -> None:
        plan = planned("gauge-stabiliser-lost")
        assert inserted(plan) == {"dash.fuel-gauge:I": "gauge-stabiliser"}
        assert steps(plan, "insert")[0].text.endswith("screwed to bare metal")
        assert strains(plan, "over-voltage")["dash.fuel-gauge"].value == pytest.approx(10, abs=0.2)
        assert strains(plan, "gauge")["dash.fuel-gauge"].value < 0.03

    def test_no_plan_beside_it_leaves_the_gauge_on_12_volts(self) -> None:
        for alternative in planned("gauge-stabiliser-lost").alternatives:
            assert any("gets 12.7 V" in loss for loss in alternative.loses), alternative.steps


class TestDrain:
    def test_a_constant_feed_empties_the_battery_in_days(self) -> None:
        strain = over("route-recorder", "drain", ("dash.fuse-box:1", "dash.recorder:30"))["bay.battery:+"]
        assert strain.value == pytest.approx(12.7 / 40, rel=0.02)
        assert strain.note == "317 mA: half of 40 Ah is gone in 2.6 days"

    def test_its_feed_is_taken_from_the_ignition_fuse(self) -> None:
        plan = planned("route-recorder")
        (step,) = made(plan).values()
        assert {step.fields["from"], step.fields["to"]} == {"dash.fuse-box:2", "dash.recorder:30"}
        assert "drain-at-rest" in step.because and any("2.8 days" in fact for fact in step.facts)
        assert "drain" not in {line.kind for line in plan.strains if line.is_over}

    def test_it_runs_with_the_ignition_and_only_then(self) -> None:
        found = positions(planned("route-recorder"), "gained", "record the route", "dash.recorder")
        assert {dict(p)["dash.ignition-switch/ignition"] for p in found} == {"on", "start"}

    def test_a_switch_in_its_constant_feed_is_the_other_way(self) -> None:
        assert any("in-line switch" in a.title for a in planned("route-recorder").alternatives)


class TestSneak:
    """Two lamps share a door switch; one is always live, the other on the ignition."""

    WIRES = (("dash.fuse-box:2", "dash.door-lamp:I"), ("dash.door-lamp:D", "cab.door-switch:D"))

    def test_without_a_diode_both_lamps_glow_backwards_through_the_warning_lamp(self) -> None:
        strain = over("door-warning-lamp", "sneak", *self.WIRES)["dash.door-lamp"]
        assert strain.value > 0.1
        way = ["dash.fuse-box:1", "cab.interior-lamp:B", "cab.interior-lamp:D", "dash.door-lamp:D",
               "dash.door-lamp:I", "dash.fuse-box:2", "dash.heater-fan:+"]  # fmt: skip
        assert [at for at in strain.path if at in way] == way
        assert strain.position == {"dash.heater-switch/heater": "on"}

    def test_a_diode_in_the_warning_lamps_feed_passes_towards_the_lamp_only(self) -> None:
        plan = planned("door-warning-lamp")
        assert inserted(plan) == {"dash.door-lamp:I": "diode-6"}
        (step,) = steps(plan, "insert")
        assert step.text.startswith(
            "Put a diode, 6 A in line at I on the door warning lamp, dash; the lead N3"
        )
        assert (
            "from 'cathode' (a bullet) to there (a 4.8 mm push-on terminal); the band round it, its cathode, "
            "is towards I on the door warning lamp, dash"
        ) in step.text
        assert step.text.endswith("; a new wire goes on 'anode' in step 8")
        assert any("from D on the door warning lamp, dash to I" in fact for fact in step.facts)
        assert plan.steps[step.n].do == "add" and "'anode' on the diode" in plan.steps[step.n].text

    def test_then_nothing_takes_current_by_way_of_another(self) -> None:
        assert {
            line.at for line in strains(planned("door-warning-lamp"), "sneak").values() if line.is_over
        } == set()


class TestCoils:
    def test_a_ballast_coil_on_12_volts_gets_twice_its_own(self) -> None:
        strain = over("ballast-coil", "overheats")["bay.coil"]
        assert strain.value > 12 and strain.limit == pytest.approx(7.5)

    def test_it_gets_its_resistor_and_6_volts(self) -> None:
        plan = planned("ballast-coil")
        assert inserted(plan) == {"bay.coil:SW": "ballast-resistor"}
        assert any("1.5 ohms" in fact for step in steps(plan, "insert") for fact in step.facts)
        assert strains(plan, "overheats")["bay.coil"].value == pytest.approx(6, abs=1.2)
