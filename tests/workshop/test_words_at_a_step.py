"""What few shipped jobs ask for is said at the step that does it: blades, contacts, places, aim, ammeters."""

import pytest
from planned import benched

BOX, RADIO, LAMPS, CHARGING = (
    "fuse-box-without-tap",
    "minibus-standard-radio",
    "brighter-headlamps",
    "dynamo-to-alternator",
)


@pytest.mark.parametrize(
    ("job", "first_words", "said"),
    [
        (BOX, "Fit the new part", "a blade of its own: 1 has 3, 2 has 3, 3 has 2"),
        (BOX, "Fit a piggyback", "one push-on comes off its blade for it"),
        (BOX, "Put the violet/white", "7 has one blade: with its piggyback there is room"),
        (RADIO, "Take the red/grey", "press the catch of this contact in with the tool"),
        (RADIO, "Put the red/grey wire (M20)", "on A4; push it into its chamber until it clicks"),
        (LAMPS, "Fit the new part at the left headlamp", "have its aim checked before it goes on"),
        (LAMPS, "Fit the relay", "that the white/violet wire (E3) reaches as it is; measure"),
        (CHARGING, "Join the red/brown", "do not start the engine before the ammeter, dash is"),
        (CHARGING, "Join the red/brown", "screw its foot down near by"),
        (CHARGING, "Join the brown/green", "in a sealed joiner"),
    ],
)
def test_it_is_said_at_the_first_step_with_these_words(job: str, first_words: str, said: str) -> None:
    text = next(s.text for s in benched(job).plan.steps if s.text.startswith(first_words))
    assert said in text


def test_a_contact_that_stays_in_its_housing_is_not_drawn_out_and_an_ammeter_is_told_once() -> None:
    texts = [step.text for step in benched(RADIO).plan.steps]
    assert sum("press the catch" in text for text in texts) == 2  # of M20 and M28, not of M35
    assert "press the catch" not in texts[-1]  # M20 has been out since the first step
    texts = [step.text for step in benched(CHARGING).plan.steps]
    assert sum("do not start the engine" in text for text in texts) == 1
