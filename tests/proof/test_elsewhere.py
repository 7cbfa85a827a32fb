"""What another control does now is worked otherwise; what it does not quite do, or not by itself, is lost."""

import pytest
from small_looms import Bench, make_parts, prove
from tiny import LIVE, outcomes

from planner.proof.prove import Proof

PARTS = make_parts(
    """
    stepping-relay:
      terminals: {"56": "56", S: "", 56a: 56a, 56b: 56b}
      inside:
        - coil: {between: ["56", S], ohms: 60, pulls_in_v: 7, drops_out_v: 3, name: armature}
        - step: {name: beam, states: [dipped, main], stepped_by: armature}
        - contact: {join: ["56", 56b], when: {beam: dipped}}
        - contact: {join: ["56", 56a], when: {beam: main}}
    lever:
      terminals: {S: "", E: "31"}
      inside:
        - control: {name: lever, positions: [released, pulled], returns: released}
        - contact: {join: [S, E], when: {lever: pulled}}
    dip-switch:
      terminals: {"56": "56", 56a: 56a, 56b: 56b}
      inside:
        - control: {name: dip, positions: [low, high]}
        - contact: {join: ["56", 56b], when: {dip: low}}
        - contact: {join: ["56", 56a], when: {dip: high}}
    dip-switch-adding:
      terminals: {"56": "56", 56a: 56a, 56b: 56b}
      inside:
        - control: {name: dip, positions: [low, high]}
        - contact: {join: ["56", 56b]}
        - contact: {join: ["56", 56a], when: {dip: high}}
    dip-button:
      terminals: {"56": "56", 56a: 56a, 56b: 56b}
      inside:
        - control: {name: dip, positions: [low, high], returns: low}
        - contact: {join: ["56", 56b], when: {dip: low}}
        - contact: {join: ["56", 56a], when: {dip: high}}
    dip-switch-with-flash:
      terminals: {"56": "56", 56a: 56a, 56b: 56b, "30": "30"}
      inside:
        - control: {name: dip, positions: [low, high]}
        - control: {name: flash, positions: ["off", pulled], returns: "off"}
        - contact: {join: ["56", 56b], when: {dip: low}}
        - contact: {join: ["56", 56a], when: {dip: high}}
        - contact: {join: ["30", 56a], when: {flash: pulled}}
    lights:
      terminals: {"30": "30", "56": "56"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "56"], when: {light: "on"}}
    headlamp:
      terminals: {56a: 56a, 56b: 56b, "31": "31"}
      inside:
        - lamp: {between: [56a, "31"], watts: 45, does: main beam, duty: head}
        - lamp: {between: [56b, "31"], watts: 40, does: dipped beam, duty: head}
    key-start:
      terminals: {"30": "30", "15": "15", "50": ""}
      inside:
        - control: {name: key, positions: ["off", "on", start], returns: "on"}
        - contact: {join: ["30", "15"], when: {key: "on"}}
        - contact: {join: ["30", "50"], when: {key: start}}
    key:
      terminals: {"30": "30", "15": "15"}
      inside:
        - control: {name: key, positions: ["off", "on"]}
        - contact: {join: ["30", "15"], when: {key: "on"}}
    push:
      terminals: {in: "15", out: ""}
      inside:
        - control: {name: push, positions: [released, pressed], returns: released}
        - contact: {join: [in, out], when: {push: pressed}}
    toggle:
      terminals: {in: "15", out: ""}
      inside:
        - control: {name: toggle, positions: ["off", "on"]}
        - contact: {join: [in, out], when: {toggle: "on"}}
    two-lamps:
      terminals: {"15": "15", "50": "", "31": "31"}
      inside:
        - lamp: {between: ["15", "31"], watts: 5, does: heat}
        - lamp: {between: ["50", "31"], watts: 5, does: crank}
    """
)
HEAD = ["feed:live > lights:30", "lights:56 > dip:56", "dip:56a > lamp:56a", "dip:56b > lamp:56b"]
HEAD.append("lamp:31 > earth")
STEPPING = Bench(
    PARTS,
    {"lights": "lights", "dip": "stepping-relay", "lever": "lever", "lamp": "headlamp"},
    [*HEAD, "dip:S > lever:S", "lever:E > earth"],
    LIVE,
)
WITH_START = Bench(
    PARTS,
    {"key": "key-start", "box": "two-lamps"},
    ["feed:live > key:30", "key:15 > box:15", "key:50 > box:50", "box:31 > earth"],
    LIVE,
)


def dipped_by(part: str, *extra: str) -> Bench:
    """The headlamps with another part in the relay's place, and no lever."""
    places = {"lights": "lights", "dip": part, "lamp": "headlamp"}
    return STEPPING.changed(places=places, wires=[*HEAD, *extra])


def started_by(part: str, out: str) -> Bench:
    """A key without start, and something beside it for it."""
    places = {"key": "key", "start": part, "box": "two-lamps"}
    wires = ["feed:live > key:30", "key:15 > box:15 > start:in", f"start:out > {out}", "box:31 > earth"]
    return WITH_START.changed(places=places, wires=wires)


def lost(proof: Proof) -> set[tuple[str, str]]:
    return {(fault.kind, fault.what) for fault in proof.faults if fault.kind != "hazard"}


def instead(proof: Proof, load: str) -> set[tuple[tuple[str, str], ...]]:
    """By what a load is worked otherwise."""
    return {f.instead for f in proof.findings if f.outcome == "otherwise" and f"{f.at}/{f.what}" == load}


