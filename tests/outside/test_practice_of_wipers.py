"""The lines of the trade's practice on wipers and switched returns; common practice, no source.

Each test is one claim of a line, on a tiny invented loom. Lines that need the resistance of wires, real
filaments or currents against limits belong to a later stage.
"""

import pytest
from small_looms import prove
from trade_parts import IGN, bench, dangers

from planner.engine.case import Case
from planner.model.delta import Cover
from planner.model.job import Job
from planner.model.need import BareTerminal, Proposal
from planner.proof.facts import conductor_facts
from rules.tabs import bare_driven_terminal

# -- 7, 8, 9: wipers ---------------------------------------------------------------------------------------

SLOW_WIRES = (
    "feed = feed:ign > dash:15",
    "park-feed = feed:ign > motor:53a",
    "run = dash:53 > motor:53",
    "park = dash:31b > motor:31b",
)
SLOW = bench({"dash": "slow-switch", "motor": "slow-motor"}, *SLOW_WIRES, feeds=IGN)


def test_line_7_cam_feeds_the_motor_until_parked_and_then_brakes_it():
    sweeping = {"motor/blades": "sweeping"}
    assert SLOW.amps("motor/wipe slowly", sweeping) == pytest.approx(3.0)
    assert SLOW.amps("motor/wipe slowly", {"motor/blades": "parked"}) == 0.0
    assert SLOW.number({"motor/blades": "parked"}, "zero", "motor:53") == 1.0
    assert SLOW.shows("motor/park the blades", dash__wiper="off") == "parks"


def test_line_7_switch_that_keeps_the_park_joint_when_on_makes_a_short_each_turn():
    kept = SLOW.changed(places={"dash": "always-joined-switch", "motor": "slow-motor"})
    shorts = [h for h in prove(SLOW, kept).hazards if h.kind == "short"]
    assert [h.positions() for h in shorts] == [[{"dash/wiper": "slow"}]]
    assert not kept.events({"dash/wiper": "slow", "motor/blades": "sweeping"}, "short")


def test_line_8_unused_second_speed_brush_is_covered():
    after = SLOW.changed(
        places={"dash": "slow-switch", "motor": "two-speed-motor"}, wires=[*SLOW_WIRES, "motor:31 > earth"]
    )
    job = Job.model_validate(
        {"job": "x", "loom": "small", "swaps": [{"at": "motor", "fit": "two-speed-motor"}]}
    )

    def proposed(mark: str) -> list[object]:
        need = BareTerminal(f"motor:{mark}")
        case = Case(
            need, SLOW.loom, after.loom, after.catalogue, job, conductor_facts(SLOW.loom, SLOW.catalogue)
        )
        return [
            operation
            for emission in bare_driven_terminal.propose(case)
            if isinstance(emission, Proposal)
            for operation in emission.operations
        ]

    assert proposed("53b") == [Cover("motor:53b")]


def test_line_9_second_speed_needs_one_conductor_more():
    places = {"dash": "two-speed-switch", "motor": "two-speed-motor"}
    without = SLOW.changed(places=places, wires=[*SLOW_WIRES, "e = motor:31 > earth"])
    swaps = [{"at": place, "fit": part} for place, part in places.items()]
    assert without.shows("motor/wipe fast", dash__wiper="fast") == "off"
    assert ("unused", "wipe fast") in {(f.kind, f.what) for f in prove(SLOW, without, swaps=swaps).faults}
    one_more = without.changed(wires=[*without.wires, "fast = dash:53b > motor:53b"])
    assert one_more.shows("motor/wipe fast", dash__wiper="fast") == "full"
    assert {f.kind for f in prove(SLOW, one_more, swaps=swaps).faults} == set()


def test_line_9_another_is_needed_where_the_motor_no_longer_earths_through_its_body():
    places = {"dash": "two-speed-switch", "motor": "two-speed-motor"}
    unearthed = SLOW.changed(places=places, wires=[*SLOW_WIRES, "fast = dash:53b > motor:53b"])
    assert unearthed.shows("motor/wipe slowly", dash__wiper="slow") == "off"
    assert unearthed.shows("motor/wipe fast", dash__wiper="fast") == "off"


# -- 10: switched returns ----------------------------------------------------------------------------------


def test_line_10_case_earthed_motor_behind_a_switched_return_runs_for_ever():
    wires = ["f = feed:live > horn:+", "r = horn:- > push:a"]
    before = bench({"horn": "horn-insulated", "push": "push-to-earth"}, *wires)
    after = before.changed(
        places={"horn": "horn-earthed", "push": "push-to-earth"}, wires=["f = feed:live > horn:+"]
    )
    proof = prove(before, after, swaps=[{"at": "horn", "fit": "horn-earthed"}])
    released = [f.positions() for f in proof.findings if f.outcome == "unintended"]
    assert released == [[{"push/push": "released"}]]
    assert dangers(proof) == {"drain"}
