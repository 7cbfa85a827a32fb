"""The places of a person's list: what is a place, what is a mark, and which parts may be there."""

from pathlib import Path

import pytest

from planner.inquiry.listed_places import ListedPlace, listed_places
from planner.pipeline import open_catalogue
from planner.reading.loom_file import open_wire_list

HEAD = "colour,mm2,metres,from,to,and on to\n"


def _places(folder: Path, *ends: str) -> dict[str, ListedPlace]:
    catalogue = open_catalogue()
    path = folder / "list.csv"
    path.write_text(HEAD + "".join(f"red,1.5,1 m each,{end}\n" for end in ends))
    return {place.title: place for place in listed_places(open_wire_list(path, None, catalogue), catalogue)}


@pytest.mark.parametrize("place", ["left side lamp", "horn push", "left headlight", "stop switch", "horn"])
def test_what_a_part_is_called_is_no_mark(tmp_path: Path, place: str) -> None:
    assert _places(tmp_path, f"earth,{place},")[place].marks == ("",)


def test_what_follows_a_place_of_the_list_is_its_mark(tmp_path: Path) -> None:
    found = _places(tmp_path, "fuse box 1,fuse box fed 1,left tail lamp stop")
    assert {title: place.marks for title, place in found.items()} == {
        "fuse box": ("1", "fed 1"),
        "left tail lamp": ("stop",),
    }


def test_a_part_whose_name_begins_like_another_is_one_of_its_own(tmp_path: Path) -> None:
    assert _places(tmp_path, "horn / 1,horn push / 2,").keys() == {"horn", "horn push"}


def test_the_same_word_after_a_slash_is_a_mark(tmp_path: Path) -> None:
    assert _places(tmp_path, "earth,flasher unit / lamp,")["flasher unit"].marks == ("lamp",)


def test_the_side_of_the_vehicle_does_not_hide_which_part_it_may_be(tmp_path: Path) -> None:
    found = _places(tmp_path, "right tail lamp tail,left headlamp main,")
    assert found["right tail lamp"].parts and found["left headlamp"].parts
    assert "headlamp" in found["left headlamp"].parts[0]


def test_a_place_by_its_name_in_a_loom_keeps_it_and_is_looked_for_without_where_it_is(tmp_path: Path) -> None:
    found = _places(tmp_path, "bonnet.horn-relay:S,dash.wiper-switch / 53,")
    assert [place.name for place in found.values()] == ["bonnet.horn-relay", "dash.wiper-switch"]
    assert all(place.parts for place in found.values())


def test_a_number_after_a_fuse_box_is_a_fuse_and_after_anything_else_another_of_it(tmp_path: Path) -> None:
    found = _places(tmp_path, "fuse block 1 in,horn 1 / H,", "fuse block 2 out,horn 2 / H,")
    assert {title: place.marks for title, place in found.items()} == {
        "fuse block": ("1 in", "2 out"),
        "horn 1": ("H",),
        "horn 2": ("H",),
    }


def test_what_a_thing_is_called_elsewhere_is_no_mark_either(tmp_path: Path) -> None:
    assert _places(tmp_path, "earth,heater blower,")["heater blower"].parts[0].startswith("heater-fan")


def test_a_part_for_headlamps_comes_after_the_headlamps_themselves(tmp_path: Path) -> None:
    assert "headlamp-fuses" not in _places(tmp_path, "left headlamp high,earth,")["left headlamp"].parts


def test_of_parts_called_alike_the_one_with_as_many_wires_comes_first(tmp_path: Path) -> None:
    found = _places(tmp_path, "earth,left front turn signal,")
    assert found["left front turn signal"].parts[0] == "turn-lamp"


@pytest.mark.parametrize("side", ["L/H", "LH", "left", "l/h", "left hand"])
def test_a_side_is_one_word_however_it_is_shortened(tmp_path: Path, side: str) -> None:
    found = _places(tmp_path, f"LH headlamp main,{side} headlight (dip),")
    assert {title: place.marks for title, place in found.items()} == {"LH headlamp": ("main", "dip")}


def test_signs_between_words_and_numbers_do_not_hide_which_part_it_may_be(tmp_path: Path) -> None:
    found = _places(tmp_path, "N/S stop & tail stop,fuse 1 in,", "earth,fuse 1 out,")
    assert found["NS stop & tail"].marks == ("stop",) and "tail-stop-lamp" in found["NS stop & tail"].parts
    # It has just the marks in and out, which no fuse box has.
    assert found["fuse 1"].parts[0].startswith("in-line-fuse")
