"""Missing earths of the literature as hunts: their published symptoms lead to the earth that is lost.

A headlamp's lost earth: a hobby club's article, symptoms confirmed, volts computed for constant resistances.
A rear cluster's lost earth: a classic fault of the trade, from memory, computed likewise. Filaments here take
more at low volts than constant resistances, so volts are held against the published ones loosely.
"""

from dataclasses import replace

import numpy as np
import pytest
from small_looms import Bench, make_parts
from testing_ground import catalogue

from planner.model.observations import LOOKS, Observation
from planner.testing.hunt.agreeing import load_key, look_chances
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.wired import Wired

PARTS = make_parts(
    """
    battery: {terminals: {plus: "30", minus: "31"}, inside: [{source: {between: [plus, minus], volts: 12}}]}
    switch:
      terminals: {feed: "30", low: 56b, high: 56a}
      inside:
        - control: {name: beam, positions: ["off", low, high]}
        - contact: {join: [feed, low], when: {beam: low}}
        - contact: {join: [feed, high], when: {beam: high}}
    headlamp:
      terminals: {low: 56b, high: 56a, earth: "31"}
      inside:
        - lamp: {between: [low, earth], watts: 55, does: dipped beam, duty: head}
        - lamp: {between: [high, earth], watts: 60, does: main beam, duty: head}
    rear-switch:
      terminals: {feed: "30", turn: L, stop: "54", tail: "58"}
      inside:
        - control: {name: lever, positions: ["off", left, stop, tail]}
        - contact: {join: [feed, turn], when: {lever: left}}
        - contact: {join: [feed, stop], when: {lever: stop}}
        - contact: {join: [feed, tail], when: {lever: tail}}
    cluster:
      terminals: {turn: L, stop: "54", tail: "58", earth: "31"}
      inside:
        - lamp: {between: [turn, earth], watts: 21, does: turn lamp, duty: signal}
        - lamp: {between: [stop, earth], watts: 21, does: stop lamp, duty: stop}
        - lamp: {between: [tail, earth], watts: 5, does: tail lamp, duty: tail}
    """
)
HEAD = Bench(
    PARTS,
    {"battery": "battery!insulated", "switch": "switch!insulated", "left": "headlamp!insulated",
     "right": "headlamp!insulated"},
    ["battery:minus > earth:z", "battery:plus > switch:feed", "switch:low > left:low > right:low",
     "switch:high > left:high > right:high", "GL = left:earth > earth:z", "GR = right:earth > earth:z"],
)  # fmt: skip
REAR = Bench(
    PARTS,
    {"battery": "battery!insulated", "lever": "rear-switch!insulated", "left": "cluster!insulated",
     "right": "cluster!insulated"},
    ["battery:minus > earth:z", "battery:plus > lever:feed", "lever:turn > left:turn",
     "lever:stop > left:stop > right:stop", "lever:tail > left:tail > right:tail",
     "GL = left:earth > earth:z", "GR = right:earth > earth:z"],
)  # fmt: skip
LOW, HIGH, LEFT = ((("switch/beam", "low"),), (("switch/beam", "high"),), (("lever/lever", "left"),))


def known_of(bench: Bench) -> Known:
    tables = replace(bench.catalogue, load_standards=lambda: catalogue().standards)
    return Known(Vehicle(Wired("small", bench.loom), tables))


def lost_earth(known: Known) -> int:
    return next(n for n, w in enumerate(known.vehicle.worlds) if "GL/0-open" in ids_of(known, w.mistakes))


def ids_of(known: Known, mistakes: tuple[int, ...]) -> list[str]:
    return [known.vehicle.mistakes[number].id for number in mistakes]


def test_a_lost_headlamp_earth_has_its_published_volts() -> None:
    known = known_of(HEAD)
    own = np.array([lost_earth(known)])
    outlook = known.outlook
    assert outlook.volts(LOW, "left:earth", "", own)[0] == pytest.approx(7.765, abs=1.5)
    assert outlook.volts(LOW, "left:high", "", own)[0] == pytest.approx(3.882, abs=1.0)
    assert outlook.volts(HIGH, "left:earth", "", own)[0] == pytest.approx(8.229, abs=1.5)


@pytest.mark.parametrize(
    ("bench", "lamps", "setting"),
    [
        (HEAD, ("left/dipped beam", "right/dipped beam", "left/main beam", "right/main beam"), LOW),
        (REAR, ("left/turn lamp", "left/stop lamp", "right/stop lamp", "right/tail lamp"), LEFT),
    ],
    ids=["headlamp", "rear cluster"],
)
def test_what_lights_that_should_not_leads_to_the_lost_earth(
    bench: Bench, lamps: tuple[str, ...], setting: tuple[tuple[str, str], ...]
) -> None:
    known = known_of(bench)
    world = lost_earth(known)
    hunt = Hunt(known)
    for lamp in lamps:
        chances = look_chances(known.outlook, setting, load_key(lamp), np.array([0, world]))
        sound, now = (LOOKS[int(n)] for n in chances.argmax(axis=1))
        if lamp == "right/dipped beam":
            assert (sound, now) == ("full", "full")  # as published: normal on the other side
        else:
            assert sound != now  # dim where it should be full, a glow where it should be dark
        hunt.add(Observation("looks", lamp, now, setting))
    first = hunt.suspects[0]
    names = {
        name for s in hunt.suspects for name in ids_of(known, s.mistakes) if s.chance > first.chance / 20
    }
    assert names and all(name.startswith("GL") for name in names)
    assert sum(s.chance for s in hunt.suspects if "GL" in str(ids_of(known, s.mistakes))) > 0.9