def test_the_beams_that_a_relay_remembered_are_had_from_a_switch_that_holds_them() -> None:
    proof = prove(STEPPING, dipped_by("dip-switch"))
    assert lost(proof) == set()
    assert instead(proof, "lamp/main beam") == {(("dip/dip", "high"),)}
    assert instead(proof, "lamp/dipped beam") == {(("dip/dip", "low"),)}
    assert not [f for f in proof.findings if f.outcome in ("gained", "unintended")]


@pytest.mark.parametrize("extra", ["lamp:56a > lamp:56b", "feed:live > lamp:56b"])
def test_a_beam_that_cannot_be_had_alone_or_is_not_off_any_more_is_told(extra: str) -> None:
    assert lost(prove(STEPPING, dipped_by("dip-switch", extra)))


def test_a_switch_that_leaves_the_dipped_beam_on_is_not_the_same() -> None:
    proof = prove(STEPPING, dipped_by("dip-switch-adding"))
    assert instead(proof, "lamp/main beam") == set()
    assert ("lost", "main beam") in lost(proof)


def test_a_beam_that_stayed_by_itself_is_lost_if_it_has_to_be_held_now() -> None:
    proof = prove(STEPPING, dipped_by("dip-button"))
    assert ("lost", "main beam") in lost(proof)


def test_a_switch_that_nothing_joins_to_the_lamps_leaves_them_lost() -> None:
    proof = prove(STEPPING, dipped_by("dip-switch").changed(wires=[*HEAD[:2], *HEAD[3:]]))
    assert ("lost", "main beam") in lost(proof)
    assert instead(proof, "lamp/main beam") == set()


def test_cranking_by_a_push_is_cranking_though_the_key_leaves_the_heater_on() -> None:
    proof = prove(WITH_START, started_by("push", "box:50"))
    assert outcomes(proof, "box/crank")["otherwise", "full", "off"] == [
        {"key/key": "start", "start/push": "released"}
    ]
    assert instead(proof, "box/crank") == {(("key/key", "on"), ("start/push", "pressed"))}
    assert lost(proof) == set()
    assert not any(outcome == "gained" for outcome, _, _ in outcomes(proof, "box/crank"))


def test_what_a_new_position_does_that_no_old_one_did_is_gained() -> None:
    proof = prove(STEPPING, dipped_by("dip-switch-with-flash", "feed:live > dip:30"))
    assert lost(proof) == set()
    gained = [f for f in proof.findings if f.outcome == "gained"]
    assert {(f.at, f.what) for f in gained} == {("lamp", "main beam")}
    # That nobody pulls the flash goes without saying; what makes no difference to a beam is not named.
    assert instead(proof, "lamp/main beam") == {(("dip/dip", "high"),)}
    assert instead(proof, "lamp/dipped beam") == {(("dip/dip", "low"),)}
    assert all(
        dict(zip(f.names, row, strict=True))["dip/flash"] == "pulled" for f in gained for row in f.rows
    )


def test_a_switch_that_stays_on_does_not_stand_for_a_key_that_springs_back_with_the_heater_off() -> None:
    assert lost(prove(WITH_START, started_by("toggle", "box:50"))) == {("lost", "crank")}


def test_a_push_that_reaches_something_else_does_not_crank() -> None:
    assert ("lost", "crank") in lost(prove(WITH_START, started_by("push", "loose")))


def test_a_push_that_gives_way_to_a_key_that_starts_is_worked_otherwise_too() -> None:
    cranking = started_by("push", "box:50")
    both = WITH_START.changed(
        parts={
            **PARTS,
            "key-start": make_parts(
                """
            key-start:
              terminals: {"30": "30", "15": "15", "50": ""}
              inside:
                - control: {name: key, positions: ["off", "on", start], returns: "on"}
                - contact: {join: ["30", "15"], when: {key: ["on", start]}}
                - contact: {join: ["30", "50"], when: {key: start}}
            """
            )["key-start"],
        }
    )
    proof = prove(cranking, both)
    assert lost(proof) == set()
    assert instead(proof, "box/crank") == {(("key/key", "start"),)}
    back = prove(both, cranking)
    assert lost(back) == set() and instead(back, "box/crank")
    assert instead(back, "box/heat") == set()  # while the key cranked it went on; the key at on works it


HORN = make_parts(
    """
    horn:
      terminals: {a: "71", b: "31"}
      inside: [{winding: {between: [a, b], watts: 24, does: horn, duty: horn}}]
    push:
      terminals: {P: "31", E: "31"}
      inside:
        - control: {name: push, positions: [released, pressed], returns: released}
        - contact: {join: [P, E], when: {push: pressed}}
    bare: {terminals: {"31": "31"}, inside: []}
    lever:
      terminals: {"30": "30", "71": "71"}
      inside:
        - control: {name: sound, positions: [released, pressed], returns: released}
        - contact: {join: ["30", "71"], when: {sound: pressed}}
    """
)


@pytest.mark.parametrize(
    ("beside", "told"), [((), set()), (("y = lever:30 > other:b",), {("unintended", "other")})]
)
def test_what_a_push_did_is_not_unintended_at_another_one_but_what_it_never_did_is(
    beside: tuple[str, ...], told: set[tuple[str, str]]
) -> None:
    feed = "feed = feed:live > horn:a > other:a"
    places = {"push": "push", "lever": "bare", "horn": "horn", "other": "horn"}
    before = Bench(HORN, places, [feed, "h = horn:b > push:P", "e = push:E > earth"], LIVE)
    wires = [feed, "h = horn:b > lever:30", "x = lever:71 > earth", *beside]
    proof = prove(before, before.changed(places={**places, "lever": "lever", "push": "bare"}, wires=wires))
    assert {(fault.kind, fault.at) for fault in proof.faults} == told
    assert instead(proof, "horn/horn") == {(("lever/sound", "pressed"),)}
