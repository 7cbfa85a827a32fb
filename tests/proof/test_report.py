"""Findings in words: the shortest exact condition of each outcome, and whether it may be driven like this."""

from dataclasses import replace

import pytest
from small_looms import Bench, make_parts, prove

from planner.circuit.compile import compile_network
from planner.model.need import Fault
from planner.model.plan import BehaviourLine, HazardLine, Outcome, RoadFit
from planner.proof.hazards import Hazard
from planner.proof.report import ROAD_WORDS, Reporter, fault_words, judge_road

PARTS = make_parts(
    """
    lamp-own-earth:
      terminals: {B: "30", D: return, E: "31"}
      nodes: [n]
      inside:
        - control: {name: lamp switch, positions: [door, "on", "off"]}
        - lamp: {between: [B, n], watts: 5, does: interior light}
        - contact: {join: [n, D], when: {lamp switch: door}}
        - contact: {join: [n, E], when: {lamp switch: "on"}}
    lamp-no-earth:
      terminals: {B: "30", D: return}
      nodes: [n]
      inside:
        - control: {name: lamp switch, positions: [door, "on", "off"]}
        - lamp: {between: [B, n], watts: 5, does: interior light}
        - contact: {join: [n, D], when: {lamp switch: [door, "on"]}}
    door-switch:
      terminals: {D: return, case: mounting}
      inside:
        - control: {name: door, positions: [shut, open]}
        - contact: {join: [D, case], when: {door: open}}
    stop-switch:
      terminals: {a: "30", b: "54"}
      inside: [{contact: {join: [a, b], when: {brake pedal: pressed}}}]
    stop-lamp:
      terminals: {"54": "54", "31": "31"}
      inside: [{lamp: {between: ["54", "31"], watts: 21, does: stop lamp, duty: stop}}]
    """
)
ROOF = Bench(
    PARTS,
    {"roof": "lamp-own-earth", "left-door": "door-switch", "right-door": "door-switch"},
    ["feed:live > roof:B", "roof:D > left-door:D > right-door:D", "roof:E > earth"],
    {"live": {"role": "30"}},
)
ROOF_AFTER = ROOF.changed(
    places={**ROOF.places, "roof": "lamp-no-earth"}, wires=[*ROOF.wires[:2], "loose > earth"]
)
STOP = Bench(
    PARTS,
    {"pedal": "stop-switch", "rear": "stop-lamp"},
    ["in = feed:live > pedal:a", "out = pedal:b > rear:54", "e = rear:31 > earth"],
    {"live": {"role": "30"}},
    {"brake pedal": ["released", "pressed"]},
)


def lines(before: Bench, after: Bench, **job: object) -> dict[str, str]:
    """Outcome and condition of each line that is not kept."""
    networks = [compile_network(b.loom, b.catalogue) for b in (before, after)]
    reporter = Reporter(before.loom, after.loom, networks)
    proof = prove(before, after, **job)
    return {line.outcome: line.when for line in reporter.behaviours(proof.findings) if line.outcome != "kept"}


def test_loss_is_said_in_the_fewest_words_that_are_exact() -> None:
    """Lit with the switch on whatever the doors did; now only with a door open."""
    swaps = [{"at": "roof", "fit": "lamp-no-earth"}]
    said = lines(ROOF, ROOF_AFTER, swaps=swaps)
    assert set(said) == {"lost"}
    assert said["lost"].count("shut") == 2 or "both" in said["lost"]
    assert "on" in said["lost"]
    assert "open" not in said["lost"]


def test_condition_names_the_vehicles_own_condition() -> None:
    after = STOP.changed(wires=[*STOP.wires[:1], "out = pedal:b > loose", STOP.wires[2]])
    assert lines(STOP, after) == {"lost": "with brake pedal pressed"}


def test_what_is_lost_everywhere_it_could_be_is_said_to_be_lost_always() -> None:
    before = STOP.changed(wires=["in = feed:live > rear:54", STOP.wires[2]])
    after = STOP.changed(wires=["in = loose > rear:54", STOP.wires[2]])
    assert lines(before, after) == {"lost": "always"}


def test_lost_stop_lamp_may_not_be_driven_with() -> None:
    after = STOP.changed(wires=[*STOP.wires[:1], "out = pedal:b > loose", STOP.wires[2]])
    proof = prove(STOP, after)
    shown = Reporter(STOP.loom, after.loom, [compile_network(b.loom, b.catalogue) for b in (STOP, after)])
    fit, why = judge_road(
        tuple(shown.behaviours(proof.findings)), proof.hazards, (), False, False, reporter(STOP)
    )
    assert fit == "no"
    assert any("stop lamp (rear): lost with brake pedal pressed" in reason for reason in why)


