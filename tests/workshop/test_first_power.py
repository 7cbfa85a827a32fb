"""The fuses of a loom with what hangs behind each, and what none of them is known to feed."""

from planned import benched

from planner.model.catalogue import Catalogue
from planner.model.facts import ConductorFact, Facts
from planner.model.loom import Loom
from planner.model.part import Part
from planner.workshop.power.first_power import fuse_tests

BOX = Part.model_validate(
    {
        "part": "box",
        "title": "Fuse box",
        "family": "fuse-box",
        "source": "invented",
        "terminals": {m: {} for m in ("30", "1", "2")},
        "inside": [
            {"fuse": {"between": ["30", "1"], "amps": 16, "marked": "blowing"}},
            {"fuse": {"between": ["30", "2"], "amps": 8}},
        ],
    }
)
LOOM = Loom.model_validate(
    {
        "loom": "tiny",
        "supply": {"volts": 12, "earthed": "negative"},
        "zones": {"dash": {}},
        "places": {"box": {"part": "box", "zone": "dash", "title": "fuse box"},
                   "lamp": {"part": "box", "zone": "dash", "title": "map lamp"}},
        "feeds": {"feed:a": {"role": "30", "fuse_amps": 8}, "feed:b": {"role": "30"}},
        "fuses": {"box:2": 5},
        "wires": [{"wire": "W1", "colour": "RD", "mm2": 1, "metres": 1, "known": "seen",
                   "ends": [{"at": "lamp:1"}, {"at": "feed:b"}]}],
    }
)  # fmt: skip


def test_each_fuse_has_its_loads_and_the_rest_stands_last() -> None:
    facts = Facts(
        {
            "box:1": ConductorFact("always-live", loads=(("lamp", "map light"),)),
            "lamp:1": ConductorFact("always-live", loads=(("lamp", "bare"),)),
            "lamp:2": ConductorFact("load", loads=(("lamp", "wireless"),)),
            "lamp:30": ConductorFact("earth", loads=(("lamp", "wireless"), ("lamp", "inner"))),
        },
        {"box:1": (("lamp", "map light"), ("lamp", "glow")), "feed:a": (("lamp", "hum"),)},
    )
    catalogue = Catalogue({}, {}, {"box": BOX}, {}, {}, {})
    places = {"box": LOOM.places["box"]}
    loom = LOOM.model_copy(update={"places": {**places, "lamp": LOOM.places["lamp"]}})
    tests = fuse_tests(loom, catalogue, facts)
    shown = [test for test in tests if not test.at.startswith("lamp")]
    assert [(test.at, test.amps, tuple(load.text for load in test.loads)) for test in shown] == [
        ("box:1", 16, ("map light (map lamp)", "glow (map lamp)")),
        ("box:2", 5, ()),  # what somebody put in, not what the part came with
        ("feed:a", 8, ("hum (map lamp)",)),
        # What no terminal with a wire feeds is left out, but not what its part feeds from within.
        ("", 0, ("bare (map lamp)", "inner (map lamp)")),
    ]


def test_what_burns_the_wrong_way_round_has_its_feed_read_before_it_is_on_it() -> None:
    bench = benched("car-to-negative-earth-new-radio")
    (vehicle,) = bench.polarity
    assert vehicle.startswith(
        "No fuse in yet: volts, red tip on B on the fuse block, black tip on bare metal"
    )
    assert "A minus, or the lamp in series lit: the battery's leads are changed over" in vehicle
    assert "Nothing, and the lamp dark: the way from the battery is open" in vehicle
    reads = {test.text: test.read_first for test in bench.fuses if test.read_first}
    (read,) = reads.pop("2 on the fuse block")
    assert reads == {} and "take the violet wire (C12) off 75 on the radio" in read
    assert "red tip on its end, black tip on 'case' on the radio" in read
    assert "in the plug" not in read  # a case is in none
    reads = [read for test in benched("minibus-standard-radio").fuses for read in test.read_first]
    assert len(reads) == 2 and all("(or pull its plug, and read both in the plug)" in read for read in reads)


def test_what_a_new_stabiliser_lets_through_is_read_before_a_gauge_is_on_it() -> None:
    reads = {test.text: test.read_first for test in benched("gauge-stabiliser-lost").fuses if test.read_first}
    (read,) = reads.pop("2 on the fuse box, under the dash")
    assert reads == {} and "bears no more than 10 V, and the lamp in series does not guard it" in read
    assert "take the orange/green wire (N1) off I on the gauge stabiliser" in read
    assert "The battery's volts that stay, or nothing: it is the wrong way round" in read


def test_where_nothing_is_turned_round_and_nothing_minds_no_polarity_is_read() -> None:
    bench = benched("horn-and-push")
    assert bench.polarity == () and all(test.read_first == () for test in bench.fuses)


def test_a_part_whose_feed_stays_off_has_nothing_read_at_it() -> None:
    bench = benched("car-to-negative-earth")
    assert bench.left_off and all(test.read_first == () for test in bench.fuses)


def test_of_lamps_that_stand_no_crossed_leads_it_is_read_with_the_battery_off_which_lead_is_earthed() -> None:
    bench = benched("launch-led-navigation-lamps")
    assert [read.partition(" is harmed")[0].rpartition("the ")[2] for read in bench.leads] == [
        "port lamp",
        "starboard lamp",
        "stern lamp",
    ]
    read = bench.leads[0]
    assert "ohms, one tip on 'plus' on the port lamp (in its joiner), the other on bare metal" in read
    assert "then one tip on 'minus' on the port lamp" in read
    assert "before any fuse goes in" in read
    assert benched("minibus-bulb-check-out").leads == ()  # these only stay dark the wrong way round
