"""Wipers, dip relay, fuse box, interior lamp and hazard flasher at once on the whole van.

The swaps meet at the fuse box: wiper, flasher and dip relay wires hang on it, the new constant feed of the
hazard comes from it, and the covered end of the relay's old feed hangs on the same fuse.
"""

from planned import (
    covered,
    loads,
    made,
    moved,
    new_hazards,
    outcomes,
    pair,
    piggybacked,
    planned,
    positions,
    says,
    staying,
)

from planner.model.plan import Plan
from planner.pipeline import DEMONSTRATION
from planner.telling.verdict import exit_status

ALONE = (
    "two-speed-wipers",
    "dip-relay-five-to-four",
    "fuse-box-without-tap",
    "interior-lamp-without-earth",
    "hazard-flasher",
)


def van() -> Plan:
    return planned(DEMONSTRATION)


def test_every_end_goes_where_it_goes_in_the_single_jobs() -> None:
    assert moved(van()) == set().union(*(moved(planned(job)) for job in ALONE))
    assert staying(van(), "dash.fuse-box") == staying(planned("fuse-box-without-tap"), "dash.fuse-box")


def test_what_is_covered_in_the_single_jobs_is_covered_and_nothing_else() -> None:
    assert covered(van()) == {("W19", "bay.dip-relay:B"), ("W27", "cab.interior-lamp:E")}


def test_the_wires_of_the_single_jobs_are_made_and_no_others() -> None:
    assert set(made(van())) == set().union(*(made(planned(job)) for job in ALONE))


def test_the_constant_feed_of_the_hazard_comes_from_the_fuse_box() -> None:
    """Fuse 1 holds three ends and carries two; the horn in the engine bay is the wrong place."""
    assert pair("dash.flasher:30", "dash.fuse-box:1") in made(van())


def test_the_finished_lead_goes_where_its_colour_belongs() -> None:
    """Yellow/red is the colour of the second wiper speed, not of a hazard control."""
    control = made(van())[pair("dash.flasher:H", "dash.hazard-switch:H")]
    assert (control.fields["colour"], control.fields["from_stock"]) == ("TQ/BK", False)
    fast = made(van())[pair("dash.wiper-switch:53b", "scuttle.wiper-motor:53b")]
    assert fast.fields["colour"] == "YE/RD"


def test_piggybacks_are_those_of_the_single_jobs() -> None:
    assert piggybacked(van()) == sorted(at for job in ALONE for at in piggybacked(planned(job)))


def test_nothing_more_is_lost_than_in_the_single_jobs() -> None:
    lost = set().union(*(loads(planned(job), "lost") for job in ALONE))
    assert loads(van(), "lost") == lost
    for job in ALONE:
        for what, at in loads(planned(job), "lost"):
            alone = positions(planned(job), "lost", what, at)
            assert positions(van(), "lost", what, at) == alone
    assert loads(van(), "changed") | loads(van(), "unintended") == set()
    assert new_hazards(van()) == set()


def test_fast_and_hazard_are_gained_as_in_the_single_jobs() -> None:
    assert loads(van(), "gained") == set().union(*(loads(planned(job), "gained") for job in ALONE))
    for job in ALONE:
        for what, at in loads(planned(job), "gained"):
            assert positions(van(), "gained", what, at) == positions(planned(job), "gained", what, at)


def test_the_blades_park_and_the_warning_lamp_follows_the_main_beam() -> None:
    assert outcomes(van(), "park the blades", "scuttle.wiper-motor") == {"kept"}
    lost = positions(van(), "lost", "main beam", "left.headlamp")
    assert positions(van(), "lost", "main-beam warning lamp", "dash.instruments") == lost


def test_the_losses_make_the_verdict_the_exit_status_and_the_road() -> None:
    assert (van().verdict, exit_status(van()), van().road) == ("losses", 1, "no")
    assert van().road_why and all("main beam" in why for why in van().road_why)
    assert van().questions == () and van().unsettled == ()


def test_the_shared_indicator_is_said_to_stay_dark_with_the_hazard_on() -> None:
    assert says(van(), "turn indicator lamp", "hazard")


def test_more_than_a_thousand_million_positions_and_starts_were_covered() -> None:
    assert van().proof.positions * van().proof.start_states > 10**9
