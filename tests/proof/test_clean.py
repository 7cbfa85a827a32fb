"""Clean paths: what makes activity that was not there before *gained*, and what makes it *unintended*."""

from small_looms import Bench, make_parts, prove
from tiny import outcomes

PARTS = make_parts(
    """
    switch:
      terminals: {"30": "30", "58": "58", blank: ""}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58", blank], when: {light: "on"}}
    two-poles:
      terminals: {"30": "30", "58": "58", "54": "54"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
        - contact: {join: ["30", "54"], when: {light: "on"}}
    backwards:
      terminals: {"58": "58", "30": "30"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["58", "30"], when: {light: "on"}}
    lamp:
      terminals: {"58": "58", "31": "31"}
      inside: [{lamp: {between: ["58", "31"], watts: 5, does: side lamp}}]
    blank-lamp:
      terminals: {a: "", b: ""}
      inside: [{lamp: {between: [a, b], watts: 5, does: side lamp}}]
    strong:
      terminals: {a: "58", b: "58"}
      inside: [{lamp: {between: [a, b], watts: 500, does: heat}}]
    radio:
      terminals: {"15": "15", "31": "31"}
      inside: [{lamp: {between: ["15", "31"], watts: 5, does: music}}]
    lighter:
      terminals: {"49": "49", "31": "31"}
      inside: [{lamp: {between: ["49", "31"], watts: 5, does: glow}}]
    clock:
      terminals: {"30": "30", "31": "31"}
      inside: [{lamp: {between: ["30", "31"], watts: 5, does: time}}]
    relay:
      terminals: {"30": "30", "87": "87", "86": "86", "85": "85"}
      inside:
        - coil: {between: ["86", "85"], ohms: 80, pulls_in_v: 7, drops_out_v: 3, name: armature}
        - contact: {join: ["30", "87"], when: {armature: pulled}}
    magneto:
      terminals: {"2": "2", case: mounting}
      nodes: [primary]
      inside:
        - source: {between: [primary, case], volts: 6, when: {engine: running}}
        - resistor: {between: [primary, "2"], ohms: 3}
        - lamp: {between: ["2", case], watts: 4, volts: 4.5, does: ignition spark}
    kill-button:
      terminals: {K: "2", case: mounting}
      inside:
        - control: {name: kill, positions: [run, stop]}
        - contact: {join: [K, case], when: {kill: stop}}
    kill-switch-closed-in-run:
      terminals: {K: "15", L: "15"}
      inside:
        - control: {name: kill, positions: [run, stop]}
        - contact: {join: [K, L], when: {kill: run}}
    charge-lamp:
      terminals: {"15": "15", "61": "61"}
      inside: [{lamp: {between: ["15", "61"], watts: 2, does: charge lamp}}]
    dynamo:
      terminals: {D: D+, case: mounting}
      inside: [{resistor: {between: [D, case], ohms: 0.4}}]
    stop-switch:
      terminals: {"15": "15", "54": "54"}
      inside: [{contact: {join: ["15", "54"], when: {brake pedal: pressed}}}]
    """
)
FEEDS = {"live": {"role": "30"}, "ign": {"role": "15", "when": {"ignition": ["on"]}}, "stop": {"role": "54"}}
CONDITIONS = {"ignition": ["off", "on"], "brake pedal": ["released", "pressed"]}
COMMON = ["feed = feed:live > dash:30", "earth = lamp:31 > earth"]


def verdicts(before: list[str], after: list[str], load: str = "lamp/side lamp", **places: str) -> set[str]:
    """The outcomes other than kept of adding wires to a switch and a lamp."""
    fitted = {"dash": "switch", "lamp": "lamp"} | places
    one, two = (Bench(PARTS, fitted, [*COMMON, *more], FEEDS, CONDITIONS) for more in (before, after))
    swaps = [{"at": "dash", "fit": fitted["dash"]}]
    return {outcome for outcome, _, _ in outcomes(prove(one, two, swaps=swaps), load)} - {"kept"}


def test_added_wire_that_joins_equal_roles_is_clean() -> None:
    assert verdicts([], ["new = dash:58 > lamp:58"]) == {"gained"}


def test_added_wire_that_joins_unequal_roles_is_not() -> None:
    assert verdicts([], ["new = feed:stop > lamp:58"]) == {"unintended"}


