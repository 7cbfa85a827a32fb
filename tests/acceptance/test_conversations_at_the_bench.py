"""Mistakes that a person makes, each found in a conversation from symptoms and at most five readings."""

from pathlib import Path

import pytest
from slips import Slip, conversation, edited, known
from testing_ground import catalogue

from planner.reading.seen_line import read_line
from planner.reading.seen_words import SeenWords
from planner.testing.hunt.apart import apart
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.report import Report

MOST_READINGS = 5

SLIPS = {
    "the second speed's wire was forgotten": Slip(
        "two-speed-wipers",
        ("wipe fast off with ignition on, wiper fast", "wipe slowly on with ignition on, wiper slow"),
        "the yellow/red wire (N1) was forgotten",
        left_out="N1",
    ),
    "run and park were traded at the wiper motor": Slip(
        "two-speed-wipers",
        (
            "fuse 3 on the fuse box blown with ignition on, wiper slow",
            "wipe slowly off with ignition on, wiper slow",
            "fuel gauge off with ignition on, wiper slow",
        ),
        "the yellow wire (W36) and the yellow/black wire (W37) are traded",
        ends={"W36.1": "scuttle.wiper-motor:31b", "W37.1": "scuttle.wiper-motor:53"},
    ),
    "the wiper motor's new earth was not put on": Slip(
        "two-speed-wipers",
        ("wipe slowly off with ignition on, wiper slow", "wipe fast off with ignition on, wiper fast"),
        "the black wire (N2) is off earth, engine bay",
        ends={"N2.1": "loose"},
    ),
    "an earth of the tail lamps was left off": Slip(
        "skarrow-8",
        (
            "left stop lamp glows with lighting switch side",
            "right tail lamp dim with lighting switch side",
            "number plate lamp dim with lighting switch side",
        ),
        "the black wire (W97) is off earth, rear frame",
        ends={"W97.2": "loose"},
    ),
    "a joint of the stop lamps is corroded": Slip(
        "skarrow-8",
        (
            "left stop lamp dim with ignition on, brake pedal pressed",
            "right stop lamp dim with ignition on, brake pedal pressed",
        ),
        "the brown wire (W62) has a poor joint",
        wires={"W62": {"metres": 60, "mm2": 0.5}},  # some 2 ohm
    ),
    "the white return was left off in the trailer's junction box": Slip(
        "drosk-500",
        (
            "stop lamp left rear off with brake pedal pressed",
            "tail lamp left rear glows with brake pedal pressed",
        ),
        "the white wire (D13) is off 3 on the junction box",
        ends={"D13.0": "loose"},
    ),
    "turn and side were traded in a front lamp": Slip(
        "vessing-m14",
        (
            "turn lamp left front off with hazard switch on",
            "side lamp left front flashes with hazard switch on",
        ),
        "the black/white wire (M38) and the grey/red wire (M48) are traded",
        ends={"M38.2": "left.front:58", "M48.1": "left.front:turn"},
    ),
    "a diode was put in the wrong way round": Slip(
        "led-indicators",
        (
            "turn indicator lamp off with ignition on, turn left",
            "left front turn lamp flashes with ignition on, turn right",
        ),
        "is connected the wrong way round",
        ends={"S3.0": "dash.turn-indicator.in-line-1:cathode", "N1.0": "dash.turn-indicator.in-line-1:anode"},
    ),
    "two wires of the plough lamp's relay were traded": Slip(
        "brackmoor-20",
        ("plough lamp off with lighting switch plough", "rear lamp on with lighting switch plough"),
        "the green wire (T8) and the blue/red wire (T10) are traded",
        ends={"T8.1": "dash.relay:87", "T10.0": "dash.relay:86"},
    ),
    "the horn's return is pinched and touches the body": Slip(
        "holmgarth-30",
        ("horn on",),
        "the violet/black wire (F18) touches the body",
        ends={"F18.1": "earth:dash"},
    ),
    "fan and wiper were traded at two like switches": Slip(
        "ternholm-nine",
        (
            "wiper does nothing with key on and wiper switch on",
            "heater fan runs with wiper switch on and key on",
        ),
        "the green/yellow wire (C9) and the green/black wire (C11) are traded",
        ends={"C9.0": "dash.wiper-switch:out", "C11.0": "dash.fan-switch:out"},
    ),
    "the interior lamp's leads were crossed": Slip(
        "skarrow-8-doors",
        ("interior lamp stays off with door open",),
        "the red/white wire (D6) and the black wire (D8) are traded",
        ends={"D6.1": "cab.interior-lamp:E", "D8.0": "cab.interior-lamp:B"},
    ),
    "the wires of two gauges' senders were traded": Slip(
        "merrowby-26",
        ("temperature gauge reads too high with key on", "fuel gauge reads too low with key on"),
        "the green/blue wire (L18) and the green wire (L19) are traded: S on the temperature sender and S on",
        ends={"L18.1": "stern.tank-sender:S", "L19.1": "engine.sender:S"},
    ),
    "the new fan's earth slipped off, and nobody says how the controls are": Slip(
        "small-electric-fan",
        ("fan does not run",),
        "the black wire (N2) is off 31 on the radiator fan",
        ends={"N2.0": "loose"},
    ),
}


def test_what_no_reading_tells_apart_is_told_by_taking_the_wire_off(tmp_path: Path) -> None:
    slip = SLIPS["the horn's return is pinched and touches the body"]
    sound, person = known(slip.vehicle), edited(slip, tmp_path)
    hunt = Hunt(sound)
    hunt.add(read_line(slip.symptoms[0], SeenWords(sound.vehicle.wired.loom, catalogue())))
    while (asked := Report(hunt).question) is not None:
        hunt.add(person.answer(asked))
    report = Report(hunt)
    assert report.verdict == "alike"
    assert "take the violet/black wire (F18) off at all its ends, and read ohms from it" in report.answer
    others = [s for s in report.alike if "F18" not in hunt.vehicle.words(s.world)]
    assert "look at each of these places" in apart(hunt.vehicle, others)


@pytest.mark.parametrize("name", SLIPS)
def test_it_is_found_from_what_is_seen_and_at_most_five_readings(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    slip = SLIPS[name]
    report, readings = conversation(edited(slip, tmp_path), known(slip.vehicle), slip.symptoms, tmp_path)
    told = capsys.readouterr()
    seen = map(report.words.seen, report.hunt.observations)
    assert slip.found in report.answer, "\n".join((*seen, report.answer))
    assert report.verdict in ("found", "alike") and report.suspects[0].unexplained == ()
    assert readings <= MOST_READINGS
    assert "is not understood" not in told.err  # whatever the person says, it is taken as it is meant
