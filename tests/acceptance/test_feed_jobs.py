"""Feeds and contacts: ignition switches, horns, a feed of unknown nature, the trailer socket, a relay."""

import pytest
from planned import (
    benched,
    catalogue,
    covered,
    every,
    loads,
    made,
    moved,
    new_hazards,
    nothing_is_worse,
    outcomes,
    pair,
    piggybacked,
    planned,
    positions,
    says,
    staying,
    steps,
    worse,
)

from planner.model.delta import copy_loom, with_end
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.render.markdown import as_markdown
from planner.telling.verdict import exit_status

SWITCH, IGNITION = "dash.ignition-switch", "dash.ignition-switch/ignition"
HORN, PUSH, BUTTON = "bay.horn", "column.horn-push", "column.horn-push/horn button"
SOUND = ("sound the horn", HORN)
SOCKET = "rear.trailer-socket"
HEATER = "dash.heater-switch"


# No push-on terminal takes the two 6 mm2 wires of the feed: they go into a joiner, and a tail to the switch.
FEED_JOINT = "joint:dash.ignition-switch.30"


def ignition_moves(accessory: str) -> set[tuple[str, str, str]]:
    """The five ends of the ignition switch, the accessory wire on a terminal of choice."""
    marks = {"W11": ("ST", "50"), "W14": ("IG", "15"), "W15": ("IG", "15"), "W18": ("AC", accessory)}
    moves = {(wire, f"{SWITCH}:{was}", f"{SWITCH}:{to}") for wire, (was, to) in marks.items()}
    return moves | {("W13", f"{SWITCH}:A", FEED_JOINT)}


class TestIgnitionSwitchWithoutAccessory:
    """The ignition terminal is live in the positions of the old accessory terminal, start included.

    So the accessory wire shares it.
    Left off, heater and radio are lost; on the constant feed they stay live.
    """

    plan = staticmethod(lambda: planned("ignition-switch-without-accessory"))

    def test_the_accessory_wire_shares_the_ignition_terminal(self) -> None:
        assert moved(self.plan()) == ignition_moves("15")
        assert piggybacked(self.plan()) == [f"{SWITCH}:15"]

    def test_nobody_is_promised_that_a_terminal_far_past_its_test_only_wears(self) -> None:
        """26.9 A on a terminal tested with 15 A; heat goes with the square: 1.8 * 1.8 = 3.2."""
        hot = {line.at for line in self.plan().strains if line.is_new and line.gets_hot}
        assert hot == {f"{SWITCH}:15"}  # 30 passes 26.9 A of 24 A
        sheet = as_markdown(bench_sheet(benched("ignition-switch-without-accessory")))
        said = " ".join(sheet.partition("## Cautions")[0].split())
        assert "1.8 times that makes 3.2 times the heat; the orange wire (W14) brings 18.6 A of it" in said
        hot_said, _, worn_said = said.partition("it wears sooner, or dims:")
        assert "15 on the ignition switch" in hot_said and "a blade of its own" in hot_said
        assert "30 on the ignition switch" in worn_said and "15 on the ignition" not in worn_said

    def test_both_wires_of_the_feed_go_to_the_switch_by_a_joiner_and_a_tail(self) -> None:
        """No 6.3 mm push-on terminal is made for 12 mm2, but for 6 mm2 at the most (IEC 61210 clause 1)."""
        (tail,) = made(self.plan()).items()
        assert tail[0] == pair(FEED_JOINT, f"{SWITCH}:30")
        assert (tail[1].fields["mm2"], tail[1].fields["fittings"]) == (6.0, ["ring-6", "blade-6.3"])
        lines = [line.what for line in benched("ignition-switch-without-accessory").materials]
        assert {
            "M6 stud under a cover, for 3 rings, up to 6 mm2",
            "wire, red, 6 mm2 (AWG 8)",
            "push-on terminal, 6.3 mm, for 6 mm2 (AWG 8)",
            "ring, M6, for 6 mm2 (AWG 8)",
        } <= set(lines)
        assert not any("push-on" in line and ("16 mm2" in line or " + " in line) for line in lines)

    def test_no_end_is_left_over_to_be_tied_back(self) -> None:
        assert covered(self.plan()) == set()

    @pytest.mark.parametrize("load", [("blow warm air", "bay.heater-fan"), ("radio", "dash.radio")])
    def test_heater_and_radio_work_as_before(self, load: tuple[str, str]) -> None:
        assert outcomes(self.plan(), *load) == {"kept"}

    def test_nothing_is_lost_or_live_with_the_key_out(self) -> None:
        assert nothing_is_worse(self.plan()) and loads(self.plan(), "gained") == set()
        assert (self.plan().verdict, exit_status(self.plan()), self.plan().road) == ("no-loss", 0, "yes")

    def test_every_screw_end_gets_a_push_on_terminal(self) -> None:
        ends = {(s.fields["wire"], s.fields["fitting"]) for s in steps(self.plan(), "re-end")}
        assert ends == {("W13", "ring-6"), *((wire, "blade-6.3") for wire in ("W11", "W14", "W15", "W18"))}


