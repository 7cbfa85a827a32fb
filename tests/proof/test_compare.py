"""Before against after: each outcome on a loom that shows it, and positions that are new or gone."""

import pytest
from small_looms import Bench, make_parts, prove
from tiny import BRAKE, LIVE, PARTS, faults, outcomes

from planner.proof.compare import STAYS, STEPS

TAIL = Bench(
    PARTS,
    {"dash": "switch", "rear": "lamp", "pedal": "stop-switch", "stop": "stop-lamp"},
    [
        "feed = feed:live > dash:30 > pedal:30",
        "tail = dash:58 > rear:58",
        "stop = pedal:54 > stop:54",
        "earth = rear:31 > stop:31 > earth",
    ],
    LIVE,
    BRAKE,
)


def wires(bench: Bench, **other: str | None) -> Bench:
    """The bench with some wires replaced by name, or left out with None; new names are added."""
    kept = {}
    for text in bench.wires:
        name, _, ends = text.partition(" = ")
        kept[name] = ends
    kept |= {name: ends for name, ends in other.items() if ends is not None}
    return bench.changed(
        wires=[f"{name} = {ends}" for name, ends in kept.items() if other.get(name, "") is not None]
    )


def test_load_that_nothing_changed_is_kept_everywhere() -> None:
    assert outcomes(prove(TAIL, TAIL), "rear/tail lamp") == {("kept", "", ""): [{}]}
    assert prove(TAIL, TAIL).faults == ()


def test_load_that_is_off_where_it_was_on_is_lost() -> None:
    proof = prove(TAIL, wires(TAIL, tail=None))
    assert outcomes(proof, "rear/tail lamp") == {
        ("kept", "off", "off"): [{"dash/light": "off"}],
        ("lost", "full", "off"): [{"dash/light": "on"}],
    }
    (fault,) = proof.faults
    assert (fault.kind, fault.what, fault.at, fault.duty) == ("lost", "tail lamp", "rear", "tail")
    assert fault.positions == ({"dash/light": "on"},)
    assert fault.share == 0.5
    assert fault.path == ("feed:live", "dash:30", "dash:58", "rear:58", "rear:31", "stop:31", "earth")


def test_load_that_a_clean_path_newly_feeds_is_gained() -> None:
    proof = prove(wires(TAIL, tail=None), TAIL)
    assert outcomes(proof, "rear/tail lamp")["gained", "off", "full"] == [{"dash/light": "on"}]
    assert proof.faults == ()


def test_load_that_is_on_where_nothing_means_it_is_unintended() -> None:
    proof = prove(TAIL, wires(TAIL, bridge="pedal:54 > rear:58"))
    pressed = {"brake pedal": "pressed", "dash/light": "off"}
    assert outcomes(proof, "rear/tail lamp")["unintended", "off", "full"] == [pressed]
    assert outcomes(proof, "stop/stop lamp")["unintended", "off", "full"] == [
        {"brake pedal": "released", "dash/light": "on"}
    ]
    fault = next(f for f in proof.faults if f.what == "tail lamp")
    assert fault.path[:5] == ("feed:live", "dash:30", "pedal:30", "pedal:54", "rear:58")
    assert fault.path[-1] == "earth"


def test_load_that_is_on_otherwise_is_changed() -> None:
    """Two 21 W lamps in series have a quarter of their power each."""
    before = TAIL.changed(places={**TAIL.places, "other": "plain-lamp"})
    after = wires(before, tail="dash:58 > other:a", series="other:b > rear:58")
    proof = prove(before, after)
    assert outcomes(proof, "rear/tail lamp")["changed", "full", "dim"] == [{"dash/light": "on"}]
    assert ("changed", "tail lamp", "rear") in faults(proof)


def test_path_of_a_load_in_series_leads_through_the_other() -> None:
    before = TAIL.changed(places={**TAIL.places, "other": "plain-lamp"})
    before = wires(before, tail="dash:58 > other:a", series="other:b > rear:58")
    fault = next(f for f in prove(before, wires(before, tail=None)).faults if f.at == "rear")
    assert fault.path[:6] == ("feed:live", "dash:30", "dash:58", "other:a", "other:b", "rear:58")
    assert fault.path[-1] == "earth"