def test_engine_that_nothing_stops_any_more_may_not_be_driven() -> None:
    line = BehaviourLine(
        what="ignition spark", at="mag", title="magneto", outcome="unintended", before="off", after="full",
        when="with the kill button at stop", positions=(), duty="none",
    )  # fmt: skip
    fit, why = judge_road([line], [], [], False, False, reporter(STOP))
    assert (fit, why) == ("no", ("the engine is not stopped any more with the kill button at stop",))


def test_loom_that_does_not_show_the_whole_vehicle_is_not_known_to_be_fit() -> None:
    proof = prove(STOP, STOP)
    shown = tuple(reporter(STOP).behaviours(proof.findings))
    fit, why = judge_road(shown, proof.hazards, (), False, False, reporter(STOP))
    assert fit == "not-known"
    assert "headlamps" in why[0]
    fit, why = judge_road(shown, proof.hazards, (), True, False, reporter(STOP))
    assert why[0] == "a question to settle is open"


@pytest.mark.parametrize(("outcome", "fit"), [("changed", "yes"), ("unintended", "no")])
def test_what_is_worse_only_while_the_starter_turns_is_told_and_hinders_nobody(
    outcome: Outcome, fit: RoadFit
) -> None:
    shown = [BehaviourLine(duty, "at", "at", "kept", "", "", "", (), duty=duty) for duty in ROAD_WORDS]
    slow = BehaviourLine(
        "wipe", "motor", "wiper", outcome, "full", "dim", "with the key at start", (), duty="wiper",
        while_cranking=True,
    )  # fmt: skip
    said, why = judge_road([*shown, slow], (), (), False, False, reporter(STOP))
    assert said == fit
    assert why[-1].startswith(f"wipe (wiper): {outcome}")


def test_what_is_still_to_settle_leaves_open_whether_it_may_be_driven() -> None:
    shown = [BehaviourLine(duty, "at", "at", "kept", "", "", "", (), duty=duty) for duty in ROAD_WORDS]
    assert judge_road(shown, (), (), False, False, reporter(STOP))[0] == "yes"
    fit, why = judge_road(shown, (), (), False, True, reporter(STOP))
    assert (fit, why) == ("not-known", ("something is still to settle",))


def road(hazards: tuple[Hazard, ...]) -> tuple[RoadFit, tuple[str, ...]]:
    return judge_road((), hazards, (), False, False, reporter(STOP))


def reporter(bench: Bench) -> Reporter:
    return Reporter(bench.loom, bench.loom, [compile_network(bench.loom, bench.catalogue)] * 2)


def test_what_is_kept_is_one_line_that_says_no_more() -> None:
    """Kept off and kept full are two findings of one lamp; a lost one beside them has its own line."""
    after = STOP.changed(wires=[*STOP.wires[:1], "out = pedal:b > loose", STOP.wires[2]])
    same = list(reporter(STOP).behaviours(prove(STOP, STOP).findings))
    assert [(x.what, x.outcome, x.before, x.after, x.when, x.positions) for x in same] == [
        ("stop lamp", "kept", "", "", "", ())
    ]
    lost, kept = reporter(STOP).behaviours(prove(STOP, after).findings)
    assert (lost.outcome, lost.before, lost.after) == ("lost", "full", "off")
    assert lost.positions == ({"brake pedal": "pressed"},)
    assert (lost.accepted, lost.duty, lost.at) == (False, "stop", "rear")
    assert (kept.outcome, kept.before, kept.after, kept.when) == ("kept", "", "", "")


def test_accepted_loss_is_said_to_be_accepted() -> None:
    after = STOP.changed(wires=[*STOP.wires[:1], "out = pedal:b > loose", STOP.wires[2]])
    proof = prove(STOP, after, accepts=[{"what": "stop lamp", "is": "off"}])
    assert [x.accepted for x in reporter(STOP).behaviours(proof.findings) if x.outcome == "lost"] == [True]


