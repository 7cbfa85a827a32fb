"""What charges the battery is tried with the engine where the work touched it, and nowhere else."""

import pytest
from planned import benched, catalogue

from planner.model.elements import Winding
from planner.model.polarising import polarising_words


@pytest.mark.parametrize(
    ("job", "polarised"),
    [
        ("tractor-to-12-volts", ("dynamo",)),
        ("car-to-negative-earth", ("dynamo",)),
        ("launch-to-negative-earth", ("dynamo",)),
        ("tractor-to-negative-earth", ("dynamo",)),
        ("dynamo-to-alternator", ()),  # made for one pole
        ("minibus-alternator-built-in", ()),
        ("regulator-of-three-units", ()),  # the dynamo is the one that charged before
        ("regulator-of-two-units", ()),
    ],
)
def test_the_charge_is_read_and_a_dynamo_that_needs_it_is_polarised(
    job: str, polarised: tuple[str, ...]
) -> None:
    charging = benched(job).charging
    assert charging is not None and tuple(own.title for own in charging.polarised) == polarised
    back = ("dynamo",) if job == "dynamo-to-alternator" else polarised
    assert tuple(own.title for own in charging.polarised_back) == back
    # All of these have their regulator on top: one terminal, and no field that a hand finds in the picture.
    for how in (own.how for own in charging.polarised):
        assert "ohms from its field terminal (F or DF: this loom does not draw it) to its case" in how
        assert "take the lead off the field terminal" in how and "touch the armature terminal once" in how


def test_where_its_field_ends_says_at_which_terminal_a_dynamo_is_polarised() -> None:
    dynamo = catalogue().parts["dynamo-two-brush"]
    assert polarising_words(dynamo).startswith("take the lead off its field terminal F, touch that terminal")
    inside = tuple(
        element.model_copy(update={"between": ("F", "D")}) if isinstance(element, Winding) else element
        for element in dynamo.inside
    )
    other = polarising_words(dynamo.model_copy(update={"inside": inside}))
    assert other.startswith("leave the leads on, and touch its armature terminal D once")


def test_the_volts_that_are_good_go_with_those_of_the_vehicle() -> None:
    twelve, six = benched("car-to-negative-earth").charging, benched("tractor-to-negative-earth").charging
    assert twelve and (twelve.low_volts, twelve.high_volts, twelve.ammeters) == (13.6, 14.8, ("ammeter",))
    assert six and (six.low_volts, six.high_volts, six.ammeters) == (6.8, 7.4, ())


@pytest.mark.parametrize("job", ["two-speed-wipers", "hauler-to-12-volts", "trailer-led-lamps"])
def test_nothing_is_asked_where_the_work_is_elsewhere_or_nothing_charges(job: str) -> None:
    assert benched(job).charging is None
