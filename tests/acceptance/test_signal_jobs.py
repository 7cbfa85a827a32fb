"""Turn signals: the combined turn and hazard unit on metal and on wood, and two ends that trade terminals."""

import pytest
from planned import (
    conductor_before,
    covered,
    every,
    held,
    loads,
    made,
    moved,
    nothing_is_worse,
    outcomes,
    pair,
    piggybacked,
    planned,
    positions,
    says,
    staying,
    without,
)

from planner.model.plan import Plan
from planner.telling.verdict import exit_status

FLASHER, HAZARD, BOX = "dash.flasher", "dash.hazard-switch", "dash.fuse-box"
IGNITION, TURN = "dash.ignition-switch/ignition", "column.turn-switch/turn"
LAMPS = ("left.front", "right.front", "left.rear", "right.rear")
FLASHER_MOVES = {("W28", f"{FLASHER}:B", f"{FLASHER}:49"), ("W47", f"{FLASHER}:L", f"{FLASHER}:49a")}
EARTH_WIRE = pair(f"{HAZARD}:case", "earth:dash")
TELL_TALE = ("hazard tell-tale", HAZARD)
FOUND = ["hazard-flasher", "hazard-flasher-insulated-panel"]


def other_end(plan: Plan, address: str) -> str:
    """Where the one new wire at an address leads."""
    (other,) = {end for wire in made(plan) if address in wire for end in wire if end != address}
    return other


@pytest.mark.parametrize("job", FOUND)
class TestHazardFlasher:
    """The unit needs a fused constant feed, the lamps of both sides, and a wire to the hazard switch.

    The switch earths the unit's control through its mounting screw; the tell-tale hangs on C.
    An equal L means the load on the old unit and left on the new one.
    """

    def test_the_two_old_ends_land_by_role_and_never_on_the_equal_mark(self, job: str) -> None:
        assert moved(planned(job)) == FLASHER_MOVES
        assert covered(planned(job)) == set()

    def test_the_feed_is_constant_and_fused_and_the_controls_run_between_the_two_parts(
        self, job: str
    ) -> None:
        wires = set(made(planned(job)))
        assert pair(f"{FLASHER}:30", f"{BOX}:1") in wires
        assert pair(f"{FLASHER}:H", f"{HAZARD}:H") in wires
        assert pair(f"{FLASHER}:C", f"{HAZARD}:C") in wires

    def test_the_lamps_of_each_side_are_reached_on_their_own_conductor(self, job: str) -> None:
        assert other_end(planned(job), f"{FLASHER}:L") in conductor_before(job, "left.front:lamp")
        assert other_end(planned(job), f"{FLASHER}:R") in conductor_before(job, "right.front:lamp")

    def test_only_these_wires_are_made_and_an_earth_wire_only_on_wood(self, job: str) -> None:
        wires = set(made(planned(job)))
        assert (EARTH_WIRE in wires) is (job == "hazard-flasher-insulated-panel")
        assert len(wires - {EARTH_WIRE}) == 5

    def test_wires_have_the_colours_of_the_scheme_where_these_are_free(self, job: str) -> None:
        wires = made(planned(job))
        assert wires[pair(f"{FLASHER}:H", f"{HAZARD}:H")].fields["colour"] == "TQ/BK"
        assert wires[pair(f"{FLASHER}:C", f"{HAZARD}:C")].fields["colour"] == "TQ/WH"

    def test_a_full_terminal_takes_a_new_wire_only_on_a_piggyback(self, job: str) -> None:
        full = {other_end(planned(job), f"{FLASHER}:{side}") for side in "LR"}
        tabs = {at for at in full if not at.startswith("joint:")}
        assert set(piggybacked(planned(job))) == tabs

    @pytest.mark.parametrize("ignition", ["off", "on"])
    def test_all_four_lamps_flash_with_the_hazard_on_whatever_the_ignition(
        self, job: str, ignition: str
    ) -> None:
        for at in LAMPS:
            found = positions(planned(job), "gained", "turn lamp", at)
            assert every({f"{HAZARD}/hazard": "on", IGNITION: ignition, TURN: "off"}) <= without(
                found, f"{FLASHER}/hazard relay"
            )

    def test_no_lamp_flashes_newly_while_the_hazard_is_off(self, job: str) -> None:
        for line in planned(job).behaviours:
            if line.outcome == "gained":
                assert {p[f"{HAZARD}/hazard"] for p in line.positions} == {"on"}, line.what

    def test_the_lamps_and_tell_tale_are_all_that_is_gained(self, job: str) -> None:
        trailer = {(f"trailer {side} turn lamp", "rear.trailer-socket") for side in ("left", "right")}
        assert loads(planned(job), "gained") == {("turn lamp", at) for at in LAMPS} | trailer | {TELL_TALE}

    def test_the_tell_tale_flashes_wherever_the_hazard_is_on(self, job: str) -> None:
        found = without(positions(planned(job), "gained", *TELL_TALE), f"{FLASHER}/hazard relay")
        settings = {
            f"{HAZARD}/hazard": "on",
            IGNITION: ["off", "on", "start"],
            TURN: ["off", "left", "right"],
        }
        assert found == every(settings)

    def test_turn_is_as_before_and_nothing_is_lost(self, job: str) -> None:
        assert nothing_is_worse(planned(job))
        assert (planned(job).verdict, exit_status(planned(job)), planned(job).road) == ("no-loss", 0, "yes")

    def test_the_shared_indicator_is_said_to_stay_dark_with_the_hazard_on(self, job: str) -> None:
        """It sits between the two sides, and both its ends are live together: with turn and hazard on it is
        dark where it used to flash."""
        assert says(planned(job), "turn indicator lamp", "hazard")

    def test_no_plan_beside_it_leaves_a_turn_lamp_without_the_hazard_that_the_job_asks_for(
        self, job: str
    ) -> None:
        """Hazard on one side only is no trade, however little work it is."""
        for alternative in planned(job).alternatives:
            assert [loss for loss in alternative.loses if "turn lamp" in loss] == [], alternative.steps

    def test_the_trap_of_the_equal_mark_is_said(self, job: str) -> None:
        assert any(r.because == "equal-mark-other-role" and "49a" in r.text for r in planned(job).remarks)


