"""What a restorer says at the bench, read as it is meant; what cannot be read is told with what could be."""

from functools import lru_cache

import pytest
from testing_ground import ground

from planner.reading.seen_lines import read_lines
from planner.reading.seen_phrases import in_plain_words
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood
from planner.testing.hunt.known import Known
from planner.testing.hunt.meant import loads_meant, settings_meant
from planner.testing.hunt.vehicle import Vehicle


@lru_cache
def known(name: str) -> Known:
    vehicle = ground(name)
    return Known(Vehicle(vehicle.wired, vehicle.catalogue))


@lru_cache
def words(name: str) -> SeenWords:
    vehicle = known(name).vehicle
    return SeenWords(vehicle.wired.loom, vehicle.catalogue, known(name).ways)


def meant(name: str, line: str) -> list[str]:
    """Each load, how it looks, and what is set, as it is taken."""
    found = []
    for seen in read_lines(line, words(name)):
        for each in loads_meant(known(name), seen):
            (setting,) = settings_meant(known(name), each)
            told = sorted(f"{variable.rpartition('/')[2]} {label}" for variable, label in setting)
            says = each.says if isinstance(each.says, str) else f"{each.says:.0f} %"
            found.append(f"{each.kind} {each.at}: {says}; {', '.join(told)}")
    return found


IGNITION, SIDES = "ignition on", ("left", "right")
HORN = "looks bay.horn/sound the horn"
WIPER = "looks scuttle.wiper-motor/wipe slowly"


@pytest.mark.parametrize(
    ("line", "taken"),
    [
        ("horn does nothing when pressed", [f"{HORN}: off; horn button pressed"]),
        ("horn silent while pressing the horn push", [f"{HORN}: off; horn button pressed"]),
        ("the horn won't sound when I push it", [f"{HORN}: off; horn button pressed"]),
        ("horn sounds all the time", [f"{HORN}: full; "]),
        ("horn honks by itself", [f"{HORN}: full; "]),
        ("main beam sounds the horn", [f"{HORN}: full; beam main, lighting head"]),
        ("wipers don't park", [f"{WIPER}: off; blades sweeping, {IGNITION}"]),
        ("wipers keep running when switched off", [f"{WIPER}: full; {IGNITION}"]),
        ("wiper runs with ignition off", [f"{WIPER}: full; "]),
        ("washer does nothing when I push the button",
         [f"looks bay.washer-pump/wash the windscreen: off; {IGNITION}, washer pressed"]),
        ("heater fan won't run", [f"looks bay.heater-fan/blow warm air: off; heater on, {IGNITION}"]),
        ("starter does not turn", ["looks bay.starter/crank the engine: off; ignition start"]),
        ("fuse 3 blows when I brake", ["fuse dash.fuse-box:3: yes; brake pedal pressed"]),
        ("fuse 5 blows when I switch the side lights on", ["fuse dash.fuse-box:5: yes; lighting side"]),
        ("fuse 1 blows as soon as the horn is pressed", ["fuse dash.fuse-box:1: yes; horn button pressed"]),
        ("brake lights stay on", [f"looks {side}.tail/stop lamp: full; {IGNITION}" for side in SIDES]),
        ("no brake lights",
         [f"looks {side}.tail/stop lamp: off; brake pedal pressed, {IGNITION}" for side in SIDES]),
        ("tail lights glow when I brake",
         [f"looks {side}.tail/tail lamp: glows; brake pedal pressed" for side in SIDES]),
        ("stop lamps light when I turn left",
         [f"looks {side}.tail/stop lamp: full; {IGNITION}, turn left" for side in SIDES]),
        ("both headlamps dead on low beam",
         [f"looks {side}.headlamp/dipped beam: off; lighting head" for side in SIDES]),
        ("left headlight won't light on main beam",
         ["looks left.headlamp/main beam: off; beam main, lighting head"]),
        ("high beam does not come on",
         [f"looks {side}.headlamp/main beam: off; beam main, lighting head" for side in SIDES]),
        ("indicators flash slowly on the left side",
         [f"looks left.{end}/turn lamp: flashes slowly; {IGNITION}, turn left" for end in ("front", "rear")]),
        ("both indicators flash when turning left",
         [f"looks {lamp}/turn lamp: flashes; {IGNITION}, turn left"
          for lamp in ("left.front", "right.front", "left.rear", "right.rear")]),
        ("right rear indicator dead", [f"looks right.rear/turn lamp: off; {IGNITION}, turn right"]),
        ("nothing works with ignition on",
         [f"looks dash.instruments/{what}: off; {IGNITION}"
          for what in ("fuel gauge", "charge warning lamp", "oil warning lamp")]),
        ("fuel gauge reads empty", [f"looks dash.instruments/fuel gauge: 0 %; {IGNITION}"]),
        ("fuel gauge does not move", [f"looks dash.instruments/fuel gauge: off; {IGNITION}"]),
        ("oil light stays on with engine running",
         ["looks dash.instruments/oil warning lamp: full; engine running"]),
        ("charge light is on with ignition off", ["looks dash.instruments/charge warning lamp: full; "]),
    ],
)  # fmt: skip
def test_it_is_taken_as_it_is_meant(line: str, taken: list[str]) -> None:
    assert meant("skarrow-8", line) == taken


