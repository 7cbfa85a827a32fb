"""What the pictures of swapped places and of the whole loom show, as it stands in the SVG."""

import re
from functools import cache

from planned import catalogue, worked
from seen import Seen, seen

from planner.model.elements import Fuse
from planner.model.face import face_of
from planner.model.picture import SIDES, Picture, PictureWhen, Side
from planner.pictures.insides import part_at
from planner.pictures.place import draw_places
from planner.pictures.text import ELLIPSIS
from planner.pictures.union import Looms
from planner.pictures.whole_loom import draw_whole_loom
from planner.workshop.ends.tied_back import live_ends

JOBS = (
    "two-speed-motor-only",
    "fuse-box-mirrored",
    "trailer-socket-13",
    "dynamo-to-alternator",
    "launch-horn",
)


@cache
def looms(job: str) -> Looms:
    """Both looms of a job."""
    names = worked(job).names
    swapped = tuple(card.at for card in worked(job).cards(()))
    return Looms(names.before, names.after, catalogue(), swapped, names.shown, live_ends(names))


def drawn(job: str) -> list[tuple[Picture, Seen]]:
    """The pictures of the places of a job."""
    both = looms(job)
    found = (picture for at in both.swapped for picture in draw_places(both, at))
    return [(picture, seen(picture.svg)) for picture in found]


def place_of(job: str, at: str, side: Side = "wiring") -> dict[PictureWhen, Picture]:
    """The pictures of one place, by the loom that each shows."""
    return {picture.when: picture for picture in draw_places(looms(job), at, side)}


def test_every_terminal_stands_where_it_sits_seen_from_the_wiring_side() -> None:
    for job in JOBS:
        both = looms(job)
        for picture, found in drawn(job):
            loom = both.before if picture.when == "before" else both.after
            part = part_at(loom, both.catalogue, picture.place)
            assert part is not None
            cells = {
                at: found.terminals[f"{picture.place}:{mark}"] for at, mark in face_of(part).marks.items()
            }
            columns, rows = {at[0] for at in cells}, {at[1] for at in cells}
            for (column, row), area in cells.items():
                assert all(area.x > cells[at].x for at in cells if at[0] < column)
                assert all(area.y > cells[at].y for at in cells if at[1] < row)
            assert len({area.x for area in cells.values()}) == len(columns), picture.name
            assert len({area.y for area in cells.values()}) == len(rows), picture.name


def test_from_the_other_side_the_columns_are_turned_round_and_it_says_so() -> None:
    sides = [place_of("two-speed-motor-only", "scuttle.wiper-motor", side)["after"] for side in SIDES]
    wiring, other = (seen(picture.svg) for picture in sides)
    left = [
        min(found.terminals.items(), key=lambda each: (each[1].x, each[1].y))[0] for found in (wiring, other)
    ]
    assert left[0] != left[1]
    assert "Seen from its wiring side." in {text for text, *_ in wiring.words}
    assert "Seen from its other side." in {text for text, *_ in other.words}


def test_every_end_at_a_place_is_named_in_the_cell_of_its_terminal() -> None:
    for job in JOBS:
        both = looms(job)
        for picture, found in drawn(job):
            loom = both.before if picture.when == "before" else both.after
            for wire, end, mark in loom.ends_of_place(picture.place):
                cell = found.terminals[f"{picture.place}:{mark}"]
                name = f"{both.shown(wire)} {loom.find(wire).end_colour(end)}"
                inside = [text for text, area, _ in found.words if area.within(cell)]
                assert any(text.startswith(name) for text in inside), (picture.name, wire, inside)


def test_words_stay_in_their_picture_and_in_their_cell() -> None:
    for job in JOBS:
        for picture, found in drawn(job):
            for text, area, in_place in found.words:
                assert area.within(found.page), (picture.name, text)
                cells = found.terminals.values()
                assert not in_place or any(area.within(cell) for cell in cells), (picture.name, text)


def test_an_end_that_is_tied_back_is_shown_off_the_part() -> None:
    picture = place_of("trailer-socket-13", "rear.trailer-socket")["after"]
    said = {text for text, *_ in seen(picture.svg).words}
    assert {"Off the part.", "tied back", "TREAT IT AS LIVE"} <= said
    assert any(text.startswith("T2 BU") for text in said)


