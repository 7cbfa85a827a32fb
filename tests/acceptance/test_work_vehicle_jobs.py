"""A minibus, a forestry tractor and a trailer, and parts of theirs on the branches of the van."""

import pytest
from planned import (
    covered,
    fitted,
    held,
    inserted,
    joined,
    lines,
    loads,
    made,
    moved,
    new_strains,
    nothing_is_worse,
    outcomes,
    pair,
    planned,
    positions,
    says,
    staying,
    steps,
    worse,
)

from planner.telling.verdict import exit_status

ALTERNATOR, RADIO, DELAY = "minibus-alternator-built-in", "minibus-standard-radio", "minibus-courtesy-delay"
LED_TAILS, MODULE = "minibus-led-tail-lamps", "minibus-electronic-ignition"
GAUGE, GAUGE_AND_SENDER = "minibus-oil-gauge-on-the-switch", "minibus-oil-gauge-and-sender"
INHIBITOR, CONVERTER = "minibus-inhibitor-start-only", "trailer-socket-converter"
HORN_RELAY, MODULE_ON_6_V = "forestry-horn-relay-of-12-volts", "forestry-electronic-ignition"
NO_LOSS = (
    ALTERNATOR, DELAY, MODULE, GAUGE_AND_SENDER, "three-terminal-flasher", "regulator-of-three-units",
    "trailer-led-lamps",
)  # fmt: skip


@pytest.mark.parametrize("job", NO_LOSS)
def test_nothing_is_lost_where_nothing_should_be(job: str) -> None:
    plan = planned(job)
    assert nothing_is_worse(plan) and new_strains(plan) == set()
    assert (plan.verdict, exit_status(plan)) == ("no-loss", 0)


class TestAlternatorWithItsRegulatorInside:
    def test_the_charge_lamp_reaches_its_exciter_by_the_old_field_wire(self) -> None:
        plan = planned(ALTERNATOR)
        assert moved(plan) == {("M5", "bay.alternator:DF", "bay.alternator:D+")}
        assert joined(plan) == {frozenset(("M5", "M7"))}
        assert covered(plan) == {("M4", "bay.regulator:15"), ("M6", "bay.regulator:D-")}
        assert loads(plan, "lost") == {("alternator field", "bay.alternator")}

    def test_its_output_wire_is_renewed_for_55_amps(self) -> None:
        (renewed,) = steps(planned(ALTERNATOR), "renew")
        assert renewed.fields["wire"] == "M3" and "16 mm2 (AWG 4) for 6" in renewed.text

    def test_a_diode_keeps_the_engine_from_running_on(self) -> None:
        assert inserted(planned(ALTERNATOR)) == {"dash.charge-lamp:I": "diode-6"}


class TestRadioWhoseFeedsAreCrossed:
    def test_by_role_the_two_ends_trade_places(self) -> None:
        plan = planned(RADIO)
        assert moved(plan) == {
            ("M20", "dash.radio:A7", "dash.radio:A4"),
            ("M28", "dash.radio:A4", "dash.radio:A7"),
        }
        assert len(held(plan)) == 1 and staying(plan, "dash.radio") == {("M35", "A8")}

    def test_which_lead_is_permanent_must_be_measured_first(self) -> None:
        """Both have one colour, and a former owner fitted them."""
        plan = planned(RADIO)
        assert (plan.verdict, exit_status(plan)) == ("measure", 1)
        assert [question.about for question in plan.questions] == [
            "what is the red/grey wire, on A7 on the radio?",
            "what is the red/grey wire, on A4 on the radio?",
        ]


class TestCourtesyDelay:
    def test_it_sits_beside_the_door_switches_on_a_constant_feed(self) -> None:
        wires = set(made(planned(DELAY)))
        assert {pair("cab.delay:31", "earth:cab"), pair("cab.delay:30", "dash.fuse-box:1")} <= wires

    def test_the_lamp_is_gained_while_it_runs_and_only_then(self) -> None:
        found = [dict(p) for p in positions(planned(DELAY), "gained", "interior light", "cab.interior-lamp")]
        assert found and all(p["cab.delay/courtesy delay"] == "running" for p in found)
        assert all(p["cab.interior-lamp/lamp switch"] == "door" for p in found)

    def test_at_rest_it_takes_next_to_nothing(self) -> None:
        (drain,) = [line for line in planned(DELAY).strains if line.kind == "drain"]
        assert 0.001 < drain.value < 0.01 and not drain.is_over


def test_a_bulb_check_takes_light_emitting_tail_lamps_for_failed_ones() -> None:
    plan = planned(LED_TAILS)
    assert (plan.verdict, exit_status(plan)) == ("losses", 1)
    assert new_strains(plan) == {("coil", "dash.bulb-check")}
    assert loads(plan, "unintended") == {("bulb check warning lamp", "dash.bulb-lamp")}
    assert outcomes(plan, "tail lamp", "left.tail") == outcomes(plan, "stop lamp", "left.tail") == {"kept"}


