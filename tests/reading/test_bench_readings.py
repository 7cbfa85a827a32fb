"""Tables of meter readings: both ways to draw them, and each fault at its row and column."""

from pathlib import Path

import pytest
from workbooks import rows, saved, workbook

from planner.model.readings import BenchReadings
from planner.problems import InputError
from planner.reading.bench_readings import is_powered, read_readings

GRID = "position,A-B,A-C,B-C\noff,beeps,OL,\non,open,0.2 ohm,?\n"
LISTED = "position,from,to,reading\noff,A,B,beeps\n,A,C,OL\n,B,C,\non,A,B,open\non,A,C,0.2 ohm\n"


def said(bench: BenchReadings) -> list[tuple[object, ...]]:
    return [(r.position, r.red, r.black, r.says) for r in bench.readings]


def test_a_row_per_position_and_a_row_per_reading_say_the_same(tmp_path: Path) -> None:
    grid, listed = (read_readings(saved(tmp_path, text, "r.csv")) for text in (GRID, LISTED))
    assert said(grid) == [
        ("off", "A", "B", "closed"),
        ("off", "A", "C", "open"),
        ("on", "A", "B", "open"),
        ("on", "A", "C", 0.2),
    ]
    assert said(listed) == said(grid)
    assert listed.terminals == grid.terminals == ("A", "B", "C")
    assert listed.positions == grid.positions == ("off", "on")
    assert str(grid.readings[1].place).endswith("r.csv:2:11")


def test_a_workbook_says_the_same(tmp_path: Path) -> None:
    lines = [tuple(line.split(",")) for line in GRID.splitlines()]
    assert said(read_readings(saved(tmp_path, workbook(rows(*lines))))) == said(
        read_readings(saved(tmp_path, GRID, "r.csv"))
    )


def test_numbers_of_a_workbook_are_ohms(tmp_path: Path) -> None:
    bench = read_readings(saved(tmp_path, workbook(rows(("position", "1-2"), ("rest", 75.5)))))
    assert said(bench) == [("rest", "1", "2", 75.5)]


@pytest.mark.parametrize("heading", ["A-B", "A - B", "a–B", "A to B", "A -> B", "A and B"])
def test_a_pair_is_read_however_it_is_written(tmp_path: Path, heading: str) -> None:
    (reading,) = read_readings(saved(tmp_path, f"position,{heading}\noff,open\n", "r.csv")).readings
    assert (reading.red.upper(), reading.black) == ("A", "B")


def test_both_ways_round_are_two_readings(tmp_path: Path) -> None:
    bench = read_readings(saved(tmp_path, "position,A-B,B-A\nrest,0.6 V,OL\n", "r.csv"))
    assert said(bench) == [("rest", "A", "B", "drop"), ("rest", "B", "A", "open")]


def test_marks_with_signs_are_read_with_to_between(tmp_path: Path) -> None:
    bench = read_readings(saved(tmp_path, "position,B+ to B-\nrest,open\n", "r.csv"))
    assert bench.terminals == ("B+", "B-")


def test_terminals_and_positions_without_a_reading_are_named_all_the_same(tmp_path: Path) -> None:
    bench = read_readings(saved(tmp_path, "position,A-B,C-D\noff,open,\non,,\n", "r.csv"))
    assert bench.terminals == ("A", "B", "C", "D")
    assert bench.positions == ("off", "on")
    assert len(bench.readings) == 1


def test_capitals_make_no_other_terminal_or_position(tmp_path: Path) -> None:
    text = "position,from,to,reading\nOff,a,B,open\noff,A,c,open\n"
    bench = read_readings(saved(tmp_path, text, "r.csv"))
    assert (bench.terminals, bench.positions) == (("a", "B", "c"), ("Off",))


def test_a_table_without_positions_is_read_at_rest(tmp_path: Path) -> None:
    assert read_readings(saved(tmp_path, "A-B\n75\n", "r.csv")).positions == ("at rest",)
    assert read_readings(saved(tmp_path, "from,to,ohms\nA,B,75\n", "r.csv")).positions == ("at rest",)


@pytest.mark.parametrize(
    ("position", "powered"),
    [
        ("coil fed", True),
        ("Coil energised", True),
        ("energized", True),
        ("12 V on 86", True),
        ("powered", True),
        ("coil on", True),
        ("pulled in", True),
        ("rest", False),
        ("coil not fed", False),
        ("de-energised", False),
        ("unpowered", False),
        ("coil off", False),
        ("on", False),
        ("feed", False),
        ("0 V", False),
    ],
)
def test_a_position_says_whether_a_coil_was_fed(position: str, powered: bool) -> None:
    assert is_powered(position) is powered


@pytest.mark.parametrize(
    ("text", "place", "message"),
    [
        ("position,A-B\noff,perhaps\n", "r.csv:2:5", "'perhaps' is no reading"),
        ("position,A-B\noff,12 V\n", "r.csv:2:5", "more than a diode range shows"),
        ("position,A-A\noff,open\n", "r.csv:2:5", "both leads are at 'A'"),
        ("position,A-B\noff,open\noff,open\n", "r.csv:3:1", "position 'off' is given twice"),
        ("position,A-B\n,open\n", "r.csv:2:1", "position must be a name, got nothing"),
        ("A-B,A-C\nopen,open\nopen,beeps\n", "r.csv:2:1", "no heading says 'position'"),
        ("position,A-B,reading\noff,open,open\n", "r.csv:1:1", "is no table of readings"),
        ("position,from,to\noff,A,B\n", "r.csv:1:1", "is no table of readings"),
        ("position,from,to,reading\noff,A:1,B,open\n", "r.csv:2:5", "the terminal must be a short name"),
        ("position,from,to,reading\noff,A,,open\n", "r.csv:2:7", "the terminal must be a short name"),
        ("position,A-B\noff,\n", "r.csv", "nothing was read"),
    ],
)
def test_a_fault_is_said_at_its_row_and_column(tmp_path: Path, text: str, place: str, message: str) -> None:
    with pytest.raises(InputError) as error:
        read_readings(saved(tmp_path, text, "r.csv"))
    assert any(str(p.place).endswith(place) and message in p.message for p in error.value.problems)
