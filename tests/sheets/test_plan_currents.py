"""Amps and volts on the sheet: the volts of every load if asked for, and under which conditions they hold."""

from dataclasses import replace
from math import inf

import pytest
from hand_made import PLAN, text_of

from planner.model.plan import CurrentsLine, DeadTestLine, LoadLine, StrainLine
from planner.sheets.build.plan import plan_sheet

LOADS = (
    LoadLine("p", "shine", "nose lamp", 11.106, "in all positions", "dim", 12.3, 13.0, 12.0),
    LoadLine("q", "blow", "fan", 10.0, "with the key at run", "full", None, 12.0, 12.0),
)
DEAD = (DeadTestLine("p:1", "1 on the fuse box", 0.1472, inf),)
COVERED = replace(PLAN, currents=CurrentsLine(7, 1e-12, 40.0, 20.0, LOADS, "How loads look.", DEAD))


def text(*, everything: bool) -> str:
    return " ".join(text_of(plan_sheet(COVERED, everything=everything)).split())


def test_all_shows_the_volts_of_every_load_and_once_how_it_is_judged() -> None:
    shown = text(everything=True)
    assert "Volts at every load" in shown and shown.count("How loads look.") == 1
    assert "11.11 12.30 13.00 12 dim" in shown
    assert "10.00 - 12.00 12 full" in shown


def test_without_all_the_volts_of_loads_are_left_out() -> None:
    assert "Volts at every load" not in text(everything=False)


def test_charge_and_temperature_are_said_in_any_case() -> None:
    for everything in (True, False):
        assert "charged to 40 %, wires at 20 C" in text(everything=everything)


def test_all_says_what_an_ohmmeter_reads_behind_each_fuse_and_that_cold_lamps_are_no_short() -> None:
    shown = text(everything=True)
    assert "1 on the fuse box 0.147 open" in shown and "that is no short" in shown
    assert "Dead test" not in text(everything=False)
    (said,) = COVERED.as_json()["currents"]["dead_tests"]
    assert said == {"at": "p:1", "ohms": 0.147, "ohms_lamps_out": None}


@pytest.mark.parametrize(
    ("kind", "is_least", "sign"),
    [
        ("fuse", False, "TOO MUCH"),
        ("coil", True, "TOO LITTLE"),
        ("polarity", False, "WRONG WAY"),
        ("gauge", False, "READS WRONG"),
    ],
)
def test_what_is_past_its_limit_is_told_by_which_way_it_is_wrong(
    kind: str, is_least: bool, sign: str
) -> None:
    line = StrainLine(
        kind, "p", None, "it is so", 1.0, 2.0, "V", 2.0, is_least, True, False, None, False, True, "always",
        {}, (), (), "a source", "computed", "none",
    )  # fmt: skip
    assert f"{sign} it is so" in " ".join(text_of(plan_sheet(replace(PLAN, strains=(line,)))).split())


@pytest.mark.parametrize(
    ("kind", "is_shown"), [("over-voltage", False), ("overheats", False), ("fuse", True)]
)
def test_four_fifths_of_what_is_too_many_volts_are_what_every_load_gets(kind: str, is_shown: bool) -> None:
    line = StrainLine(
        kind, "p", None, "it is so", 12.0, 15.0, "V", 0.8, False, True, False, None, False, False, "always",
        {}, (), (), "a source", "computed", "none",
    )  # fmt: skip
    assert ("it is so" in text_of(plan_sheet(replace(PLAN, strains=(line,))))) is is_shown


def test_what_passes_its_limit_a_little_since_the_work_is_not_said_to_have_done_so_before() -> None:
    line = StrainLine(
        "fuse-over-wire", "p", None, "it is so", 20.0, 19.0, "A", 1.05, False, True, False, 8.0, False, False,
        "always", {}, (), (), "a source", "computed", "none",
    )  # fmt: skip
    shown = " ".join(text_of(plan_sheet(replace(PLAN, strains=(line,)))).split())
    assert "JUST OVER it is so" in shown and "BEFORE it is so" not in shown
    assert "Nothing that the work touches clearly passes" in shown
    shown = " ".join(text_of(plan_sheet(replace(PLAN, strains=(replace(line, was_over=True),)))).split())
    assert "BEFORE it is so" in shown and "JUST OVER" not in shown and "clearly" not in shown
