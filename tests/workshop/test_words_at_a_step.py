"""What few shipped jobs ask for is said at the step that does it: blades, contacts, places, aim, ammeters."""

import pytest
from planned import benched, catalogue

from planner.model.elements import Lamp
from planner.workshop.words.fitted_words import throws_a_beam

BOX, RADIO, LAMPS, CHARGING, HAZARD, TURNED, IGNITION, SPOT, HORN, PUSH, LARGER, GEARBOX = (
    "fuse-box-without-tap",
    "minibus-standard-radio",
    "brighter-headlamps",
    "dynamo-to-alternator",
    "hazard-flasher-insulated-panel",
    "tractor-to-negative-earth",
    "ignition-switch-without-accessory",
    "lamp-on-a-sound-earth",
    "launch-horn-earthed-by-body",
    "key-switch-and-starter-push",
    "fuse-box-with-larger-fuses",
    "minibus-inhibitor-start-only",
)


@pytest.mark.parametrize(
    ("job", "first_words", "said"),
    [
        (BOX, "Fit the new part", "a blade of its own: 1 has 3, 2 has 3, 3 has 2"),
        (IGNITION, "Put the orange wire (W15)", "wire (W15) and the pink wire (W18), which carry least"),
        (
            BOX,
            "Fit the new part",
            "a wire behind 2 stands a little less for good than its fuse lets",
        ),
        (LARGER, "Fit the new part", "the wire behind each, as far as this loom shows it, stands it"),
        (BOX, "Fit a piggyback", "one push-on comes off its blade for it"),
        (BOX, "Put the violet/white", "7 has one blade: with its piggyback there is room"),
        (RADIO, "Take the red/grey", "press the catch of this contact in with the tool"),
        (RADIO, "Put the red/grey wire (M20)", "on A4; push it into its chamber until it clicks"),
        (LAMPS, "Fit the new part at the left headlamp", "have its aim checked before it goes on"),
        (SPOT, "Fit the new part at the spot lamp", "have its aim checked before it goes on"),
        (LAMPS, "Fit the relay", "that the white/violet wire (E3) reaches as it is; measure"),
        (
            HORN,
            "Put the violet wire (L30)",
            "+ is only its name here, and what goes on it is minus",
        ),
        (CHARGING, "Join the red/brown", "do not start the engine before the ammeter, dash is"),
        (CHARGING, "Join the red/brown", "screw its foot down near by"),
        (PUSH, "Make N1", "orange, 6 mm2"),
        (PUSH, "Make N2", "hangs on fuse 2 on the fuse box, under the dash from now on, with what"),
        (GEARBOX, "Fit the new part", "'start out' with the lever at park or neutral, open at every"),
        (CHARGING, "Join the brown/green", "in a sealed joiner"),
        (CHARGING, "Join the brown/green", "screws held the brown/green wire (C3) and the violet/yellow"),
    ],
)
def test_it_is_said_at_the_first_step_with_these_words(job: str, first_words: str, said: str) -> None:
    text = next(s.text for s in benched(job).plan.steps if s.text.startswith(first_words))
    assert said in text


def test_a_lamp_that_is_only_seen_from_behind_has_no_aim_to_be_checked() -> None:
    fog = catalogue().parts["fog-lamp"]
    lamps = [e.model_copy(update={"does": "rear fog lamp"}) if isinstance(e, Lamp) else e for e in fog.inside]
    rear = fog.model_copy(update={"inside": tuple(lamps)})
    assert throws_a_beam(fog) and not throws_a_beam(rear)


def test_a_contact_that_stays_in_its_housing_is_not_drawn_out_and_an_ammeter_is_told_once() -> None:
    texts = [step.text for step in benched(RADIO).plan.steps]
    assert sum("press the catch" in text for text in texts) == 2  # of M20 and M28, not of M35
    assert "press the catch" not in texts[-1]  # M20 has been out since the first step
    (tool,) = [line for line in benched(RADIO).materials if line.kind == "tool"]
    assert tool.amount == 1 and "press the catch" in texts[tool.steps[0] - 1]
    texts = [step.text for step in benched(CHARGING).plan.steps]
    assert sum("do not start the engine" in text for text in texts) == 1


def test_what_goes_to_a_part_in_a_new_place_is_measured_before_the_first_of_it_is_cut() -> None:
    texts = [step.text for step in benched(HAZARD).plan.steps]
    (first,) = [n for n, text in enumerate(texts) if "lengths are reckoned" in text]
    fitted = next(n for n, text in enumerate(texts) if text.startswith("Fit the new part at the hazard"))
    assert first < fitted
    assert texts[first].startswith("Make N4")
    place = "find a place for the hazard switch, wooden panel first"
    assert (
        f"{place}, and measure every new wire that goes to it along its way before you cut it" in texts[first]
    )


def test_two_leads_on_one_post_share_one_clamp_and_leads_that_keep_their_posts_their_own() -> None:
    texts = [step.text for step in benched(TURNED).plan.steps]
    assert sum("with a clamp for that post on it" in text for text in texts) == 2  # one for each post
    (shared,) = [text for text in texts if "with the other lead, in the clamp of step" in text]
    assert "(T3)" in shared
    hauler = benched("hauler-to-12-volts")
    assert not any("clamp" in line.what for line in hauler.materials)
    assert not any("clamp" in step.text for step in hauler.plan.steps)


@pytest.mark.parametrize("job", ["minibus-alternator-built-in", "fan-in-a-bundle"])
def test_a_wire_that_is_laid_anew_goes_on_its_new_part_once(job: str) -> None:
    steps = benched(job).plan.steps
    (anew,) = [step.fields["wire"] for step in steps if step.do == "renew"]
    assert not any(f"({anew})" in step.text for step in steps if step.do == "fit")


def test_a_wire_that_is_live_without_a_fuse_while_a_switch_is_on_gets_sleeving_a_fused_one_none() -> None:
    def bare(job: str) -> set[str]:
        return {str(s.fields["wire"]) for s in benched(job).plan.steps if "no fuse is before" in s.text}

    assert "N1" in bare("key-switch-and-starter-push")  # from the key switch to the push
    assert bare(LAMPS) == {"N4", "N8"}  # from the battery to each relay's own fuse, none beyond that
    assert bare(HAZARD) == set()  # the fused way back through another relay is none to it


def test_a_bundle_that_is_opened_for_a_wire_is_wrapped_again_and_the_old_wire_may_be_tied_back() -> None:
    sheet = benched("fan-in-a-bundle")
    (anew,) = [step for step in sheet.plan.steps if step.do == "renew"]
    assert "in the bundle 'left wing': open the wrapping" in anew.text
    assert anew.text.endswith("wrap the bundle again")
    (wrapping,) = [line for line in sheet.materials if line.kind == "wrapping"]
    assert (wrapping.amount, wrapping.steps) == (1.4, (anew.n,))
    (back,) = [line.text for line in sheet.undo if line.step == anew.n]
    assert back.endswith("wrap it again")
    assert sheet.tied_back == (
        "both ends of the old wire where the orange wire (F1) was laid anew, if it was not drawn out",
    )


def test_a_wire_whose_way_nobody_knows_gets_a_grommet_for_the_wall_on_it() -> None:
    (grommet,) = [line for line in benched("trailer-socket-converter").materials if line.kind == "grommet"]
    assert (grommet.amount, grommet.steps) == (1, (4,))
