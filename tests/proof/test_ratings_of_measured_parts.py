"""A part that was made from readings has no ratings of its own: what was copied is never called the same."""

from planner.model.part import MEASURED_SOURCE, Part
from planner.pipeline import open_catalogue
from planner.proof.part_compare import PartComparison, compare_parts

CATALOGUE = open_catalogue()
RELAY, MOTOR, LIGHT = (
    CATALOGUE.parts[name] for name in ("relay-changeover-a", "wiper-motor-two-speed", "lighting-switch-rated")
)


def measured(part: Part, **changes: object) -> Part:
    return part.model_copy(update={"part": f"my-{part.part}"[:60], "source": MEASURED_SOURCE, **changes})


def compared(original: Part, other: Part) -> PartComparison:
    return compare_parts(original, other, CATALOGUE.roles)


def test_figures_that_only_the_match_gave_are_not_called_the_same() -> None:
    for part in (MOTOR, LIGHT):
        found = compared(part, measured(part))
        assert {rating.outcome for rating in found.ratings} == {"unmeasured"}, part.part
        assert all("not measured" in rating.note for rating in found.ratings)
        assert {rating.outcome for rating in compared(part, part).ratings} == {"same"}


def test_the_original_may_be_the_one_that_was_measured() -> None:
    assert {rating.outcome for rating in compared(measured(MOTOR), MOTOR).ratings} == {"unmeasured"}


def test_ohms_are_compared_and_said_to_be_read_or_copied() -> None:
    ratings = {rating.what: rating for rating in compared(RELAY, measured(RELAY)).ratings}
    assert ratings["coil of armature"].outcome == "same"
    assert "copied where no reading showed it" in ratings["coil of armature"].note
    assert ratings["coil of armature, pull-in"].outcome == "unmeasured"


def test_volts_that_nobody_read_rule_nothing_out_and_are_told() -> None:
    found = compared(MOTOR, measured(MOTOR, volts=6.0))
    assert found.verdict == "drop-in"
    assert any("its volts (written as 6 V) were not measured" in reason for reason in found.reasons)
    assert compared(MOTOR, MOTOR.model_copy(update={"volts": 6.0})).verdict == "does not fit"