class TestOilGaugeInPlaceOfAWarningLamp:
    def test_on_the_switch_it_has_no_sender_and_the_lamp_is_lost(self) -> None:
        plan = planned(GAUGE)
        assert (plan.verdict, exit_status(plan), plan.questions) == ("losses", 1, ())
        assert loads(plan, "lost") == {("oil warning lamp", "dash.oil-lamp")}
        assert says(plan, "the oil gauge has no sender: its wire leads to the oil pressure switch")

    def test_on_the_switch_it_shows_nothing_while_there_is_pressure(self) -> None:
        """The one thing that an oil gauge is for."""
        (gauge,) = lines(planned(GAUGE), "missing")
        assert (gauge.what, gauge.at) == ("oil gauge", "dash.oil-lamp")
        assert gauge.after == "it shows nothing but an end of its scale"
        assert not lines(planned(GAUGE), "gained")

    def test_with_its_sender_it_shows_pressure_and_only_the_accepted_lamp_is_lost(self) -> None:
        plan = planned(GAUGE_AND_SENDER)
        found = [dict(p) for p in positions(plan, "gained", "oil gauge", "dash.oil-lamp")]
        assert {p["oil pressure"] for p in found} == {"absent", "present"}
        assert [(line.what, line.accepted) for line in lines(plan, "lost")] == [("oil warning lamp", True)]
        assert set(made(plan)) == {pair("dash.oil-lamp:E", "earth:dash")}


def test_an_ignition_module_is_fed_before_the_ballast_and_never_behind_it() -> None:
    plan = planned(MODULE)
    (feed,) = made(plan)
    (other,) = feed - {"bay.distributor:15"}
    assert other not in ("bay.ballast:out", "bay.coil:15a", "bay.starter:15a")
    assert loads(plan, "gained") == {("ignition module", "bay.distributor")}


def test_an_inhibitor_switch_without_lamp_contacts_loses_the_reversing_lamp_alone() -> None:
    plan = planned(INHIBITOR)
    assert {(line.what, line.outcome) for line in worse(plan)} == {("reversing lamp", "lost")}
    assert covered(plan) == {("M26", "bay.inhibitor:lamp in"), ("M43", "bay.inhibitor:lamp out")}
    assert outcomes(plan, "crank the engine", "bay.starter") == {"kept"}


def test_a_third_terminal_of_a_flasher_with_no_lamp_of_its_own_is_covered() -> None:
    plan = planned("three-terminal-flasher")
    assert moved(plan) == {
        ("S1", "dash.flasher:B", "dash.flasher:49"),
        ("S2", "dash.flasher:L", "dash.flasher:49a"),
    }
    assert covered(plan) == {(None, "dash.flasher:C")}


def test_a_converter_gets_a_fused_feed_of_its_own_and_contact_2_is_asked() -> None:
    plan = planned(CONVERTER)
    assert (plan.verdict, exit_status(plan)) == ("measure", 1)
    assert worse(plan) == [] and new_strains(plan) == set()
    assert set(made(plan)) == {pair("feed:spare-fuse", "rear.trailer-socket:30")}
    assert says(plan, "blue wire", "2 on the trailer socket")


def test_a_bulb_check_that_comes_out_leaves_the_tail_lamps_lit_and_no_end_bare() -> None:
    plan = planned("minibus-bulb-check-out")
    assert (plan.verdict, worse(plan), made(plan)) == ("no-loss", [], {})
    assert joined(plan) == {pair("M45", "M46")}
    told = {"M45": "IT STAYS LIVE", "M47": "tag it"}
    for step in steps(plan, "cover"):
        assert told[step.fields["wire"]] in step.text
    assert len(steps(plan, "cover")) == 3  # both ends of the lead between check and lamp


def test_where_a_regulator_has_no_lamp_contact_the_armature_earths_the_charge_lamp() -> None:
    plan = planned("regulator-of-two-units")
    assert (plan.verdict, worse(plan)) == ("no-loss", [])
    assert moved(plan) == {("C4", "bay.regulator:W", "bay.regulator:D")}
    assert covered(plan) == {(None, "bay.regulator:A1")}


def test_a_horn_relay_of_12_volts_never_pulls_in_on_6() -> None:
    """Its terminals are those of the old one, and it would be on sale beside it."""
    plan = planned(HORN_RELAY)
    assert (plan.verdict, exit_status(plan)) == ("losses", 1)
    assert loads(plan, "lost") == {("sound the horn", "nose.horn")}
    assert new_strains(plan) == {("coil", "bonnet.horn-relay")}
    assert moved(plan) == set() and says(plan, "sound the horn", "horn push pressed")


def test_an_ignition_module_of_12_volts_on_6_is_a_question_and_no_success() -> None:
    plan = planned(MODULE_ON_6_V)
    assert (plan.verdict, exit_status(plan)) == ("measure", 1)
    assert says(plan, "works at 6 V", "made for 12 V")


def test_what_led_lamps_do_to_the_towing_vehicle_is_not_seen_and_said() -> None:
    plan = planned("trailer-led-lamps")
    assert fitted(plan) == {"left.rear": "trailer-rear-lamp-led", "right.rear": "trailer-rear-lamp-led"}
    assert moved(plan) == set() and says(plan, "the towing vehicle", "flasher")
