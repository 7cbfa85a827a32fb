"""Hazards: each kind on a loom that has it, beside the nearest loom that does not."""

from collections.abc import Mapping
from dataclasses import replace

import pytest
from small_looms import Bench, make_parts, prove
from tiny import unsafe

PARTS = make_parts(
    """
    box: {terminals: {B: "30", "1": "30"}, inside: [{fuse: {between: [B, "1"], amps: 8}}]}
    two-fuses:
      terminals: {B: "30", "1": "30", "2": "30"}
      inside: [{fuse: {between: [B, "1"], amps: 8}}, {fuse: {between: [B, "2"], amps: 16}}]
    switch:
      terminals: {"30": "30", "58": "58"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
    more:
      terminals: {"30": "30", "58": "58", "56": "56"}
      inside:
        - control: {name: light, positions: ["off", "on", head]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
        - contact: {join: ["30", "56"], when: {light: head}}
    lamp:
      terminals: {"58": "58", "31": "31"}
      inside: [{lamp: {between: ["58", "31"], watts: 24, does: side lamp}}]
    relay:
      terminals: {"86": "86", "85": "85", "30": "30", "87": "87", 87a: 87a}
      inside:
        - coil: {between: ["86", "85"], ohms: 60, pulls_in_v: 7.5, drops_out_v: 3, name: armature}
        - contact: {join: ["30", "87"], when: {armature: pulled}}
        - contact: {join: ["30", 87a], when: {armature: released}}
    diode: {terminals: {a: "", c: ""}, inside: [{diode: {between: [a, c]}}]}
    motor:
      terminals: {"53": "53", 53a: 53a, 31b: 31b, case: mounting}
      inside:
        - winding: {between: ["53", case], watts: 36, does: wipe}
        - cam: {name: blades, states: [parked, sweeping], turned_by: wipe}
        - contact: {join: [31b, case], when: {blades: parked}}
        - contact: {join: [53a, 31b], when: {blades: sweeping}}
    slow:
      terminals: {"15": "15", "53": "53", 31b: 31b}
      inside:
        - control: {name: wiper, positions: ["off", slow]}
        - contact: {join: ["15", "53"], when: {wiper: slow}}
        - contact: {join: [31b, "53"], when: {wiper: "off"}}
    slow-and-fast:
      terminals: {"15": "15", "53": "53", 53b: 53b, 31b: 31b}
      inside:
        - control: {name: wiper, positions: ["off", slow, fast]}
        - contact: {join: ["15", "53"], when: {wiper: slow}}
        - contact: {join: ["15", 53b], when: {wiper: fast}}
        - contact: {join: [31b, "53"], when: {wiper: "off"}}
    """
)
LIVE = {"live": {"role": "30"}}
BASE = [
    "feed = feed:live > box:B",
    "fused = box:1 > dash:30",
    "out = dash:58 > lamp:58",
    "earth = lamp:31 > earth",
]
LAMP = Bench(PARTS, {"box": "box", "dash": "switch", "lamp": "lamp"}, BASE, LIVE)


def hazards(after: Bench, before: Bench = LAMP, swap: str | None = None) -> dict[tuple[str, str], object]:
    """New hazards; ``swap`` names a place whose part is new."""
    swaps = [{"at": swap, "fit": after.places[swap].partition("!")[0]}] if swap else []
    return unsafe(prove(before, after, swaps=swaps))


def test_sound_loom_has_no_hazard() -> None:
    assert prove(LAMP, LAMP).hazards == ()


def test_short_names_its_fuse_and_its_positions() -> None:
    after = LAMP.changed(wires=[*BASE, "slip = lamp:58 > earth"])
    (hazard,) = prove(LAMP, after).hazards
    assert (hazard.kind, hazard.at) == ("short", "fuse:box:1")
    assert "the fuse of 8 A at 1 on the box" in hazard.detail
    assert hazard.positions() == [{"dash/light": "on"}]
    assert hazard.path[0] == "feed:live"
    assert hazard.path[-1] == "earth"
    assert "lamp:58" in hazard.path


def test_short_that_was_there_before_is_told_as_it_would_be_if_it_were_new() -> None:
    short = LAMP.changed(wires=[*BASE, "slip = lamp:58 > earth"])
    ((new,), (old,)) = prove(LAMP, short).hazards, prove(short, short).hazards
    assert not new.was_before
    assert old == replace(new, was_before=True)


def test_short_of_a_source_without_a_fuse_is_unprotected() -> None:
    battery = make_parts(
        'battery: {terminals: {p: "30", n: "31"}, inside: [{source: {between: [p, n], volts: 12}}]}'
    )
    before = Bench(
        {**PARTS, **battery},
        {"bat": "battery", "dash": "switch", "lamp": "lamp"},
        ["p = bat:p > dash:30", "n = bat:n > earth", "out = dash:58 > lamp:58", "e = lamp:31 > earth"],
    )
    (hazard,) = prove(before, before.changed(wires=[*before.wires, "slip = dash:30 > earth"])).hazards
    assert (hazard.kind, hazard.detail) == ("short", "protected by nothing: unprotected")