class TestIgnitionSwitchAccessoryDrops:
    """Every end lands.

    Coil and starter are fed at start; heater and radio, which were live at start, pause while the starter
    turns. Moving their wire to the ignition terminal would keep them.
    """

    plan = staticmethod(lambda: planned("ignition-switch-accessory-drops"))

    def test_every_end_lands_by_role(self) -> None:
        assert moved(self.plan()) == ignition_moves("75")
        assert set(made(self.plan())) == {pair(FEED_JOINT, f"{SWITCH}:30")}
        assert covered(self.plan()) == set()

    def test_heater_and_radio_are_lost_at_start_only(self) -> None:
        fan, radio = ("blow warm air", "bay.heater-fan"), ("radio", "dash.radio")
        assert loads(self.plan(), "lost") == {fan, radio}
        start = {IGNITION: "start"}
        assert positions(self.plan(), "lost", *fan) == every({**start, f"{HEATER}/heater": "on"})
        assert positions(self.plan(), "lost", *radio) == every({**start, "dash.radio/radio switch": "on"})
        assert loads(self.plan(), "changed") | loads(self.plan(), "unintended") == set()

    @pytest.mark.parametrize("load", [("ignition spark", "bay.coil"), ("crank the engine", "bay.starter")])
    def test_the_engine_starts_as_before(self, load: tuple[str, str]) -> None:
        assert outcomes(self.plan(), *load) == {"kept"}

    def test_it_is_a_loss_but_no_reason_not_to_drive(self) -> None:
        assert (self.plan().verdict, exit_status(self.plan()), self.plan().road) == ("losses", 1, "yes")

    def test_sharing_the_ignition_terminal_is_offered_and_loses_nothing(self) -> None:
        offers = [a for a in self.plan().alternatives if a.loses == ()]
        assert any("W18" in step and step.endswith((" to 15", " on 15")) for a in offers for step in a.steps)


class TestHornEarthedByItsBody:
    """The old horn is always live and the push earths its return; the reproduction earths itself.

    On the constant feed it would sound permanently, on the return never: the feed is not left on it, and the
    plan does without the horn. Its body insulated with the return on it, or a relay, loses nothing.
    """

    plan = staticmethod(lambda: planned("horn-earthed-by-body"))

    def test_the_constant_feed_is_not_left_on_it(self) -> None:
        assert staying(self.plan(), HORN) == set()
        assert {("W19", f"{HORN}:+"), ("W22", f"{HORN}:-")} <= covered(self.plan())
        assert made(self.plan()) == {}

    def test_the_horn_is_lost_when_the_push_is_pressed(self) -> None:
        assert loads(self.plan(), "lost") == {SOUND}
        assert positions(self.plan(), "lost", *SOUND) == every({BUTTON: "pressed"})

    def test_it_does_not_sound_with_the_push_released(self) -> None:
        """Sounding permanently is neither kept nor a gain."""
        assert {(line.what, line.outcome) for line in worse(self.plan())} == {("sound the horn", "lost")}
        assert loads(self.plan(), "gained") == set() and new_hazards(self.plan()) == set()

    def test_the_plan_is_no_answer_and_a_vehicle_without_horn_may_not_be_driven(self) -> None:
        assert (self.plan().verdict, exit_status(self.plan()), self.plan().road) == ("losses", 1, "no")
        assert any("horn" in why for why in self.plan().road_why)

    def test_its_body_insulated_with_the_old_return_on_it_is_offered(self) -> None:
        offers = [a for a in self.plan().alternatives if a.loses == ()]
        assert any("insulated mounting" in s for a in offers for s in a.steps)
        assert any("W22" in s and s.endswith((" to 'case'", " on 'case'")) for a in offers for s in a.steps)

    def test_a_relay_worked_by_the_old_return_is_offered(self) -> None:
        offers = [a for a in self.plan().alternatives if a.loses == ()]
        assert any("relay" in s and s.startswith("Fit the relay") for a in offers for s in a.steps)