def test_glow_that_was_not_there_is_unintended_and_one_that_went_is_no_loss() -> None:
    """Three 21 W lamps in series have a ninth of their power each: they glow."""
    before = TAIL.changed(places={**TAIL.places, "a": "plain-lamp", "b": "plain-lamp"})
    after = wires(before, leak="feed:live > a:a", on="a:b > b:a", to="b:b > rear:58", tail=None)
    assert ("unintended", "off", "glows") in outcomes(prove(before, after), "rear/tail lamp")
    assert set(outcomes(prove(after, before), "rear/tail lamp")) >= {("kept", "glows", "off")}


def test_wanted_activity_is_gained_whatever_way_it_comes() -> None:
    after = wires(TAIL, bridge="pedal:54 > rear:58")
    wants = [{"what": "tail lamp", "is": "full", "when": {"brake pedal": "pressed"}}]
    proof = prove(TAIL, after, wants=wants)
    assert ("gained", "off", "full") in outcomes(proof, "rear/tail lamp")
    assert ("unintended", "tail lamp", "rear") not in faults(proof)
    elsewhere = [{"what": "tail lamp", "at": "front", "is": "full", "when": {"brake pedal": "pressed"}}]
    assert ("unintended", "tail lamp", "rear") in faults(prove(TAIL, after, wants=elsewhere))


def test_wish_that_is_not_met_is_missing_in_just_its_positions() -> None:
    wants = [{"what": "stop lamp", "is": "full", "when": {"dash/light": "on"}}]
    (fault,) = prove(TAIL, TAIL, wants=wants).faults
    assert (fault.kind, fault.what, fault.at) == ("missing", "stop lamp", "stop")
    # The light is named though the stop lamp does not hang on it: else the wish would read otherwise.
    assert fault.positions == ({"dash/light": "on", "brake pedal": "released"},)
    assert fault.share == 0.5  # of the positions in which it is wanted
    met = [{"what": "stop lamp", "is": "full", "when": {"brake pedal": "pressed"}}]
    assert prove(TAIL, TAIL, wants=met).faults == ()


def test_accepted_loss_is_still_said_but_marked() -> None:
    accepts = [{"what": "tail lamp", "is": "off"}]
    proof = prove(TAIL, wires(TAIL, tail=None), accepts=accepts)
    assert [(f.kind, f.accepted) for f in proof.faults] == [("lost", True)]
    other = [{"what": "tail lamp", "is": "off", "when": {"dash/light": "off"}}]
    proof = prove(TAIL, wires(TAIL, tail=None), accepts=other)
    assert [(f.kind, f.accepted) for f in proof.faults] == [("lost", False)]


def test_what_is_off_as_the_job_wants_it_is_no_loss() -> None:
    # The stop lamp goes through the light switch: lit by the pedal as before, but only with the lights on.
    through = wires(TAIL, stop="pedal:54 > dash:30", feed="feed:live > pedal:30", out="dash:58 > stop:54")
    wanted = {"what": "stop lamp", "is": "off", "when": {"dash/light": "off"}}

    def told(*wishes: dict[str, object]) -> set[tuple[str, bool]]:
        return {(f.what, f.accepted) for f in prove(TAIL, through, wants=wishes).faults if f.kind == "lost"}

    assert told() == {("stop lamp", False), ("tail lamp", False)}
    assert told(wanted) == {("stop lamp", True), ("tail lamp", False)}
    (off,) = [f for f in prove(TAIL, through, wants=[wanted]).findings if f.as_wished]
    assert (off.what, off.positions()) == ("stop lamp", [{"brake pedal": "pressed", "dash/light": "off"}])
    # Without a position it is wanted off in all of them.
    assert told({"what": "stop lamp", "is": "off"}) == {("stop lamp", True), ("tail lamp", False)}


