"""What a survey keeps of a whole loom, and what stands at its edge for the rest."""

from small_survey import PLACES, SWAP, WIRES, bench, survey

from planner.proof.facts import conductor_facts


def test_the_swapped_part_what_is_wired_to_it_and_what_it_serves_are_kept() -> None:
    assert set(survey().loom.places) == {"fuses", "switch", "front", "relay", "rear", "fan"}


def test_what_a_relay_that_the_swap_works_switches_is_kept_too() -> None:
    """The rear lamp hangs on no wire of the switch, but on the relay that the switch works."""
    assert "rear" in survey().loom.places


def test_what_hangs_on_another_fuse_is_cut_off_and_said() -> None:
    cut = survey().loom
    assert "other" not in cut.places and "joint:beyond-other-F" in cut.ends_at
    assert any("other" in text for text in cut.not_seen)


def test_what_feeds_the_kept_parts_becomes_a_feed_with_what_makes_it_live() -> None:
    cut = survey().loom
    feed = cut.feeds["feed:key-out"]
    assert (feed.role, feed.when, feed.known) == ("15", {"ignition": ("on",)}, "assumed")
    assert [position.label for position in cut.conditions["ignition"]] == ["off", "on"]
    assert cut.feeds["feed:battery-plus"].when == {}


def test_a_fuse_that_is_cut_off_is_told_by_the_feed() -> None:
    cut = survey(swaps=[{"at": "fan", "fit": "fan"}], wants=[]).loom
    assert "fuses" in cut.places
    wires = [wire for wire in WIRES if wire != "F = fuses:a > switch:B"]
    inline = [*wires, "fuses:a > switch:B", "switch:B > front:L"]
    made = survey(bench(wires=inline), swaps=[{"at": "rear", "fit": "lamp"}]).loom
    assert "fuses" not in made.places
    assert made.feeds["feed:front-L"].fuse_amps == 8
    # A feed says what its fuse carries for good: half of a blowing current.
    old = bench(wires=inline, places={**PLACES, "fuses": "old-fuses!insulated"})
    assert survey(old, swaps=[{"at": "rear", "fit": "lamp"}]).loom.feeds["feed:front-L"].fuse_amps == 8


def test_a_feed_behind_an_ammeter_is_a_feed() -> None:
    made = survey(swaps=[{"at": "key", "fit": "key"}]).loom
    assert "battery" not in made.places and "meter" in made.places
    assert made.feeds["feed:battery-plus"].when == {}
    assert made.find("W2").ends[0].at == "feed:battery-plus"


def test_an_or_of_two_controls_becomes_a_condition_of_its_own() -> None:
    wires = [wire for wire in WIRES if wire != "key:out > fuses:in"]
    wires += ["key:out > joint:x", "battery:+ > two:in", "two:out > joint:x", "joint:x > fuses:in"]
    made = survey(bench(wires=wires, places={**PLACES, "two": "key!insulated"})).loom
    (when,) = {name for feed in made.feeds.values() for name in feed.when}
    assert [position.label for position in made.conditions[when]] == ["dead", "live"]


def test_an_earth_at_the_edge_stays_an_earth() -> None:
    assert "earth:z" in survey().loom.ends_at
    assert "battery" not in survey().loom.places


def test_a_source_or_a_change_of_supply_has_to_do_with_everything() -> None:
    whole = bench().loom.places
    assert set(survey(swaps=[{"at": "battery", "fit": "battery"}]).loom.places) == set(whole)
    changed = survey(supply={"volts": 6, "earthed": "negative"})
    assert set(changed.loom.places) == set(whole)


def test_a_part_in_a_new_place_may_be_wired_to_anything() -> None:
    made = survey(swaps=[{"at": "new", "fit": "fan", "zone": "z", "mounting": "metal"}])
    assert set(made.loom.places) == set(PLACES)
    assert [line.key for line in made.asked if line.is_swapped] == [("new", "mounting", 1)]
    assert any(not line.is_swapped and line.place == "fuses" for line in made.asked)


def test_a_wish_keeps_what_it_names_and_goes_by_the_condition_that_is_left() -> None:
    wish = {"what": "blow", "at": "other", "when": {"key/ignition": "on", "lamps": "on"}}
    made = survey(wants=[wish])
    assert "other" in made.loom.places
    assert made.job.wants[0].when == {"ignition": ("on",), "lamps": ("on",)}


def test_nothing_kept_is_believed_before_it_is_seen() -> None:
    made = survey().loom
    assert {wire.known for wire in made.wires} == {"assumed"}
    assert {place.known for place in made.places.values()} == {"assumed"}


def test_stock_of_the_shipped_job_is_not_ones_own() -> None:
    lead = {"colour": "RD", "mm2": 1, "metres": 1, "fittings": ["bullet", "bullet"]}
    assert survey(stock=[lead]).job.stock == ()


def test_each_kept_conductor_is_live_and_earthed_as_often_as_before() -> None:
    made = survey()
    whole = conductor_facts(bench().loom, bench().catalogue)
    cut = conductor_facts(made.loom, bench().catalogue)
    for address in ("fuses:a", "switch:L", "front:L", "relay:87", "rear:L", "relay:30"):
        one, other = whole.at(address), cut.at(address)
        # The whole loom has an ammeter before the key, which no joint crosses.
        assert (one.live == "never" and address != "rear:L") or one.live == other.live, address
        assert one.earthed == other.earthed, address


def test_the_swaps_are_the_jobs_own() -> None:
    assert [swap.at for swap in survey().job.swaps] == [swap["at"] for swap in SWAP]