def test_short_at_any_moment_counts_though_it_does_not_last() -> None:
    """The joint of the park return kept when on: a short each turn, while the blades are parked."""
    keeps = make_parts(
        """
        keeps:
          terminals: {"15": "15", "53": "53", 31b: 31b}
          inside:
            - control: {name: wiper, positions: ["off", slow]}
            - contact: {join: ["15", "53"], when: {wiper: slow}}
            - contact: {join: [31b, "53"]}
        """
    )
    wires = ["f = feed:live > dash:15 > motor:53a", "run = dash:53 > motor:53", "park = dash:31b > motor:31b"]
    before = Bench({**PARTS, **keeps}, {"dash": "slow", "motor": "motor"}, wires, LIVE)
    after = before.changed(places={"dash": "keeps", "motor": "motor"})
    assert hazards(before, before) == {}
    assert hazards(after, before, "dash") == {("short", "feed:live"): [{"dash/wiper": "slow"}]}


def test_short_that_was_there_before_is_said_to_be_old() -> None:
    both = LAMP.changed(wires=[*BASE, "slip = lamp:58 > earth"])
    (hazard,) = prove(both, both).hazards
    assert hazard.was_before
    assert prove(both, both).faults == ()


def test_feeds_are_tied_by_a_link_between_two_fused_sides() -> None:
    wires = [
        "feed = feed:live > box:B",
        "one = box:1 > dash:30",
        "out = dash:58 > lamp:58",
        "e = lamp:31 > earth",
    ]
    before = Bench(PARTS, {"box": "two-fuses", "dash": "switch", "lamp": "lamp"}, wires, LIVE)
    tied = before.changed(wires=[*wires, "link = box:2 > dash:30"])
    ((kind, at),) = hazards(tied, before)
    assert (kind, at.partition(":2")[0].partition(":1")[0]) == ("feeds-tied", "fuse:box")
    moved = before.changed(wires=[w.replace("box:1", "box:2") for w in wires])
    assert hazards(moved, before) == {}


def test_loose_end_counts_while_it_is_live_and_bare() -> None:
    loose = LAMP.changed(wires=[*BASE, "spare = dash:58 > loose"])
    assert hazards(loose) == {("live-loose-end", "end:spare:1"): [{"dash/light": "on"}]}
    dead = LAMP.changed(wires=[*BASE, "spare = lamp:31 > loose"])
    assert hazards(dead) == {}


def test_loose_end_that_is_covered_is_safe() -> None:
    loose = LAMP.changed(wires=[*BASE, "spare = dash:58 > loose"])
    wire = loose.loom.find("spare")
    ends = (wire.ends[0], wire.ends[1].model_copy(update={"covered": True}))
    spare = wire.model_copy(update={"ends": ends})
    covered = loose.changed()
    covered.__dict__["loom"] = loose.loom.model_copy(update={"wires": (*loose.loom.wires[:-1], spare)})
    assert hazards(covered) == {}


def test_bare_terminal_of_the_new_part_counts_while_it_is_live() -> None:
    after = LAMP.changed(places={**LAMP.places, "dash": "more"})
    assert ("bare-live-terminal", "dash:56") in hazards(after, swap="dash")
    assert hazards(after, swap="dash")["bare-live-terminal", "dash:56"] == [{"dash/light": "head"}]
    covered = after.changed(more={"covered": ["dash:56"]})
    assert ("bare-live-terminal", "dash:56") not in hazards(covered, swap="dash")


def test_feed_at_the_edge_that_is_fed_from_elsewhere_is_back_fed() -> None:
    feeds = {**LIVE, "ign": {"role": "15", "when": {"ignition": ["on"]}}}
    before = LAMP.changed(feeds=feeds, conditions={"ignition": ["off", "on"]})
    after = before.changed(wires=[*BASE, "back = dash:58 > feed:ign"])
    found = hazards(after, before)
    assert found["back-feed", "feed:ign"] == [{"dash/light": "on", "ignition": "off"}]
    assert ("feeds-tied", "fuse:box:1") in found  # while the ignition is on as well
    blocked = before.changed(
        places={**LAMP.places, "d": "diode"}, wires=[*BASE, "to = feed:ign > d:a", "from = d:c > dash:58"]
    )
    assert hazards(blocked, before) == {}


def test_current_at_rest_that_was_not_there_is_a_drain() -> None:
    after = LAMP.changed(wires=[*BASE, "always = box:1 > lamp:58"])
    assert ("drain", "") in hazards(after)
    (drain,) = (h for h in prove(LAMP, after).hazards if h.kind == "drain")
    assert drain.detail == "2 A with everything at rest, 0 A before"
    assert ("drain", "") not in hazards(after, after)
    assert ("drain", "") not in hazards(LAMP, after), "less than before is no drain"