def test_added_wire_that_gives_a_terminal_what_it_wants_is_clean() -> None:
    clock = {"clock": "clock"}
    earth = "e = clock:31 > earth"
    assert verdicts([earth], [earth, "new = feed:live > clock:30"], "clock/time", **clock) == {"gained"}
    radio = {"radio": "radio"}
    earth = "e = radio:31 > earth"
    assert verdicts([earth], [earth, "new = feed:ign > radio:15"], "radio/music", **radio) == {"gained"}


def test_added_wires_that_bring_one_feed_to_two_terminals_that_want_it_are_clean() -> None:
    both = {"radio": "radio", "lighter": "lighter"}
    earths = ["e = radio:31 > earth", "f = lighter:31 > earth"]
    one_feed = [*earths, "new = feed:ign > lighter:49", "bridge = lighter:49 > radio:15"]
    assert verdicts(earths, one_feed, "radio/music", **both) == {"gained"}
    live = [*earths, "new = feed:live > lighter:49", "bridge = lighter:49 > radio:15"]
    assert verdicts(earths, live, "radio/music", **both) == {"unintended"}


def test_added_wire_that_gives_a_terminal_something_else_is_not() -> None:
    earth = "e = radio:31 > earth"
    assert verdicts([earth], [earth, "new = feed:live > radio:15"], "radio/music", radio="radio") == {
        "unintended"
    }


def test_what_the_relay_that_is_fitted_anew_feeds_is_clean_whatever_its_role() -> None:
    """Its make contact passes on what the coil's own wire asks for; a relay that was there has its role."""
    radio = ["e = radio:31 > earth", "c = relay:85 > earth"]
    relay = ["coil = feed:ign > relay:86", "live = feed:live > relay:30", "out = relay:87 > radio:15"]
    places = {"dash": "switch", "lamp": "lamp", "radio": "radio"}
    one = Bench(PARTS, places, [*COMMON, radio[0]], FEEDS, CONDITIONS)
    two = Bench(PARTS, {**places, "relay": "relay"}, [*COMMON, *radio, *relay], FEEDS, CONDITIONS)
    found = {
        o for o, _, _ in outcomes(prove(one, two, swaps=[{"at": "dash", "fit": "switch"}]), "radio/music")
    }
    assert found - {"kept"} == {"gained"}
    assert verdicts(radio, [*radio, *relay], "radio/music", radio="radio", relay="relay") == {"unintended"}


def test_end_that_moves_to_its_old_role_is_clean() -> None:
    """The end of the lamp's wire from one 58 to another."""
    before, after = ["w = two:58 > lamp:58"], ["w = dash:58 > lamp:58"]
    assert verdicts(before, after, two="switch") == {"gained"}


def test_end_that_moves_to_another_role_is_not() -> None:
    before = ["w = dash:54 > lamp:58"]
    places = {"dash": "two-poles", "lamp": "lamp", "other": "two-poles"}
    one = Bench(PARTS, places, [*COMMON, *before], FEEDS, CONDITIONS)
    two = one.changed(wires=[*COMMON, "w = dash:58 > lamp:58"])
    assert {o for o, _, _ in outcomes(prove(one, two), "lamp/side lamp")} == {"kept"}
    unfed = ["w = other:54 > lamp:58"]
    one = one.changed(wires=[*COMMON, *unfed])
    assert {o for o, _, _ in outcomes(prove(one, two), "lamp/side lamp")} - {"kept"} == {"unintended"}


def test_a_wire_that_both_its_parts_gave_up_is_as_clean_as_a_new_one() -> None:
    """It joined 54 of two old parts and joins 58 of the new ones; unequal roles it may not join."""
    old = make_parts("old-lamp: {terminals: {'54': '54', '31': '31'}, inside: []}")
    one = Bench(
        {**PARTS, **old},
        {"dash": "stop-switch", "lamp": "old-lamp"},
        ["feed = feed:live > dash:15", "earth = lamp:31 > earth", "w = dash:54 > lamp:54"],
        FEEDS,
        CONDITIONS,
    )
    swaps = [{"at": "dash", "fit": "two-poles"}, {"at": "lamp", "fit": "lamp"}]
    for mark, said in (("58", "gained"), ("54", "unintended")):
        two = one.changed(
            places={"dash": "two-poles", "lamp": "lamp"},
            wires=["feed = feed:live > dash:30", "earth = lamp:31 > earth", f"w = dash:{mark} > lamp:58"],
        )
        found = outcomes(prove(one, two, swaps=swaps), "lamp/side lamp")
        assert {outcome for outcome, _, _ in found} - {"kept"} == {said}