@pytest.mark.parametrize(
    ("vehicle", "line", "taken"),
    [
        ("merrowby-26", "temp gauge reads hot",
         "looks helm.water-gauge/temperature gauge: 87 %; ignition on"),
        ("merrowby-26", "fuel gauge reads low", "looks helm.fuel-gauge/fuel gauge: dim; ignition on"),
        ("merrowby-26", "bilge pump does not run when the bilge is wet",
         "looks stern.pump/pump the bilge: off; bilge wet"),
        ("vessing-m14", "heater fan slow speed dead",
         "looks bay.heater-fan/blow warm air: off; heater slow, ignition on"),
        ("brackmoor-20", "temperature gauge reads too high with key on",
         "looks dash.gauge/temperature gauge: over; key on"),
        ("ternholm-nine", "wiper runs when I switch the fan on",
         "looks bay.wiper/wipe slowly: full; key on, switch on"),
    ],
)  # fmt: skip
def test_it_is_on_other_vehicles_too(vehicle: str, line: str, taken: str) -> None:
    assert meant(vehicle, line) == [taken]


def test_hazards_are_the_turn_lamps_with_the_hazard_switch_on() -> None:
    found = meant("vessing-m14", "hazards don't work")
    assert found == [
        f"looks {lamp}/turn lamp: off; hazard on"
        for lamp in ("left.front", "right.front", "left.rear", "right.rear")
    ]


@pytest.mark.parametrize(
    ("vehicle", "line", "message", "hint"),
    [
        ("skarrow-8", "left indicator flashes fast", "may mean 2 things", "or turn lamps for all of them"),
        ("skarrow-8", "headlights dim when I indicate left", "may mean 4 things",
         "main beams or dipped beams"),
        ("skarrow-8", "hazards don't work", "no control or condition called 'hazard'", "ignition"),
        ("merrowby-26", "temperature gauge reads fuel level", "'reads fuel level' says not where the needle",
         "reads too low, reads too high, reads as it should, reads 40 %, reads cold, reads warm, reads hot"),
        ("skarrow-8", "horn wobbles when pressed", "'wobbles' says not how", "off, glows, dim, full"),
        ("vessing-m14", "courtesy light does not come on when the door is open", "'door' may mean 2 things",
         "left.door-switch/door or right.door-switch/door"),
    ],
)  # fmt: skip
def test_what_cannot_be_told_is_refused_with_what_would_be_taken(
    vehicle: str, line: str, message: str, hint: str
) -> None:
    with pytest.raises(NotUnderstood) as error:
        read_lines(line, words(vehicle))
    assert message in error.value.message
    assert hint in error.value.hint


@pytest.mark.parametrize("line", ["left side lamp off with lighting switch head", "wire W36 warm"])
def test_what_is_read_as_it_stands_is_left_as_it_stands(line: str) -> None:
    assert in_plain_words(line) == line.casefold()