MEMORY = make_parts(
    """
    clock: {terminals: {a: "30", b: "31"}, inside: [{resistor: {between: [a, b], ohms: 300}}]}
    radio: {terminals: {a: "30", b: "31"}, inside: [{resistor: {between: [a, b], ohms: 600}}]}
    """
)


@pytest.mark.parametrize(
    ("places", "is_unsafe"),
    [({"r": "radio"}, False), ({"c": "clock"}, False), ({"c": "clock", "r": "radio"}, True)],
)
def test_what_remembers_may_take_fifty_milliamperes_together(places: dict[str, str], is_unsafe: bool) -> None:
    """40 mA and 20 mA at 12 V."""
    wires = [w for place in places for w in (f"box:1 > {place}:a", f"{place}:b > earth")]
    after = LAMP.changed(
        parts={**LAMP.parts, **MEMORY}, places={**LAMP.places, **places}, wires=[*BASE, *wires]
    )
    assert (("drain", "") in hazards(after)) is is_unsafe


def test_relay_through_its_own_break_contact_chatters() -> None:
    wires = [*BASE, "in = dash:58 > relay:30", "e = relay:85 > earth"]
    before = LAMP.changed(places={**LAMP.places, "relay": "relay"}, wires=wires)
    chatters = before.changed(wires=[*wires, "own = relay:87a > relay:86"])
    assert hazards(chatters, before) == {("chatter", "relay"): [{"dash/light": "on"}]}
    holds = before.changed(wires=[*wires, "own = relay:87 > relay:86"])
    assert ("chatter", "relay") not in hazards(holds, before)
    assert hazards(chatters, chatters) == {}


WIPER_WIRES = [
    "f = feed:live > dash:15 > motor:53a",
    "run = dash:53 > motor:53",
    "park = dash:31b > motor:31b",
]
WIPERS = Bench(PARTS, {"dash": "slow", "motor": "motor"}, WIPER_WIRES, LIVE)


def test_new_position_in_which_nothing_works_is_dead() -> None:
    after = WIPERS.changed(places={"dash": "slow-and-fast", "motor": "motor"})
    found = hazards(after, WIPERS, "dash")
    assert found["dead-position", "dash"] == [{"dash/wiper": "fast"}]
    (dead,) = (h for h in prove(WIPERS, after).hazards if h.kind == "dead-position")
    assert dead.control == "dash/wiper"
    assert dead.detail.endswith("the blades stop where they are")


def test_new_position_in_which_the_job_wants_the_load_off_is_not_dead() -> None:
    after = WIPERS.changed(places={"dash": "slow-and-fast", "motor": "motor"})
    for label, is_dead in (("fast", False), ("slow", True)):
        wish = {"what": "wipe", "at": ["motor"], "is": "off", "when": {"dash/wiper": label}}
        found = unsafe(prove(WIPERS, after, wants=[wish]))
        assert (("dead-position", "dash") in found) == is_dead


def test_new_position_that_is_bridged_is_not_dead() -> None:
    after = WIPERS.changed(
        places={"dash": "slow-and-fast", "motor": "motor"},
        wires=[*WIPER_WIRES, "bridge = dash:53b > dash:53"],
    )
    assert ("dead-position", "dash") not in hazards(after, WIPERS, "dash")


@pytest.mark.parametrize("earthed", ["negative", "positive"])
def test_hazards_do_not_depend_on_which_pole_is_earthed(earthed: str) -> None:
    before = LAMP.changed(earthed=earthed)
    slip = before.changed(wires=[*BASE, "slip = lamp:58 > earth"])
    assert hazards(slip, before) == {("short", "fuse:box:1"): [{"dash/light": "on"}]}
    drain = before.changed(wires=[*BASE, "always = box:1 > lamp:58"])
    assert ("drain", "") in hazards(drain, before)


SWEEPING = """
sweep:
  terminals: {"30": "30", A: "58", E: "31"}
  inside:
    - control: {name: way, positions: ["off", feed, earth]}
    - contact: {join: ["30", A], when: {way: feed}, overlaps: OVERLAPS}
    - contact: {join: [A, E], when: {way: earth}, overlaps: OVERLAPS}
"""


def _swept(overlaps: str) -> dict[tuple[str, str], list[Mapping[str, str]]]:
    """A changeover whose common contact passes from feed to earth, made with or without overlap."""
    parts = PARTS | make_parts(SWEEPING.replace("OVERLAPS", overlaps))
    wires = ["feed:live > sw:30", "sw:E > earth"]
    before = Bench(parts, {"sw": "switch"}, ["feed:live > sw:30"], LIVE)
    after = Bench(parts, {"sw": "sweep"}, wires, LIVE)
    return unsafe(prove(before, after, swaps=[{"at": "sw", "fit": "sweep"}]))


def test_contacts_that_overlap_into_a_short_between_two_detents_are_found() -> None:
    assert [at for kind, at in _swept("true") if kind == "short"] == ["sw"]


def test_contacts_that_break_before_they_make_short_nothing_on_the_way() -> None:
    assert [at for kind, at in _swept("false") if kind == "short"] == []