def test_end_that_moves_to_a_terminal_that_wants_just_what_it_brings_is_clean() -> None:
    """The wire sat on an output, but it was always live: that is what a clock asks for, and no stop lamp."""
    before = ["w = feed:live > two:58"]
    for place, mark, load, said in (
        ("clock", "30", "time", "gained"),
        ("radio", "15", "music", "unintended"),
    ):
        earth = f"e = {place}:31 > earth"
        after = [f"w = feed:live > {place}:{mark}", earth]
        fitted = {"two": "switch", place: place}
        assert verdicts([*before, earth], after, f"{place}/{load}", **fitted) == {said}


def test_end_on_a_terminal_without_a_role_keeps_the_direction_it_had() -> None:
    """What fed the old 58 must not be let out at the old 30, though each wire's other end looks right."""
    plain = make_parts(
        """
        old:
          terminals: {"30": "30", "58": "58"}
          inside: [{control: {name: light, positions: ["off", "on"]}}]
        unmarked:
          terminals: {x: "", y: ""}
          inside:
            - control: {name: light, positions: ["off", "on"]}
            - contact: {join: [x, y], when: {light: "on"}}
        """
    )
    earth = "e = lamp:31 > earth"
    for first, second, said in (("30", "58", "gained"), ("58", "30", "unintended")):
        wires = [f"f = feed:live > box:{first}", f"out = box:{second} > lamp:58", earth]
        one = Bench({**PARTS, **plain}, {"box": "old", "lamp": "lamp"}, wires, FEEDS, CONDITIONS)
        two = one.changed(
            places={"box": "unmarked", "lamp": "lamp"},
            wires=["f = feed:live > box:x", "out = box:y > lamp:58", earth],
        )
        found = outcomes(prove(one, two, swaps=[{"at": "box", "fit": "unmarked"}]), "lamp/side lamp")
        assert {outcome for outcome, _, _ in found} - {"kept"} == {said}


def test_contact_is_clean_only_from_an_earlier_rank_to_a_later_one() -> None:
    """A feed on 58 and a load on 30 of a switch: equal roles all along, but the contact runs backwards."""
    parts = {"clock": "clock", "dash": "backwards"}
    feeds = {"58": {"role": "58"}}
    one = Bench(PARTS, parts, ["feed = feed:58 > dash:58", "e = clock:31 > earth"], feeds, {})
    two = one.changed(wires=[*one.wires, "new = dash:30 > clock:30"])
    assert {o for o, _, _ in outcomes(prove(one, two), "clock/time")} - {"kept"} == {"unintended"}


def test_path_through_another_load_is_not_clean() -> None:
    """Through a 500 W heater the lamp is nearly as bright, but it was never meant that way."""
    before = ["a = feed:live > heat:a"]
    assert verdicts(before, [*before, "new = heat:b > lamp:58"], heat="strong") == {"unintended"}


def test_terminal_without_a_role_takes_its_conductors() -> None:
    """``blank`` says nothing, so a wire from it is clean: the lamp counts as what its wire comes from."""
    earth = "e = plain:b > earth"
    assert verdicts(
        [earth], [earth, "new = dash:blank > plain:a"], "plain/side lamp", plain="blank-lamp"
    ) == {"gained"}


def test_reversed_contact_is_unintended_though_its_wires_are_untouched() -> None:
    """A stop switch fed at 54 by another way: the radio on its 15 side plays through it."""
    places = {"radio": "radio", "pedal": "stop-switch", "relay": "two-poles"}
    wires = ["bus = pedal:15 > radio:15", "e = radio:31 > earth", "stop = pedal:54 > relay:54"]
    one = Bench(PARTS, places, wires, FEEDS, CONDITIONS)
    two = one.changed(wires=[*wires, "new = feed:live > relay:30"])
    found = outcomes(prove(one, two), "radio/music")
    assert found["unintended", "off", "full"] == [{"brake pedal": "pressed", "relay/light": "on"}]


def test_rest_of_a_chain_is_untouched_when_an_end_is_cut_off() -> None:
    """Another end of the chain goes; what stays was there before."""
    places = {"dash": "switch", "lamp": "lamp", "old": "lamp"}
    earth = "earth = lamp:31 > earth"
    one = Bench(PARTS, places, ["w = dash:58 > old:58 > lamp:58", earth], FEEDS, CONDITIONS)
    two = one.changed(wires=["w = dash:58 > lamp:58", earth, "f = feed:live > dash:30"])
    assert {o for o, _, _ in outcomes(prove(one, two), "lamp/side lamp")} - {"kept"} == {"gained"}


