"""Mistakes that a person makes, told as a restorer tells them, each found in at most five readings.

Of each kind one, on vehicles and jobs that differ; what is said is what one sees, in words that one uses.
"""

from pathlib import Path

import pytest
from slips import Slip, conversation, edited, known

MOST_READINGS = 5
SLIPS = {
    "two wires were traded at the hazard switch": Slip(
        "hazard-switch-all-poles",
        ("indicators stay on with turn left", "right front indicator on when turning right"),
        "the orange/turquoise wire (N4) and the turquoise/yellow wire (N5) are traded on the hazard switch",
        ends={"N4.0": "dash.hazard-switch:49a", "N5.0": "dash.hazard-switch:49"},
    ),
    "the heater's feed was put on the wrong fuse": Slip(
        "fuse-box-without-tap",
        ("heater fan won't run", "heater fan runs with lighting head, heater on"),
        "the pink/black wire (W41) is on 5 instead of 4 on the fuse box",
        ends={"W41.0": "dash.fuse-box:5"},
        piggybacks=("dash.fuse-box:5",),
    ),
    "87 and 87a were traded": Slip(
        "changeover-relay-layout",
        ("driving lamps on with auxiliary lamps on", "fog lamps dead with auxiliary lamps on"),
        "the violet/blue wire (A4) and the yellow/grey wire (A5) are traded on the auxiliary lamp relay",
        ends={"A4.0": "front.lamp-relay:87a", "A5.0": "front.lamp-relay:87"},
    ),
    "a joint at the bulkhead is corroded": Slip(
        "whole-van",
        ("heater fan runs slowly",),
        "the pink/green wire (W45) has a poor joint",
        wires={"W45": {"metres": 60, "mm2": 0.5}},  # some 2 ohm
    ),
    "the flash contact of the stalk is welded": Slip(
        "vessing-m14",
        ("main beams on with everything at rest",),
        "the contact 30-56a of the dip switch (made with flash pulled) stays closed",
        joined=("column.dip-switch:30", "column.dip-switch:56a"),
    ),
    "stop and tail lamp wires are chafed at the rear": Slip(
        "vessing-m14",
        ("brake lights on with lighting side", "tail lamps light when I brake"),
        "the black/red wire (M42) and the grey/violet wire (M46) are chafed and touch",
        joined=("left.tail:54", "left.tail:58"),
    ),
    "washer and wiper wires are chafed at the bulkhead": Slip(
        "skarrow-8",
        ("fuse 3 blows when I press the washer button with ignition on", "washer does nothing when pressed"),
        "and the yellow/blue wire (W38) are chafed and touch",
        joined=("joint:bulkhead-washer", "scuttle.wiper-motor:M"),
    ),
    "the trigger wire of the fan's relay was forgotten": Slip(
        "electric-fan",
        ("radiator fan doesn't run",),
        "the orange/yellow wire (N3) was forgotten",
        left_out="N3",
    ),
    "stop and turn were traded between two lamps": Slip(
        "vessing-m14",
        ("left rear indicator dead with hazard on", "left stop lamp flashes with hazard on"),
        "the black/white wire (M38) and the black/red wire (M42) are traded",
        ends={"M38.3": "left.tail:54", "M42.1": "left.rear:turn"},
    ),
    "the park wire came off": Slip(
        "two-speed-wipers",
        ("wipers don't park",),
        "the yellow/black wire (W37) is off 31b on the wiper motor",
        ends={"W37.1": "loose"},
    ),
    "the wires of two relays' coils were traded": Slip(
        "headlamp-relays",
        ("main beams on with lighting head", "dipped beams dead with lighting head"),
        "the white/violet wire (E3) and the white/blue wire (E4) are traded",
        ends={"E3.1": "bay.dip-relay:86", "E4.1": "bay.main-relay:86"},
    ),
    "stop and tail were traded at the joiners of the rear": Slip(
        "whole-van",
        ("left tail lamp dead with side lights on", "left brake light on with side lights on"),
        "traded at their other ends, which no reading tells apart: the joiner rear stop and the joiner rear",
        ends={"W63.0": "joint:rear-left-tail", "W93.0": "joint:rear-stop"},
    ),
}


@pytest.mark.parametrize("name", SLIPS)
def test_it_is_found_as_a_restorer_tells_it(name: str, tmp_path: Path) -> None:
    slip = SLIPS[name]
    report, readings = conversation(edited(slip, tmp_path), known(slip.vehicle), slip.symptoms, tmp_path)
    seen = map(report.words.seen, report.hunt.observations)
    assert slip.found in report.answer, "\n".join((*seen, report.answer))
    assert report.suspects[0].unexplained == ()
    assert readings <= MOST_READINGS