class TestHornAndRelay:
    """The same horn with a horn relay: the push earths the relay's coil, and the relay has the feed."""

    plan = staticmethod(lambda: planned("horn-and-relay"))

    def test_return_and_feed_go_on_the_relay(self) -> None:
        went = {(wire, to) for wire, _, to in moved(self.plan())}
        assert went == {("W22", "bay.horn-relay:S"), ("W19", "bay.horn-relay:B")}

    def test_one_wire_is_made_from_the_relay_to_the_horn(self) -> None:
        assert set(made(self.plan())) == {pair("bay.horn-relay:H", f"{HORN}:+")}

    def test_nothing_is_lost_and_nothing_else_is_touched(self) -> None:
        assert (self.plan().verdict, worse(self.plan())) == ("no-loss", [])
        assert {step.place for step in self.plan().steps} == {HORN, "bay.horn-relay"}


class TestHornAndPush:
    """The late push switches the feed and the late horn earths itself.

    The push needs a fused constant feed; the old return leads from it to the horn. The old feed is live and
    covered.
    """

    plan = staticmethod(lambda: planned("horn-and-push"))

    def test_the_feed_alone_is_made(self) -> None:
        assert set(made(self.plan())) == {pair(f"{PUSH}:30", "dash.fuse-box:1")}

    def test_the_old_return_leads_from_the_push_to_the_horn(self) -> None:
        assert moved(self.plan()) == {
            ("W22", f"{HORN}:-", f"{HORN}:71"),
            ("W23", f"{PUSH}:H", f"{PUSH}:71"),
        }

    def test_the_old_feed_is_covered(self) -> None:
        assert covered(self.plan()) == {("W19", f"{HORN}:+")}

    def test_the_horn_sounds_when_pressed_and_only_then(self) -> None:
        assert outcomes(self.plan(), *SOUND) == {"kept"}

    def test_the_dip_relay_on_the_same_chain_stays_fed(self) -> None:
        assert outcomes(self.plan(), "main beam", "left.headlamp") == {"kept"}

    def test_nothing_is_lost(self) -> None:
        assert nothing_is_worse(self.plan()) and loads(self.plan(), "gained") == set()
        assert (self.plan().verdict, exit_status(self.plan()), self.plan().road) == ("no-loss", 0, "yes")


class TestFeedOfUnknownNature:
    """Two wires of one colour on one feed terminal, nothing measured.

    One is taken for the feed, the other may be the onward feed of something else.
    Until a meter has said which is live, neither is dropped.
    """

    plan = staticmethod(lambda: planned("feed-of-unknown-nature"))

    def test_the_verdict_is_measure(self) -> None:
        plan = self.plan()
        assert (plan.verdict, exit_status(plan), plan.road) == ("measure", 1, "not-known")

    def test_neither_wire_is_dropped_or_called_spare(self) -> None:
        for wire in ("U1", "U2"):
            assert (wire, f"{HEATER}:in", f"{HEATER}:75") in moved(self.plan())
        assert covered(self.plan()) == set() and piggybacked(self.plan()) == [f"{HEATER}:75"]

    def test_one_question_is_about_both_wires_and_nothing_in_it_contradicts(self) -> None:
        (question,) = self.plan().questions
        assert "(U1)" in question.about and "(U2)" in question.about
        readings = [reading for reading, _ in question.answers]
        assert readings == ["about 12 V on one wire only", "about 12 V on more than one", "nothing on any"]
        assert "(U2) too, wherever it ends" in question.answers[0][1]

    def test_the_meter_goes_to_the_switch_where_both_ends_are_at_hand(self) -> None:
        for question in self.plan().questions:
            assert "heater switch, dash" in question.where, question.about

    def test_the_reading_is_taken_off_the_terminal_with_the_ignition_on_and_volts_decide(self) -> None:
        for question in self.plan().questions:
            assert "off" in f"{question.where} {question.how}"
            assert any("12 V" in reading for reading, _ in question.answers)
            assert len(question.answers) >= 2 and all(meaning for _, meaning in question.answers)
        assert any("ignition on" in question.how for question in self.plan().questions)

    def test_nothing_is_claimed_lost_or_gained(self) -> None:
        assert nothing_is_worse(self.plan()) and loads(self.plan(), "gained") == set()