HORNS = make_parts(
    """
    insulated:
      terminals: {"+": "15", "-": return}
      inside: [{lamp: {between: ["+", "-"], watts: 60, does: sound}}]
    earthed-by-wire:
      terminals: {"+": "15", "-": "31"}
      inside: [{lamp: {between: ["+", "-"], watts: 60, does: sound}}]
    earthed-by-body:
      terminals: {"+": "15", case: mounting}
      inside: [{lamp: {between: ["+", case], watts: 60, does: sound}}]
    push:
      terminals: {H: return, case: mounting}
      inside:
        - control: {name: push, positions: [released, pressed]}
        - contact: {join: [H, case], when: {push: pressed}}
    """
)


def horn_outcomes(before: list[str], after: list[str], old: str) -> set[str]:
    """The outcomes other than kept of fitting a horn that is earthed by its body."""
    one = Bench(HORNS, {"horn": old, "push": "push"}, before, FEEDS, CONDITIONS)
    two = one.changed(places={"horn": "earthed-by-body", "push": "push"}, wires=after)
    proof = prove(one, two, swaps=[{"at": "horn", "fit": "earthed-by-body"}])
    return {outcome for outcome, _, _ in outcomes(proof, "horn/sound")} - {"kept"}


def test_mounting_that_bypasses_what_switched_the_load_is_not_clean() -> None:
    """It would sound whenever the ignition is on, with no current at rest that could tell."""
    feed = "f = feed:ign > horn:+"
    assert horn_outcomes([feed, "r = horn:- > push:H"], [feed, "r = loose > push:H"], "insulated") == {
        "unintended"
    }


def test_mounting_in_place_of_an_earth_wire_is_clean() -> None:
    """The feed is joined again at the same time: what it then does is what it was meant to do."""
    feed = "f = feed:ign > horn:+"
    assert horn_outcomes(["f = loose > horn:+", "r = horn:- > earth"], [feed], "earthed-by-wire") == {
        "gained"
    }


def test_contact_between_equal_ranks_is_clean_both_ways() -> None:
    """A cut-off switch has the same role on both sides."""
    parts = make_parts(
        """
        cut-off:
          terminals: {in: "30", out: "30"}
          inside:
            - control: {name: key, positions: ["off", "on"]}
            - contact: {join: [in, out], when: {key: "on"}}
        clock:
          terminals: {"30": "30", "31": "31"}
          inside: [{lamp: {between: ["30", "31"], watts: 5, does: time}}]
        """
    )
    for near, far in (("in", "out"), ("out", "in")):
        wires = [f"f = feed:live > cut:{near}", "e = clock:31 > earth"]
        one = Bench(parts, {"cut": "cut-off", "clock": "clock"}, wires, FEEDS, CONDITIONS)
        two = one.changed(wires=[*wires, f"new = cut:{far} > clock:30"])
        assert {o for o, _, _ in outcomes(prove(one, two), "clock/time")} - {"kept"} == {"gained"}


def test_what_nothing_shunts_any_more_is_unintended_though_its_way_is_untouched() -> None:
    """A kill button earths a magneto; tied back, the wire stops nothing, and the engine goes on."""
    engine = {"engine": ["stopped", "running"]}
    one = Bench(PARTS, {"mag": "magneto", "bars": "kill-button"}, ["w = mag:2 > bars:K"], conditions=engine)
    places = {"mag": "magneto", "bars": "kill-switch-closed-in-run"}
    two = Bench(PARTS, places, ["w = mag:2 > loose"], conditions=engine)
    proof = prove(one, two, swaps=[{"at": "bars", "fit": "kill-switch-closed-in-run"}])
    assert {outcome for outcome, _, _ in outcomes(proof, "mag/ignition spark")} - {"kept"} == {"unintended"}


def test_charge_lamp_on_the_armature_is_clean_though_the_roles_are_not_equal() -> None:
    fitted = {"dash": "switch", "lamp": "charge-lamp", "dyn": "dynamo"}
    one, two = (
        Bench(PARTS, fitted, ["feed:ign > lamp:15", *more], FEEDS, CONDITIONS)
        for more in ([], ["new = dyn:D > lamp:61"])
    )
    proof = prove(one, two, swaps=[{"at": "lamp", "fit": "charge-lamp"}])
    assert {outcome for outcome, _, _ in outcomes(proof, "lamp/charge lamp")} - {"kept"} == {"gained"}
