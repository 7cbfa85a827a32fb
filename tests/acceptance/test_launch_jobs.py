"""A launch with positive earth whose hull earths nothing: every return is a wire."""

import pytest
from planned import (
    covered,
    fitted,
    held,
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

from planner.model.plan import Plan
from planner.telling.verdict import exit_status

HORN, ISOLATOR, SENDER = (
    "launch-horn-earthed-by-body",
    "launch-battery-isolator",
    "launch-earthed-tank-sender",
)
TWO_SPEED, FED = "launch-two-speed-wiper", "launch-wiper-switched-in-its-feed"
TURNED, FUSES = "launch-to-negative-earth", "launch-torpedo-to-blade"
LED, PUMP = "launch-led-navigation-lamps", "launch-magnet-bilge-pump"
JOBS = (HORN, ISOLATOR, SENDER, TWO_SPEED, FED, TURNED, FUSES, LED, PUMP)
WOOD = ("hull", "helm", "cabin", "bow", "stern")
LAMPS = ("bow.port", "bow.starboard", "stern.lamp")


def new_ends(plan: Plan) -> set[str]:
    """Both ends of every new wire."""
    return {end for wire in made(plan) for end in wire}


@pytest.mark.parametrize("job", JOBS)
def test_no_wire_is_run_to_a_body_that_is_not_there(job: str) -> None:
    """Wood has no earth; whatever needs one gets a wire to a bar or the old return."""
    assert not {f"earth:{zone}" for zone in WOOD} & new_ends(planned(job))
    assert not {f"earth:{zone}" for zone in WOOD} & {to for _, _, to in moved(planned(job))}


@pytest.mark.parametrize("job", [job for job in JOBS if job not in (FED, ISOLATOR)])
def test_all_but_two_lose_nothing(job: str) -> None:
    plan = planned(job)
    assert nothing_is_worse(plan) and new_strains(plan) == set()
    assert (plan.verdict, exit_status(plan)) == ("no-loss", 0)


def test_the_horn_gets_its_old_return_on_its_bolt_and_no_earth() -> None:
    """An earth wire there would make it sound for ever; the push would be without effect."""
    plan = planned(HORN)
    assert moved(plan) == {
        ("L30", "bow.horn:feed", "bow.horn:+"),
        ("L31", "bow.horn:return", "bow.horn:case"),
    }
    assert made(plan) == {} and covered(plan) == set()
    assert outcomes(plan, "sound the horn", "bow.horn") == {"kept"}


def test_an_isolator_in_a_new_place_isolates_nothing_and_that_is_said() -> None:
    """Nobody moves the main cables unasked, so with it off the lamps burn as before."""
    plan = planned(ISOLATOR)
    assert (plan.verdict, exit_status(plan)) == ("unsettled", 1)
    assert loads(plan, "missing") == {("navigation lamp", lamp) for lamp in LAMPS}
    assert moved(plan) == set() and worse(plan) == []
    assert covered(plan) == set() and made(plan) == {}  # a feed from some fuse would only look connected
    assert says(plan, "isolates nothing", "the brown wire (L2, 35 mm2)", "stays on the post")


def test_the_case_of_a_tank_sender_on_wood_gets_the_old_return() -> None:
    plan = planned(SENDER)
    assert ("L20", "stern.tank-sender:return", "stern.tank-sender:case") in moved(plan)
    assert made(plan) == {} and outcomes(plan, "fuel gauge", "helm.fuel-gauge") == {"kept"}


def test_nothing_is_crimped_or_shrunk_at_a_fuel_tank_that_is_open() -> None:
    """A glue sleeve wants a flame or hot air: on the way back too the tank is shut by then."""
    assert [step.do for step in planned(SENDER).steps] == ["re-end", "re-end", "remove", "fit", "move"]


def test_two_speeds_in_the_return_want_two_more_wires() -> None:
    plan = planned(TWO_SPEED)
    assert set(made(plan)) == {
        pair("helm.wiper:WF", "helm.wiper-switch:WF"),
        pair("helm.wiper:P", "helm.wiper-switch:P"),
    }
    assert loads(plan, "gained") == {("wipe fast", "helm.wiper")}
    assert all(
        dict(position)["helm.wiper-switch/wiper"] == "fast"
        for position in positions(plan, "gained", "wipe fast", "helm.wiper")
    )
    assert says(plan, "works as before", "park the blades")


def test_a_motor_switched_in_its_feed_does_not_wipe_on_a_switch_in_the_return() -> None:
    """Do not do this. What counts most: no plan has it wipe with the switch off."""
    plan = planned(FED)
    assert (plan.verdict, exit_status(plan)) == ("losses", 1)
    assert loads(plan, "lost") == {("wipe slowly", "helm.wiper")}
    assert loads(plan, "missing") == set()  # it is the same work, told once
    assert {("L14", "helm.wiper:15"), ("L21", "helm.wiper:W")} <= covered(plan)
    assert loads(plan, "gained") == set() == loads(plan, "unintended")


def test_turning_the_supply_exchanges_the_coils_leads_and_repolarises_the_dynamo() -> None:
    plan = planned(TURNED)
    assert moved(plan) == {
        ("L1", "hull.battery:+", "hull.battery:-"),
        ("L2", "hull.battery:-", "hull.battery:+"),
        ("L8", "hull.battery:-", "hull.battery:+"),
        ("L15", "hull.coil:-", "hull.coil:+"),
        ("L16", "hull.coil:+", "hull.coil:-"),
    }
    assert fitted(plan) == {"hull.battery": "battery-12v-negative-earth"}
    assert says(plan, "dynamo", "repolarise")


def test_every_end_stays_on_its_number_from_torpedo_to_blade_fuses() -> None:
    plan = planned(FUSES)
    ends = {("L8", "30"), ("L11", "15"), ("L24", "1"), ("L28", "2"), ("L33", "3"), ("L30", "4")}
    ends |= {("L14", "5"), ("L15", "6")}
    assert staying(plan, "helm.fuses") == ends
    assert len(steps(plan, "re-end")) == len(ends)
    assert covered(plan) == set()


@pytest.mark.parametrize("lamp", LAMPS)
def test_light_emitting_lamps_get_minus_on_the_live_wire(lamp: str) -> None:
    """The live pole is the negative one: with plus on the red wire they would stay dark."""
    plan = planned(LED)
    assert ("L25", f"{lamp}:lamp", f"{lamp}:minus") in moved(plan)
    assert f"{lamp}:plus" in {to for wire, _, to in moved(plan) if wire in ("L26", "L27")}
    assert outcomes(plan, "navigation lamp", lamp) == {"kept"}


def test_the_magnet_pump_gets_its_brown_lead_on_the_return() -> None:
    plan = planned(PUMP)
    assert moved(plan) == {
        ("L34", "stern.pump:feed", "stern.pump:black"),
        ("L35", "stern.pump:return", "stern.pump:brown"),
    }
    assert held(plan) == set() and outcomes(plan, "pump the bilge", "stern.pump") == {"kept"}