def test_a_removed_part_has_no_picture_after_and_a_new_one_none_before() -> None:
    assert list(place_of("dynamo-to-alternator", "bay.regulator")) == ["before"]


def test_a_place_whose_wires_all_stay_where_they_are_has_one_picture_of_the_new_part() -> None:
    """A horn of 12 V for one of 6 V, on the same terminal: nothing there is done to the wire."""
    pictures = place_of("tractor-to-12-volts", "nose.horn")
    assert list(pictures) == ["both"]
    said = {text for text, *_ in seen(pictures["both"].svg).words}
    assert "Wires alike before and after: horn" in said
    assert any(text.startswith("Horn of a work vehicle, 12 V") for text in said)
    assert list(place_of("tractor-to-12-volts", "bonnet.battery")) == ["before", "after"]


def test_the_whole_loom_marks_what_is_swapped_and_counts_every_wire_between_zones() -> None:
    both = looms("electric-fan")
    picture = draw_whole_loom(both)
    found = seen(picture.svg)
    marked = {place for place, _ in found.outlines}
    assert set(both.swapped) <= marked
    assert "new part" in {text for text, *_ in found.words}
    assert all(area.within(found.page) for _, area, _ in found.words)
    bundles = {text for text, *_ in found.words if " wire" in text and text[0].isdecimal()}
    assert any(text.endswith("changed") for text in bundles)


def test_the_amps_of_a_fuse_stand_in_the_cell_of_its_fused_side() -> None:
    found = {picture.when: found for picture, found in drawn("fuse-box-mirrored")}
    for when, loom in (
        ("before", looms("fuse-box-mirrored").before),
        ("after", looms("fuse-box-mirrored").after),
    ):
        part = part_at(loom, catalogue(), "dash.fuse-box")
        assert part is not None
        fuses = [element for element in part.inside if isinstance(element, Fuse)]
        assert len(fuses) == 4
        for fuse in fuses:
            cell = found[when].terminals[f"dash.fuse-box:{fuse.between[1]}"]
            inside = [text for text, area, _ in found[when].words if area.within(cell)]
            amps = loom.fuses.get(f"dash.fuse-box:{fuse.between[1]}", fuse.amps)
            assert f"fuse {amps:g} A" in inside, (when, fuse)


def test_no_title_is_cut_where_it_may_have_another_line() -> None:
    both = looms("fuse-box-with-larger-fuses")
    place = place_of("fuse-box-with-larger-fuses", "dash.fuse-box")["after"]
    for picture in (place, draw_whole_loom(both), draw_whole_loom(looms("dynamo-to-alternator"))):
        assert "…" not in picture.svg, picture.name


def test_a_whole_loom_that_fits_an_upright_page_is_not_drawn_across() -> None:
    picture = draw_whole_loom(looms("two-ends-trade"))
    assert picture.width_mm < 232 and picture.height_mm < 310


def test_a_terminal_at_which_something_changes_has_a_heavy_frame_among_others() -> None:
    """On the fuse box only terminal 1 gets an end; of the new flasher all terminals are new."""

    def frames(at: str) -> dict[str, str]:
        svg = place_of("hazard-flasher", at)["after"].svg
        return dict(re.findall(rf'data-terminal="{at}:([^"]*)">\s*<rect[^>]*stroke-width="([\d.]+)"', svg))

    box = frames("dash.fuse-box")
    assert len(box) > 10 and {mark for mark, width in box.items() if float(width) > 0.5} == {"1"}
    assert {float(width) for width in frames("dash.flasher").values()} == {0.3}


def test_the_line_above_the_terminals_goes_on_in_another_where_it_is_long() -> None:
    picture = place_of("launch-wiper-switched-in-its-feed", "helm.wiper")["after"]
    said = " ".join(text for text, *_ in seen(picture.svg).words)
    assert "they sit is not known. Heavy frame: something changes there." in said and ELLIPSIS not in said


def test_no_fuse_is_cut() -> None:
    """What a fuse is marked with tells what it carries: 35 A blowing are half as much for good."""
    found = 0
    for job in ("fuse-box-without-tap", "fuse-box-mirrored", "whole-van", "launch-torpedo-to-blade"):
        for picture, _ in drawn(job):
            fuses = re.findall(r">(fuse [^<]*)<", picture.svg)
            assert not [text for text in fuses if "…" in text], job
            found += len(fuses)
    assert found