def test_on_wood_the_earth_wire_has_a_ring_for_the_mounting_screw() -> None:
    """An M5 screw takes an M5 ring."""
    step = made(planned("hazard-flasher-insulated-panel"))[EARTH_WIRE]
    by_end = dict(zip((step.fields["from"], step.fields["to"]), step.fields["fittings"], strict=True))
    assert by_end[f"{HAZARD}:case"] == "ring-5"
    assert by_end["earth:dash"].startswith("ring-")
    assert step.fields["colour"] == "BK"


def test_on_metal_the_earth_through_the_mounting_screw_is_said() -> None:
    told = [r for r in planned("hazard-flasher").remarks if r.because == "earth-through-mounting"]
    assert len(told) == 1 and "bare metal" in told[0].text


class TestTwoEndsTrade:
    """1 is left and 2 right on the original, the other way round on the reproduction.

    Left on their numbers the lamps of the wrong side would flash. Each terminal holds one end, so one is
    held in between.
    """

    plan = staticmethod(lambda: planned("two-ends-trade"))
    SWITCH = "column.turn-switch"

    def test_the_two_ends_trade_their_terminals(self) -> None:
        at = self.SWITCH
        assert moved(self.plan()) == {("S3", f"{at}:1", f"{at}:2"), ("S4", f"{at}:2", f"{at}:1")}
        assert staying(self.plan(), at) == {("S2", "F")}

    def test_one_end_is_held_insulated_before_either_moves(self) -> None:
        assert len(held(self.plan())) == 1
        assert held(self.plan()) < {("S3", f"{self.SWITCH}:1"), ("S4", f"{self.SWITCH}:2")}
        assert [s.do for s in self.plan().steps] == ["hold", "remove", "fit", "move", "move"]

    @pytest.mark.parametrize("at", LAMPS)
    def test_the_lamps_flash_on_their_own_side_as_before(self, at: str) -> None:
        assert outcomes(self.plan(), "turn lamp", at) == {"kept"}

    def test_nothing_is_gained_or_lost(self) -> None:
        assert nothing_is_worse(self.plan()) and loads(self.plan(), "gained") == set()
        assert (self.plan().verdict, exit_status(self.plan())) == ("no-loss", 0)