def test_what_is_off_everywhere_is_not_so_by_the_switch_that_the_job_names() -> None:
    wanted = {"what": "stop lamp", "is": "off", "when": {"dash/light": "off"}}
    proof = prove(TAIL, wires(TAIL, stop=None), wants=[wanted])
    assert [(f.kind, f.what, f.accepted) for f in proof.faults] == [("lost", "stop lamp", False)]


def test_position_that_is_new_is_told_apart() -> None:
    after = TAIL.changed(
        places={**TAIL.places, "dash": "three-way", "front": "head-lamp"},
        wires=[*TAIL.wires, "head = dash:56 > front:56", "head-earth = front:31 > earth"],
    )
    before = TAIL.changed(places={**TAIL.places, "front": "head-lamp"}, wires=[*TAIL.wires, after.wires[-1]])
    proof = prove(before, after, swaps=[{"at": "dash", "fit": "three-way"}])
    new = [(f.what, f.outcome, f.after) for f in proof.findings if f.in_new_position]
    assert ("head lamp", "gained", "full") in new
    assert all(outcome in ("kept", "gained") for _, outcome, _ in new)
    assert set(outcomes(proof, "rear/tail lamp")) == {
        ("kept", "off", "off"),
        ("kept", "full", "full"),
        ("kept", "off", "full"),  # head, which did not exist: as the nearest old position "on"
    }


def test_load_that_a_new_position_dims_is_changed_and_gained_only_if_that_is_wanted() -> None:
    """With the dimmer at dim, which did not exist, the tail lamp is dark to those behind: no gain."""
    after = TAIL.changed(places={**TAIL.places, "dash": "dimming-switch"})
    swaps = [{"at": "dash", "fit": "dimming-switch"}]
    proof = prove(TAIL, after, swaps=swaps)
    dimmed = [{"dash/light": "on", "dash/dimmer": "dim"}]
    assert outcomes(proof, "rear/tail lamp")["changed", "full", "dim"] == dimmed
    assert ("changed", "tail lamp", "rear") in faults(proof)
    wants = [{"what": "tail lamp", "is": "dim", "when": {"dash/dimmer": "dim", "dash/light": "on"}}]
    wanted = prove(TAIL, after, swaps=swaps, wants=wants)
    assert outcomes(wanted, "rear/tail lamp")["gained", "full", "dim"] == dimmed
    assert faults(wanted) == set()


def test_position_that_is_gone_loses_what_worked_there() -> None:
    before = TAIL.changed(
        places={**TAIL.places, "dash": "three-way", "front": "head-lamp"},
        wires=[*TAIL.wires, "head = dash:56 > front:56", "head-earth = front:31 > earth"],
    )
    loose = [text.replace("dash:56", "loose") for text in before.wires]
    after = before.changed(places={**before.places, "dash": "switch"}, wires=loose)
    proof = prove(before, after, swaps=[{"at": "dash", "fit": "switch"}])
    assert outcomes(proof, "front/head lamp")["lost", "full", "off"] == [{"dash/light": "head"}]
    kept = outcomes(proof, "front/head lamp")["kept", "off", "off"]
    assert kept == [{"dash/light": "off"}, {"dash/light": "on"}]


def test_load_of_a_removed_part_is_lost_where_it_worked() -> None:
    places = {place: part for place, part in TAIL.places.items() if place != "rear"}
    after = TAIL.changed(
        places=places, wires=[w.replace("rear:58", "loose").replace("rear:31 > ", "") for w in TAIL.wires]
    )
    proof = prove(TAIL, after, swaps=[{"at": "rear", "fit": "nothing"}])
    assert outcomes(proof, "rear/tail lamp")["lost", "full", "off"] == [{"dash/light": "on"}]


def test_task_of_a_new_part_that_never_runs_is_missing_if_the_part_does_nothing_else() -> None:
    """A part is fitted for something: one that does nothing at all is not what the job is for."""
    before = wires(TAIL, stop=None, earth="rear:31 > earth")
    before = before.changed(places={p: n for p, n in TAIL.places.items() if p != "stop"})
    after = TAIL.changed(wires=[w for w in TAIL.wires if not w.startswith("stop")])
    proof = prove(before, after, swaps=[{"at": "stop", "fit": "stop-lamp"}])
    assert faults(proof) == {("missing", "stop lamp", "stop")}


