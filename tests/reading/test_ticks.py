"""What is ticked on a bench sheet, read from text and JSON, each fault at its place."""

from pathlib import Path

import pytest

from planner.model.ticks import BrokenEnd, CutWire, OtherPart
from planner.problems import InputError
from planner.reading.ticks import read_ticks


def steps(tmp_path: Path, text: str, name: str = "done.txt") -> list[str]:
    file = tmp_path / name
    file.write_text(text, encoding="utf-8")
    return [tick.step for tick in read_ticks(file).done]


def fault(tmp_path: Path, text: str, name: str = "done.txt") -> str:
    with pytest.raises(InputError) as caught:
        steps(tmp_path, text, name)
    return str(caught.value).replace(str(tmp_path / name), "FILE")


def test_numbers_ranges_and_ids_one_a_line(tmp_path: Path) -> None:
    text = "3\n5 - 7\nmove W36 1 p:M p:53\n\n# a note\n9  # done on Sunday\n"
    assert steps(tmp_path, text) == ["3", "5", "6", "7", "move W36 1 p:M p:53", "9"]


def test_lines_copied_from_a_sheet_count_by_their_box(tmp_path: Path) -> None:
    text = "[x] 1. Take out the switch\n[ ] 2. Fit at switch\n- [X] 3. Move it\n- [ ] **4**\n"
    assert steps(tmp_path, text) == ["1", "3"]


def test_what_turned_out_otherwise(tmp_path: Path) -> None:
    file = tmp_path / "done.txt"
    file.write_text("part dash.switch other\n  broken W3 dash.switch:S\ncut W4\n")
    other, broken, cut = read_ticks(file).found
    assert isinstance(other, OtherPart) and (other.at, other.part) == ("dash.switch", "other")
    assert isinstance(broken, BrokenEnd) and (broken.wire, broken.at) == ("W3", "dash.switch:S")
    assert (broken.place.line, broken.place.column) == (2, 3)
    assert isinstance(cut, CutWire) and cut.wire == "W4"


def test_json_holds_the_same_lines_in_two_lists(tmp_path: Path) -> None:
    assert steps(tmp_path, '{"done": [1, "#fuse 2", "4-5", "fit p"], "found": ["cut W1"]}', "a.json") == [
        "1", "4", "5", "fit p"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1\nbroken W1", "FILE:2:1: 'broken W1' is not broken WIRE ADDRESS"),
        (" part x", "FILE:1:2: 'part x' is not part PLACE PART"),
        ("7-3", "FILE:1:1: the range '7-3' ends before it begins"),
    ],
)
def test_a_line_that_says_nothing_is_told_with_its_place(tmp_path: Path, text: str, words: str) -> None:
    assert fault(tmp_path, text).startswith(words)


@pytest.mark.parametrize("text", ["[1]", '{"done": 1}', '{"done": [true]}', '{"done": [[1]]}', "12"])
def test_json_of_another_form_says_what_was_expected(tmp_path: Path, text: str) -> None:
    assert 'expected {"done": [numbers or ids], "found": [lines]}' in fault(tmp_path, text, "a.json")


def test_what_is_no_json_or_no_text_or_not_there_is_told(tmp_path: Path) -> None:
    assert fault(tmp_path, '{"done": [1,}', "a.json") == "FILE:1:13: this is not JSON"
    (tmp_path / "b").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputError, match="not text in UTF-8"):
        read_ticks(tmp_path / "b")
    with pytest.raises(InputError, match="No such file"):
        read_ticks(tmp_path / "c")
    (tmp_path / "large").write_bytes(b"1\n" * 600_000)
    with pytest.raises(InputError, match="larger than"):
        read_ticks(tmp_path / "large")