def test_missing_behaviour_is_a_line_with_its_condition() -> None:
    pressed = ({"brake pedal": "pressed"},)
    fault = Fault("missing", "stop lamp", "rear", "stop", pressed, detail="off", accepted=True)
    other = Fault("lost", "stop lamp", "rear")
    assert list(reporter(STOP).missing([other, fault])) == [
        BehaviourLine(
            what="stop lamp",
            at="rear",
            title=STOP.loom.place_title("rear"),
            outcome="missing",
            before="",
            after="off",
            when="with brake pedal pressed",
            positions=pressed,
            duty="stop",
            accepted=True,
        )
    ]


def test_hazards_are_told_new_ones_first_with_their_place() -> None:
    names, pressed, released = ("brake pedal",), ("pressed",), ("released",)
    possible = frozenset({pressed, released})
    old = Hazard("drain", "", "current at rest", names, frozenset({released}), possible, (), True)
    new = Hazard("short", "rear:54", "no fuse", names, frozenset({pressed}), possible, ("feed:live", "earth"))
    wire = "the black wire W9"
    shorted = STOP.changed(wires=[*STOP.wires, "W9 = feed:live > earth"])
    assert list(reporter(shorted).hazards([old, new])) == [
        HazardLine(
            kind="short",
            at="rear:54",
            text=f"from the feed live through {wire} to earth; no fuse",
            when="with brake pedal pressed",
            positions=({"brake pedal": "pressed"},),
            path=("feed:live", "earth"),
            was_before=False,
        ),
        HazardLine(
            kind="drain",
            at="",
            text="current at rest",
            when="with brake pedal released",
            positions=({"brake pedal": "released"},),
            path=(),
            was_before=True,
        ),
    ]


def test_a_short_or_a_tie_that_was_there_before_speaks_against_the_road_but_not_a_dead_position() -> None:
    """It is not the plan's doing, and still no vehicle to drive; one that never shows is nothing."""
    row = frozenset({()})
    new = Hazard("short", "rear:54", "new short", (), row, row)
    old = Hazard("short", "rear:54", "old short", (), row, row, (), True)
    tie = Hazard("feeds-tied", "feed:b", "a and b are tied", (), row, row, (), True)
    never = Hazard("short", "rear:54", "never short", (), frozenset(), row, (), True)
    dead = Hazard("dead-position", "pedal/x", "dead", (), row, row)
    assert road((new, dead)) == ("no", ("new short",))
    assert road((old, dead)) == (
        "no",
        (f"a short circuit, as before the work: {STOP.loom.place_title('rear')}: old short",),
    )
    assert road((tie,)) == ("no", ("two feeds tied together, as before the work: a and b are tied",))
    assert road((never, dead))[0] == "not-known"
    wipers = Hazard("dead-position", "pedal/x", "wipers dead", (), row, row, duty="wiper")
    assert road((wipers,)) == ("no", ("wipers dead",))


def test_a_loss_that_the_job_accepts_is_said_to_be_accepted() -> None:
    lost = Fault("lost", "stop lamp", "rear", "stop", detail="off, was full")
    assert fault_words(lost, "rear lamp") == "lost: stop lamp (rear lamp): off, was full"
    assert fault_words(replace(lost, accepted=True), "rear lamp").startswith("lost (accepted): stop lamp")


GAUGED = make_parts(
    """
    gauge:
      terminals: {I: "15", S: sender}
      inside: [{gauge: {between: [I, S], ohms: 60, full_scale_amps: 0.15, does: fuel gauge}}]
    sender:
      terminals: {S: sender, case: mounting}
      inside: [{sender: {between: [S, case], follows: fuel, ohms: {empty: 180, half: 60, full: 20}}}]
    """
)


def test_an_instrument_that_shows_nothing_any_more_is_told_once_whatever_it_read() -> None:
    wires = ["feed:key > dash:I", "dash:S > tank:S"]
    key, fuel = {"key": {"role": "15"}}, {"fuel": ["empty", "half", "full"]}
    before = Bench(GAUGED, {"dash": "gauge", "tank": "sender"}, wires, key, fuel)
    after = before.changed(wires=["feed:key > dash:I", "loose > tank:S"])
    networks = [compile_network(b.loom, b.catalogue) for b in (before, after)]
    findings = prove(before, after).findings
    lost = [f for f in findings if (f.what, f.outcome) == ("fuel gauge", "lost")]
    assert len(lost) > 1
    told = [
        line
        for line in Reporter(before.loom, after.loom, networks).behaviours(findings)
        if line.outcome == "lost"
    ]
    assert [(line.what, line.before, line.after, line.when) for line in told] == [
        ("fuel gauge", "reading", "off", "always")
    ]
