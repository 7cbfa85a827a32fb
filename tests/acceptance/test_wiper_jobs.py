"""Wipers: switch and motor, the switch alone, the motor alone."""

import pytest
from planned import (
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
    steps,
    worse,
)

from planner.telling.verdict import exit_status

SWITCH, MOTOR = "dash.wiper-switch", "scuttle.wiper-motor"
SWITCH_MOVES = {
    ("W33", f"{SWITCH}:B", f"{SWITCH}:15"),
    ("W34", f"{SWITCH}:B", f"{SWITCH}:15"),
    ("W36", f"{SWITCH}:M", f"{SWITCH}:53"),
    ("W37", f"{SWITCH}:S", f"{SWITCH}:31b"),
}
MOTOR_MOVES = {
    ("W34", f"{MOTOR}:P", f"{MOTOR}:53a"),
    ("W36", f"{MOTOR}:M", f"{MOTOR}:53"),
    ("W37", f"{MOTOR}:S", f"{MOTOR}:31b"),
}
FAST_WIRE = pair(f"{SWITCH}:53b", f"{MOTOR}:53b")
EARTH_WIRE = pair(f"{MOTOR}:31", "earth:bay")


class TestSwitchAndMotor:
    """All old ends have a terminal of the same role.

    Fast needs one conductor more; the new motor sits in rubber and needs an earth wire; park feed and
    park return are there already, so parking needs nothing.
    """

    plan = staticmethod(lambda: planned("two-speed-wipers"))

    def test_nothing_is_lost_and_it_may_be_driven(self) -> None:
        plan = self.plan()
        assert (plan.verdict, exit_status(plan), plan.road) == ("no-loss", 0, "yes")
        assert nothing_is_worse(plan) and not plan.questions

    def test_every_old_end_lands(self) -> None:
        assert moved(self.plan()) == SWITCH_MOVES | MOTOR_MOVES
        assert covered(self.plan()) == set()
        assert piggybacked(self.plan()) == []

    def test_exactly_the_wires_for_fast_and_for_the_earth_are_made(self) -> None:
        assert set(made(self.plan())) == {FAST_WIRE, EARTH_WIRE}

    def test_the_wire_for_fast_has_the_colour_of_the_lead_on_the_bench(self) -> None:
        """Yellow/red is the scheme's colour for 53b and that of the finished lead, and free at both ends."""
        step = made(self.plan())[FAST_WIRE]
        assert step.fields["colour"] == "YE/RD"
        assert step.fields["mm2"] == 1.5
        assert step.fields["fittings"] == ["blade-6.3", "blade-6.3"]

    def test_the_earth_wire_is_sized_for_a_wiper_motor(self) -> None:
        """Not for the starter, whose strap shares the body of the engine bay."""
        step = made(self.plan())[EARTH_WIRE]
        assert step.fields["colour"] == "BK"
        assert 1 <= step.fields["mm2"] <= 2.5
        assert any(fitting.startswith("ring-") for fitting in step.fields["fittings"])

    def test_fast_is_gained_with_the_ignition_on_or_at_start(self) -> None:
        assert loads(self.plan(), "gained") == {("wipe fast", MOTOR)}
        assert positions(self.plan(), "gained", "wipe fast", MOTOR) == every(
            {"dash.ignition-switch/ignition": ["on", "start"], f"{SWITCH}/wiper": "fast"}
        )

    def test_slow_is_as_before_and_the_blades_park_from_anywhere(self) -> None:
        assert outcomes(self.plan(), "wipe slowly", MOTOR) == {"kept"}
        assert outcomes(self.plan(), "park the blades", MOTOR) == {"kept"}


class TestSwitchOnly:
    """53b of the new switch drives nothing.

    At fast the run winding is fed neither by 53 nor through the park return, so the motor stands wherever the
    blades are.
    A bridge is offered, tagged; it is not made unasked.
    """

    plan = staticmethod(lambda: planned("two-speed-switch-only"))

    def test_it_is_never_without_loss(self) -> None:
        assert (self.plan().verdict, exit_status(self.plan())) == ("losses", 1)

    def test_fast_is_said_to_be_a_dead_position_that_leaves_the_blades_where_they_are(self) -> None:
        assert new_hazards(self.plan()) == {("dead-position", SWITCH)}
        (dead,) = self.plan().hazards
        assert [dict(p) for p in dead.positions] == [{f"{SWITCH}/wiper": "fast"}]
        assert "wipe slowly" in dead.text and "blades stop where they are" in dead.text

    def test_the_old_ends_land_and_the_driven_terminal_is_covered(self) -> None:
        assert moved(self.plan()) == SWITCH_MOVES
        assert covered(self.plan()) == {(None, f"{SWITCH}:53b")}
        assert made(self.plan()) == {}

    def test_a_bridge_is_offered_tagged_for_removal_and_loses_nothing(self) -> None:
        offers = [a for a in self.plan().alternatives if a.because == "dead-position"]
        assert len(offers) == 1 and offers[0].loses == ()
        (bridge,) = [step for step in offers[0].steps if "tag it for removal" in step]
        assert f"53b on the {'wiper switch, dash'}" in bridge and "to 53 on" in bridge
        assert offers[0].minutes > self.plan().minutes

    def test_off_and_slow_are_as_before_with_parking(self) -> None:
        assert worse(self.plan()) == [] and loads(self.plan(), "gained") == set()
        assert outcomes(self.plan(), "wipe slowly", MOTOR) == {"kept"}
        assert outcomes(self.plan(), "park the blades", MOTOR) == {"kept"}


class TestMotorOnly:
    """Run, park feed and park return land, the earth wire is made.

    Nothing can drive the second speed, and its brush generates while the other one runs: it is covered.
    """

    plan = staticmethod(lambda: planned("two-speed-motor-only"))

    def test_the_old_ends_land_and_only_the_earth_wire_is_made(self) -> None:
        assert moved(self.plan()) == MOTOR_MOVES
        assert set(made(self.plan())) == {EARTH_WIRE}

    def test_the_second_speed_terminal_is_covered_because_it_generates(self) -> None:
        assert covered(self.plan()) == {(None, f"{MOTOR}:53b")}
        (step,) = steps(self.plan(), "cover")
        assert "bare-driven-terminal" in step.because
        assert any("generat" in fact for fact in step.facts)

    @pytest.mark.parametrize("what", ["wipe slowly", "park the blades"])
    def test_one_speed_works_as_before_and_parks(self, what: str) -> None:
        assert outcomes(self.plan(), what, MOTOR) == {"kept"}

    def test_nothing_that_worked_is_worse_and_it_may_be_driven(self) -> None:
        assert nothing_is_worse(self.plan())
        assert self.plan().road == "yes"
