"""The published tables that the program uses, from the ``standards`` folders of the catalogues."""

import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeVar

from planner.model.ampacity import Ampacity, Bundling, Insulation
from planner.model.conductors import Conductor, Gauge
from planner.model.contacts import SwitchFactor, TabCurrent, TabScope
from planner.model.drops import DropLimit
from planner.model.fuses import FuseFact
from planner.model.standards import Standards
from planner.problems import FilePlace, InputError, Problem
from planner.reading.csv_table import TableRow, read_rows

Made = TypeVar("Made")
STANDARDS = "standards"
# Of the tabs only this test is used, and of these widths, UL 310; and for what conductors they are, IEC 61210
TEMPERATURE_RISE = "temperature-rise test"
FLEXIBLE_SCOPE = "scope, stranded or flexible conductors"
_WIDTH = re.compile(r"\d+\.\d+")


def read_standards(directories: Sequence[Path]) -> Standards:
    """Read the tables; the last directory that has one gives it whole.

    Raises
    ------
    InputError
        With every fault of every table, and every table that no directory has.
    """
    reader = _Reader(directories)
    tabs = reader.table("tabs", _TAB, _tab)
    standards = Standards(
        conductors=reader.table("conductors", _CONDUCTOR, _conductor),
        gauges=reader.table("awg", _GAUGE, _gauge),
        ampacities=reader.table("ampacity", _AMPACITY, _ampacity),
        bundlings=reader.table("bundling", _BUNDLING, _bundling),
        insulations=reader.table("insulation", _INSULATION, _insulation),
        fuses=reader.table("fuses", _FUSE, _fuse),
        switch_factors=reader.table("switch-derating", _SWITCH, _switch_factor),
        drop_limits=reader.table("drops", _DROP, _drop_limit),
        tabs=tuple(row for row in tabs if isinstance(row, TabCurrent)),
        tab_scopes=tuple(row for row in tabs if isinstance(row, TabScope)),
    )
    if reader.problems:
        raise InputError(reader.problems)
    return standards


class _Reader:
    """Reads tables one after another and gathers what is wrong with them."""

    def __init__(self, directories: Sequence[Path]) -> None:
        self.directories = directories
        self.problems: list[Problem] = []

    def table(self, name: str, columns: Sequence[str], make: Callable[[TableRow], Made]) -> tuple[Made, ...]:
        file = Path(STANDARDS) / f"{name}.csv"
        found = [directory / file for directory in self.directories if (directory / file).exists()]
        if not found:
            message = "no catalogue folder holds this published table"
            hint = f"the folder that comes along, or one with the columns {', '.join(columns)}"
            self.problems.append(Problem(FilePlace(str(file)), message, hint=hint))
            return ()
        made: list[Made] = []
        try:
            rows = read_rows(found[-1], columns)
        except InputError as error:
            self.problems += error.problems
            return ()
        for row in rows:
            try:
                made.append(make(row))
            except InputError as error:
                self.problems += error.problems
        return tuple(made)


_CONDUCTOR = ("area_mm2", "max_ohm_per_km", "metal", "standard", "source", "basis")


def _conductor(row: TableRow) -> Conductor:
    return Conductor(
        row.number("area_mm2"),
        row.number("max_ohm_per_km"),
        row.text("metal"),
        row.text("standard"),
        *_credit(row),
    )


_GAUGE = ("awg", "area_mm2", "source", "basis")


def _gauge(row: TableRow) -> Gauge:
    return Gauge(row.text("awg"), row.number("area_mm2"), *_credit(row))


_AMPACITY = ("area_mm2", "insulation_c", "ambient_c", "amps", "source", "basis")


def _ampacity(row: TableRow) -> Ampacity:
    return Ampacity(
        row.number("area_mm2"),
        row.number("insulation_c"),
        row.number("ambient_c"),
        row.number("amps"),
        *_credit(row),
    )


_BUNDLING = ("loaded", "factor", "source", "basis")


def _bundling(row: TableRow) -> Bundling:
    return Bundling(row.whole_number("loaded"), row.number("factor"), *_credit(row))


_INSULATION = ("insulation", "celsius", "source", "basis")


def _insulation(row: TableRow) -> Insulation:
    return Insulation(row.text("insulation"), row.number("celsius"), *_credit(row))


_FUSE = ("row", "type", "rating_a", "percent", "max_s", "max_drop_v", "source", "basis")


def _fuse(row: TableRow) -> FuseFact:
    return FuseFact(
        row.text("row"),
        row.text("type"),
        *row.bounds("rating_a"),
        row.maybe_number("percent"),
        row.maybe_number("max_s"),
        row.maybe_number("max_drop_v"),
        *_credit(row),
    )


_SWITCH = ("system_v", "load", "factor", "source", "basis")


def _switch_factor(row: TableRow) -> SwitchFactor:
    return SwitchFactor(row.number("system_v"), row.text("load"), row.number("factor"), *_credit(row))


_DROP = ("circuit", "system_v", "limit_v", "limit_percent", "scope", "source", "basis")


def _drop_limit(row: TableRow) -> DropLimit:
    return DropLimit(
        row.text("circuit"),
        row.number_or_any("system_v"),
        row.maybe_number("limit_v"),
        row.maybe_number("limit_percent"),
        row.text("scope"),
        *_credit(row),
    )


_TAB = ("kind", "size_mm", "conductor_max_mm2", "awg_area_mm2", "current_a", "meaning", "source", "basis")


def _tab(row: TableRow) -> TabCurrent | TabScope | None:
    meaning = row.text("meaning")
    if meaning not in (TEMPERATURE_RISE, FLEXIBLE_SCOPE):
        return None
    widths = tuple(_WIDTH.findall(row.text("size_mm")))
    if meaning == FLEXIBLE_SCOPE:
        return TabScope(widths, row.number("conductor_max_mm2"), *_credit(row))
    return TabCurrent(widths, row.number("awg_area_mm2"), row.number("current_a"), *_credit(row))


def _credit(row: TableRow) -> tuple[str, str]:
    return row.text("source"), row.text("basis")