TWO_LAMPS = make_parts(
    """
    two-lamps:
      terminals: {"58": "58", "54": "54", "31": "31"}
      inside:
        - lamp: {between: ["58", "31"], watts: 21, does: tail lamp, duty: tail}
        - lamp: {between: ["54", "31"], watts: 21, does: brake light}
    """
)


@pytest.mark.parametrize(
    ("duty", "wants", "kind"),
    [
        ("none", [], "unused"),
        ("none", [{"what": "brake light", "is": "full"}], "missing"),
        ("stop", [], "missing"),
    ],
)
def test_what_a_new_part_could_do_besides_is_missing_if_the_job_wants_it_or_others_on_the_road_go_by_it(
    duty: str, wants: list[dict[str, str]], kind: str
) -> None:
    lamps = TWO_LAMPS["two-lamps"]
    inside = tuple(
        e.model_copy(update={"duty": duty}) if e.does == "brake light" else e for e in lamps.inside
    )
    before = TAIL.changed(parts={**PARTS, "two-lamps": lamps.model_copy(update={"inside": inside})})
    after = before.changed(places={**before.places, "rear": "two-lamps"})
    proof = prove(before, after, swaps=[{"at": "rear", "fit": "two-lamps"}], wants=wants)
    assert (kind, "brake light", "rear") in faults(proof)
    assert {"unused", "missing"} & {fault[0] for fault in faults(proof)} == {kind}


WATCH = make_parts(
    """
    watch:
      terminals: {in: "54", out: "54", "31": "31"}
      nodes: [dark]
      inside:
        - coil: {between: [in, out], ohms: 0.05, pulls_in_v: 0.03, drops_out_v: 0.01, name: reed}
        - contact: {join: [in, dark], when: {reed: released}}
        - lamp: {between: [dark, "31"], watts: 1, does: stop lamp failed}
    """
)


def test_a_warning_that_its_own_relay_holds_off_is_not_missing_unless_that_never_pulls_in() -> None:
    """In line with the lamp it warns of what no position has; with nothing on it, it never works."""
    before = TAIL.changed(parts={**PARTS, **WATCH})
    (stop,) = [wire for wire in TAIL.wires if wire.startswith("stop")]
    others = [wire for wire in TAIL.wires if wire is not stop]
    start, end = stop.removeprefix("stop = ").split(" > ")
    places = {**before.places, "watch": "watch"}
    swaps = [{"at": "watch", "fit": "watch"}]
    in_line = [*others, f"{start} > watch:in", f"watch:out > {end}", "watch:31 > earth"]
    assert faults(prove(before, before.changed(places=places, wires=in_line), swaps=swaps)) == set()
    apart = [*TAIL.wires, "watch:31 > earth"]
    proof = prove(before, before.changed(places=places, wires=apart), swaps=swaps)
    assert faults(proof) == {("missing", "stop lamp failed", "watch")}


RELAY = make_parts(
    """
    stepper:
      terminals: {"30": "30", "56": "56", 56a: 56a, 56b: 56b, S: return}
      inside:
        - coil: {between: ["30", S], ohms: 60, pulls_in_v: 7.5, drops_out_v: 3, name: armature}
        - step: {name: beam, states: [dipped, main], stepped_by: armature}
        - contact: {join: ["56", 56b], when: {beam: dipped}}
        - contact: {join: ["56", 56a], when: {beam: main}}
    lever:
      terminals: {S: return, E: "31"}
      inside:
        - control: {name: lever, positions: [released, pulled], returns: released}
        - contact: {join: [S, E], when: {lever: pulled}}
    lamps:
      terminals: {56a: 56a, 56b: 56b, "31": "31"}
      inside:
        - lamp: {between: [56a, "31"], watts: 45, does: main beam, duty: head}
        - lamp: {between: [56b, "31"], watts: 40, does: dipped beam, duty: head}
    headlamp-switch:
      terminals: {"30": "30", "56": "56"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "56"], when: {light: "on"}}
    """
)
STEPPING = Bench(
    RELAY,
    {"relay": "stepper", "column": "lever", "front": "lamps", "dash": "headlamp-switch"},
    [
        "feed = feed:live > dash:30 > relay:30",
        "head = dash:56 > relay:56",
        "lever = relay:S > column:S",
        "main = relay:56a > front:56a",
        "dip = relay:56b > front:56b",
        "earth = front:31 > column:E > earth",
    ],
    LIVE,
)


