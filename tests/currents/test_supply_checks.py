"""Parts that get the volts of another system, run backwards, or are made for the other pole earthed."""

from collections.abc import Mapping
from functools import lru_cache

import pytest

from planner.currents.currents import Currents
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.job import Job
from planner.model.loom import Loom, Supply
from planner.model.strain import DANGEROUS, Strain
from planner.pipeline import open_catalogue
from planner.proof.prove import Prover
from planner.reading.catalogue import read_loom

KINDS = ("over-voltage", "overheats", "under-voltage", "reversed", "polarity", "coil")


@lru_cache
def shipped() -> Catalogue:
    """The shipped catalogue, read once."""
    return open_catalogue()


def loom_at(name: str, volts: float, earthed: str, parts: Mapping[str, str]) -> Loom:
    """A shipped loom at another supply, with some parts changed and no wire moved."""
    loom = read_loom(name, shipped())
    places = {
        place: fitted.model_copy(update={"part": parts.get(place, fitted.part)})
        for place, fitted in loom.places.items()
    }
    supply = Supply.model_validate({"volts": volts, "earthed": earthed})
    return copy_loom(loom, supply=supply, places=places)


@lru_cache
def found(name: str, volts: float, earthed: str, *parts: tuple[str, str]) -> dict[tuple[str, str], Strain]:
    """What is over its limit, by kind and place."""
    loom = loom_at(name, volts, earthed, dict(parts))
    currents = Currents(Prover(loom, shipped(), Job(job="none", loom=name)))
    return {(s.kind, s.at): s for s in currents.before if s.is_over and s.kind in KINDS}


TRACTOR = ("brackmoor-20", 12.0, "positive", ("bonnet.battery", "battery-12v-positive-earth"))
HAULER = ("brackmoor-60", 12.0, "negative", ("box.battery", "battery-12v-negative-earth"))
# The battery is turned, but on the same posts: what is live by its marks stays live.
CAR = ("ternholm-nine", 12.0, "negative")


@pytest.mark.parametrize(
    ("name", "volts", "earthed"),
    [
        ("brackmoor-20", 6.0, "positive"),
        ("ternholm-nine", 12.0, "positive"),
        ("brackmoor-60", 24.0, "negative"),
    ],
)
def test_nothing_is_wrong_at_the_supply_they_are_made_for(name: str, volts: float, earthed: str) -> None:
    assert found(name, volts, earthed) == {}


@pytest.mark.parametrize(
    ("kind", "at"),
    [
        *(("over-voltage", at) for at in ("nose.left", "nose.right", "rear.lamp", "rear.plough")),
        ("over-voltage", "nose.horn"),  # on for a moment only
        ("overheats", "cab.wiper"),
        ("overheats", "dash.relay"),
    ],
)
def test_what_is_made_for_6_volts_gets_too_much_on_12(kind: str, at: str) -> None:
    strain = found(*TRACTOR)[kind, at]
    assert strain.limit == 7.5 and 11.5 < strain.value < 14.5


def test_a_motor_or_coil_that_burns_is_dangerous_and_a_lamp_that_burns_out_is_not() -> None:
    assert "overheats" in DANGEROUS and "over-voltage" not in DANGEROUS


def test_what_a_lamp_takes_before_it_burns_out_is_held_against_no_earth_and_no_fuse() -> None:
    loom = loom_at(TRACTOR[0], TRACTOR[1], TRACTOR[2], dict(TRACTOR[3:]))
    told = Currents(Prover(loom, shipped(), Job(job="none", loom=loom.loom))).before
    lamps = {("nose.left", "headlamp"), ("nose.right", "headlamp")}
    kinds = {strain.kind for strain in told if lamps & set(strain.loads)}
    assert "over-voltage" in kinds and not kinds & {"earth", "drop", "fuse", "contact", "tab"}
    sound = Currents(
        Prover(read_loom(TRACTOR[0], shipped()), shipped(), Job(job="none", loom=TRACTOR[0]))
    ).before
    assert {"earth", "drop", "fuse"} <= {strain.kind for strain in sound if lamps & set(strain.loads)}


def test_switches_fuses_and_senders_are_not_called_over_their_volts() -> None:
    places = {at for kind, at in found(*TRACTOR) if kind in ("over-voltage", "overheats")}
    assert places.isdisjoint({"dash.lighting", "dash.key", "dash.push", "dash.fuses", "bonnet.sender"})


def test_a_motors_limit_is_not_said_to_be_a_lamps() -> None:
    assert "light" not in found(*TRACTOR)["overheats", "cab.wiper"].source
    assert "lamp" in found(*TRACTOR)["over-voltage", "nose.left"].source


@pytest.mark.parametrize("at", ["nose.left", "nose.right", "rear.lamp"])
def test_what_is_made_for_24_volts_gets_too_little_on_12(at: str) -> None:
    strain = found(*HAULER)["under-voltage", at]
    assert strain.is_least and strain.limit == 18 and 11 < strain.value < 13
    assert strain.duty in ("head", "tail")


def test_a_relay_for_24_volts_does_not_pull_in_on_12() -> None:
    assert found(*HAULER)["coil", "dash.relay"].limit == 15


def test_a_flat_battery_or_a_long_wire_is_no_under_voltage() -> None:
    """Only parts of another system are meant: what a circuit loses is held against limits of its own."""
    assert not [s for s in found("brackmoor-60", 24.0, "negative").values() if s.kind == "under-voltage"]


@pytest.mark.parametrize(
    ("at", "what"),
    [("dash.ammeter", "ammeter"), ("bay.coil", "ignition spark"), ("bay.fan", "blow warm air")],
)
def test_what_has_a_direction_is_found_reversed(at: str, what: str) -> None:
    strain = found(*CAR)["reversed", at]
    assert strain.note == what and strain.value > 0 and strain.limit == 0
    assert at in " ".join(strain.path)


def test_a_wound_motor_is_not_reversed_and_only_the_radio_is_for_the_other_pole() -> None:
    backwards = {at for kind, at in found(*CAR) if kind == "reversed"}
    assert backwards == {"dash.ammeter", "bay.coil", "bay.fan"}
    assert {at for kind, at in found(*CAR) if kind == "polarity"} == {"dash.radio"}


def test_a_radio_for_negative_earth_is_as_wrong_on_positive_earth() -> None:
    parts = (("dash.radio", "car-radio-negative-earth"),)
    loom = loom_at("ternholm-nine", 12.0, "positive", dict(parts))
    loose = copy_loom(loom, wires=tuple(w for w in loom.wires if w.wire != "C12"))
    currents = Currents(Prover(loose, shipped(), Job(job="none", loom="ternholm-nine")))
    (strain,) = [s for s in currents.before if s.kind == "polarity"]
    assert strain.at == "dash.radio" and "negative earth" in strain.note and strain.is_over
