"""Wherever a step works on a terminal it is drawn, and nothing else is marked in the whole loom."""

import re
from functools import cache

import pytest
from planned import JOBS, benched, catalogue, worked

from planner.model.loom import Loom, split_address
from planner.model.picture import Picture
from planner.pictures.pictures import draw_stations
from planner.pictures.union import Looms
from planner.pictures.zones import zones_of
from planner.workshop.ends.stations import stations


@cache
def looms(job: str) -> Looms:
    """Both looms of a job."""
    names = worked(job).names
    return Looms(names.before, names.after, catalogue(), names.work.swapped, names.shown)


@cache
def drawn(job: str) -> tuple[Picture, ...]:
    """The pictures of the places of a job."""
    return tuple(draw_stations(looms(job), "wiring", stations(worked(job).names)))


def places_of_changed_ends(job: str) -> set[str]:
    """The places at which a wire end comes off, goes on, or gets another terminal; of both looms."""
    names, found = worked(job).names, set()
    for wire in (*names.before.wires, *names.after.wires):
        for number in range(len(wire.ends)):
            was, now = (
                loom.find(wire.wire).ends[number]
                if wire.wire in loom.wire_index and number < len(loom.find(wire.wire).ends)
                else None
                for loom in (names.before, names.after)
            )
            if was is None or now is None or (was.at, was.fitting) != (now.at, now.fitting):
                found |= {split_address(end.at)[0] for end in (was, now) if end is not None}
    return {place for place in found if place in names.before.places or place in names.after.places}


@pytest.mark.parametrize("job", JOBS)
class TestWorkedPlaces:
    def test_the_terminals_of_every_place_where_an_end_changes_are_drawn(self, job: str) -> None:
        both = looms(job)
        titles = {picture.title for picture in drawn(job)}
        for place in places_of_changed_ends(job):
            known: list[Loom] = [loom for loom in (both.before, both.after) if place in loom.places]
            assert any(loom.place_title(place) in title for loom in known for title in titles), place

    def test_each_picture_stands_under_a_place_that_one_goes_to(self, job: str) -> None:
        visits = {visit.place for visit in benched(job).visits}
        assert {picture.place for picture in drawn(job)} <= visits

    def test_nothing_is_marked_in_the_whole_loom_where_nothing_is_done(self, job: str) -> None:
        marked = {chip.place for area in zones_of(looms(job)) for chip in area.chips}
        assert marked <= set(stations(worked(job).names))
        assert places_of_changed_ends(job) <= marked


def test_where_an_end_only_goes_on_a_part_that_stays_the_picture_after_says_it_all() -> None:
    box = [picture.when for picture in drawn("hazard-flasher") if picture.place == "dash.fuse-box"]
    assert box == ["after"]
    (picture,) = [picture for picture in drawn("hazard-flasher") if picture.place == "dash.fuse-box"]
    assert picture.words.count(". ") == 0 and picture.words.startswith("1 ")  # of many terminals that one
    assert re.search(r"Of its \d+ terminals only those at which something changes", picture.svg)
    relay = [picture.when for picture in drawn("minibus-courtesy-delay") if "interior lamp" in picture.title]
    assert relay == ["before", "after"]  # an end comes off it