def test_memory_names_the_start_of_an_outcome() -> None:
    """The lever cut off, the relay never steps: main beam is lost, only as far as it could be on."""
    found = outcomes(prove(STEPPING, wires(STEPPING, lever=None)), "front/main beam")
    lost = found["lost", "full", "off"]
    assert lost == [{"column/lever": "pulled", "dash/light": "on", "relay/beam": "dipped"}]
    assert all(row["dash/light"] == "on" and row["column/lever"] == "pulled" for row in lost)


def test_step_that_ends_elsewhere_is_one_remark_and_no_fault() -> None:
    """The coil fed with the lamps instead: with the lamps off the beam is not stepped."""
    after = wires(STEPPING, feed="feed:live > dash:30", head="dash:56 > relay:56 > relay:30")
    proof = prove(STEPPING, after)
    remarks = [f for f in proof.findings if f.is_memory]
    assert [(f.what, f.at, f.outcome) for f in remarks] == [("beam", "relay", "changed")]
    assert [(f.before, f.after) for f in remarks] == [(STEPS, STAYS)]
    assert {row["dash/light"] for f in remarks for row in f.positions()} == {"off"}
    assert not any(fault.what == "beam" for fault in proof.faults)


WIPER = make_parts(
    """
    motor:
      terminals: {"53": "53", 53a: 53a, 31b: 31b, case: mounting}
      inside:
        - winding: {between: ["53", case], watts: 36, does: wipe, duty: wiper}
        - cam: {name: blades, states: [parked, sweeping], turned_by: wipe}
        - contact: {join: [31b, case], when: {blades: parked}}
        - contact: {join: [53a, 31b], when: {blades: sweeping}}
    wiper-switch:
      terminals: {"15": "15", "53": "53", 31b: 31b}
      inside:
        - control: {name: wiper, positions: ["off", "on"]}
        - contact: {join: ["15", "53"], when: {wiper: "on"}}
        - contact: {join: [31b, "53"], when: {wiper: "off"}}
    """
)
WIPERS = Bench(
    WIPER,
    {"dash": "wiper-switch", "motor": "motor"},
    [
        "feed = feed:ign > dash:15",
        "park-feed = feed:ign > motor:53a",
        "run = dash:53 > motor:53",
        "park = dash:31b > motor:31b",
    ],
    {"ign": {"role": "15"}},
)


@pytest.mark.parametrize("lost", ["park-feed", "park"])
def test_blades_that_no_longer_park_are_lost(lost: str) -> None:
    proof = prove(WIPERS, wires(WIPERS, **{lost: None}))
    found = outcomes(proof, "motor/park the blades")
    assert found["lost", "parks", "stops off-park"] == [{"dash/wiper": "off", "motor/blades": "sweeping"}]
    fault = next(f for f in proof.faults if f.what == "park the blades")
    assert fault.path == (
        "feed:ign",
        "motor:53a",
        "motor:31b",
        "dash:31b",
        "dash:53",
        "motor:53",
        "motor:case",
        "earth",
    )


def test_blades_that_park_as_before_are_kept() -> None:
    moved = wires(WIPERS, feed="feed:ign > dash:15 > motor:53a", **{"park-feed": None})
    assert {o for o, _, _ in outcomes(prove(WIPERS, moved), "motor/park the blades")} == {"kept"}