class TestTrailerSocket:
    """Contacts 1 and 3 to 7 mean the same in ISO 1724 and ISO 11446.

    Contact 2 has meant a feed and, later, rear fog lamps: the blue wire is read with a meter first. On
    the trailer 3, 11 and 13 must not be joined.
    """

    plan = staticmethod(lambda: planned("trailer-socket-13"))

    def test_six_ends_stay_on_their_numbers(self) -> None:
        assert staying(self.plan(), SOCKET) == {
            ("T1", "1"), ("T3", "3"), ("T4", "4"), ("T5", "5"), ("T6", "6"), ("T7", "7")
        }  # fmt: skip
        assert moved(self.plan()) == set() and made(self.plan()) == {}

    def test_the_wire_on_contact_2_is_a_question_and_goes_nowhere(self) -> None:
        (question,) = self.plan().questions
        assert "blue wire" in question.about and "2 on the trailer socket" in question.about
        assert len(question.answers) >= 2 and all(meaning for _, meaning in question.answers)
        assert covered(self.plan()) == {("T2", f"{SOCKET}:2")}

    def test_the_new_contacts_need_nothing(self) -> None:
        assert {at for wire, at in covered(self.plan()) if wire is None} == set()

    def test_the_returns_are_said_not_to_be_joined_on_the_trailer(self) -> None:
        assert says(self.plan(), "3, 11 and 13", "trailer")

    def test_the_verdict_is_measure_and_nothing_changes(self) -> None:
        plan = self.plan()
        assert (plan.verdict, exit_status(plan), plan.road) == ("measure", 1, "not-known")
        assert nothing_is_worse(self.plan()) and loads(self.plan(), "gained") == set()


class TestChangeoverRelay:
    """30 and 86 have changed places on the face; marks and roles have not.

    By mark every end stays; by position the main beam would feed the lamps and the lamp switch the coil.
    """

    plan = staticmethod(lambda: planned("changeover-relay-layout"))
    RELAY = "front.lamp-relay"

    def test_every_end_stays_on_its_mark(self) -> None:
        assert staying(self.plan(), self.RELAY) == {
            ("A1", "30"), ("A2", "86"), ("A3", "85"), ("A4", "87"), ("A5", "87a")
        }  # fmt: skip
        assert [step.do for step in self.plan().steps] == ["remove", "fit"]

    def test_fog_and_driving_lamps_change_over_as_before(self) -> None:
        assert nothing_is_worse(self.plan()) and loads(self.plan(), "gained") == set()
        assert (self.plan().verdict, exit_status(self.plan())) == ("no-loss", 0)

    def test_moved_by_position_the_lamps_would_be_wrong(self) -> None:
        job, before = read_job("changeover-relay-layout", catalogue())
        places = dict(before.places)
        places[self.RELAY] = places[self.RELAY].model_copy(update={"part": "relay-changeover-b"})
        by_place = {"A1": f"{self.RELAY}:86", "A2": f"{self.RELAY}:30"}
        wires = tuple(
            with_end(wire, 1, at=by_place[wire.wire]) if wire.wire in by_place else wire
            for wire in before.wires
        )
        proof = Prover(before, catalogue(), job).prove(copy_loom(before, places=places, wires=wires))
        wrong = {(fault.kind, fault.what) for fault in proof.faults}
        assert ("lost", "fog lamp") in wrong
        assert new_hazards(self.plan()) == set()
