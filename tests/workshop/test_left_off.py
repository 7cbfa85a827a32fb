"""What an unsafe plan demands before its battery goes on."""

from dataclasses import replace

from planned import benched, planned

from planner.model.plan import HazardLine
from planner.workshop.power.left_off import settled_first


def test_a_motor_that_would_burn_has_its_live_wire_off() -> None:
    (one,) = benched("tractor-to-12-volts").left_off
    assert one.place == "cab.wiper" and one.ends == ("the white wire (T12) off 15 on the cab wiper",)
    assert "overheats and burns" in one.why[0]


def test_electronics_for_the_other_pole_have_theirs_off() -> None:
    (one,) = benched("car-to-negative-earth").left_off
    assert one.place == "dash.radio" and one.ends == ("the violet wire (C12) off A on the radio",)


def test_where_the_part_was_exchanged_nothing_stays_off() -> None:
    assert benched("tractor-to-12-volts-new-wiper").left_off == ()
    assert benched("car-to-negative-earth-new-radio").left_off == ()


def test_any_other_danger_is_settled_before_the_battery_goes_on() -> None:
    plan, off = planned("tractor-to-12-volts"), benched("tractor-to-12-volts").left_off
    assert settled_first(plan, off) == ()
    short = HazardLine("short", "a:1", "a short at the key switch", "always", (), (), was_before=False)
    assert settled_first(replace(plan, hazards=(short, replace(short, was_before=True))), off) == (
        short.text,
    )
    assert settled_first(plan, ()) == (off[0].why[0],)  # what nothing keeps off


def test_a_plan_that_is_not_unsafe_has_nothing_to_settle() -> None:
    """A dead position is told on the first page, and the battery may go on."""
    bench = benched("two-speed-switch-only")
    assert bench.plan.hazards and bench.settled_first == ()