def test_proof_says_what_it_covered() -> None:
    proof = prove(STEPPING, wires(STEPPING, short="relay:56a > relay:56b"))
    assert proof.positions == 4  # two switches of two positions
    assert proof.start_states == 4  # armature and beam, in all combinations
    assert proof.solved > 0
    assert proof.compared > 0
    assert prove(STEPPING, STEPPING).solved == 0, "equal blocks are not solved again"


def test_what_only_a_removed_part_did_goes_with_it() -> None:
    before = Bench(
        PARTS,
        {"rear": "lamp", "side": "plain-lamp"},
        ["feed:live > rear:58 > side:a", "rear:31 > side:b > earth"],
        LIVE,
    )
    after = before.changed(places={"side": "plain-lamp"}, wires=["feed:live > side:a", "side:b > earth"])
    proof = prove(before, after, swaps=[{"at": "rear", "fit": "nothing"}])
    (gone,) = [f for f in proof.findings if f.outcome == "lost"]
    assert (gone.at, gone.what, gone.accepted) == ("rear", "tail lamp", True)
    assert all(fault.accepted for fault in proof.faults)


CHECKED = Bench(
    make_parts(
        """
        checker:
          terminals: {"58": "58", out: "", K: ""}
          inside:
            - coil: {between: ["58", out], ohms: 0.08, pulls_in_v: 0.1, drops_out_v: 0.05, name: reed}
            - contact: {join: [K, "58"], when: {reed: released}}
        weak-lamp:
          terminals: {"58": "58", "31": "31"}
          inside: [{lamp: {between: ["58", "31"], watts: 2, does: tail lamp, duty: tail}}]
        """
    )
    | PARTS,
    {"dash": "switch", "check": "checker", "rear": "lamp", "warning": "plain-lamp"},
    [
        "feed = feed:live > dash:30",
        "tail = dash:58 > check:58",
        "checked = check:out > rear:58",
        "told = check:K > warning:a",
        "earth = rear:31 > warning:b > earth",
    ],
    LIVE,
)


def test_what_a_relay_brings_about_that_no_longer_pulls_in_is_unintended() -> None:
    """A lamp that takes too little for the coil in its feed: the warning burns with it, by a clean way."""
    proof = prove(CHECKED, CHECKED.changed(places={**CHECKED.places, "rear": "weak-lamp"}))
    assert outcomes(proof, "warning/shine")["unintended", "off", "full"] == [{"dash/light": "on"}]
    (finding,) = (f for f in proof.findings if f.what == "shine" and f.outcome == "unintended")
    assert finding.let_go == ("check/reed",)


def test_what_lets_go_is_told_beside_relays_that_hold_on() -> None:
    """The same behind a relay of the lamps, which pulls in as before: it is not what let go."""
    relay = make_parts(
        """
        lamp-relay:
          terminals: {"86": "86", "85": "85", "30": "30", "87": "58"}
          inside:
            - coil: {between: ["86", "85"], ohms: 80, pulls_in_v: 7, drops_out_v: 2, name: armature}
            - contact: {join: ["30", "87"], when: {armature: pulled}}
        """
    )
    relayed = Bench(
        relay | CHECKED.parts,
        {"before": "lamp-relay", **CHECKED.places},
        [
            "feed = feed:live > dash:30",
            "works = dash:58 > before:86",
            "home = before:85 > earth",
            "fed = feed:live > before:30",
            "tail = before:87 > check:58",
            "checked = check:out > rear:58",
            "told = check:K > warning:a",
            "earth = rear:31 > warning:b > earth",
        ],
        LIVE,
    )
    proof = prove(relayed, relayed.changed(places={**relayed.places, "rear": "weak-lamp"}))
    (finding,) = (f for f in proof.findings if f.what == "shine" and f.outcome == "unintended")
    assert finding.let_go == ("check/reed",)


def test_what_a_relay_at_rest_feeds_is_gained_where_it_rested_before() -> None:
    before = CHECKED.changed(places={**CHECKED.places, "rear": "weak-lamp"})
    cut = wires(before, told=None)
    proof = prove(cut, before)
    assert outcomes(proof, "warning/shine")["gained", "off", "full"] == [{"dash/light": "on"}]
