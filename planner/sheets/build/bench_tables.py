"""The tables of a bench sheet for spreadsheet programs: work list, materials, cutting plan, labels, wires."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite
from types import MappingProxyType

from planner.messages import later, tr
from planner.model.bench_sheet import BenchSheet, MaterialKind
from planner.model.loom import Loom
from planner.sheets.build.meter_words import lamp_shows
from planner.sheets.build.wire_list import Row, wire_list

# What a material is; the work list's "do" and "why" are names that a program looks for, and stay.
_KINDS: Mapping[MaterialKind, str] = MappingProxyType(
    {
        "part": later("part"),
        "with-part": later("with a part"),
        "wire": later("wire"),
        "lead": later("lead"),
        "terminal": later("terminal"),
        "piggyback": later("piggyback"),
        "sleeve": later("sleeve"),
        "boot": later("boot"),
        "conduit": later("conduit"),
        "wrapping": later("wrapping"),
        "cap": later("cap"),
        "joiner": later("joiner"),
        "fuse": later("fuse"),
        "clip": later("clip"),
        "grommet": later("grommet"),
        "cord": later("cord"),
        "tool": later("tool"),
        "label": later("label"),
    }
)


@dataclass(frozen=True, slots=True)
class NamedTable:
    """A table by what is in it; a cell that is a number is written as one."""

    name: str
    purpose: str
    headings: tuple[str, ...]
    rows: tuple[Row, ...]


def bench_tables(bench: BenchSheet) -> tuple[NamedTable, ...]:
    """Every table that has something in it."""
    tables = (
        NamedTable("work list", tr("what is done, step by step"), *_work_list(bench)),
        NamedTable("materials", tr("what is needed, on hand, and to be bought"), *_materials(bench)),
        NamedTable("cutting plan", tr("which wire is cut from which length"), *_cutting(bench)),
        NamedTable("labels", tr("what stands on the strip at each wire end"), *_labels(bench)),
        NamedTable("wires before", tr("the wires as they are now"), *_wires(bench, bench.before)),
        NamedTable("wires after", tr("the wires as they are when all is done"), *_wires(bench, bench.after)),
        NamedTable("questions", tr("what to measure first, and what each answer means"), *_asked(bench)),
        NamedTable("meter readings", tr("what to measure, with room for the reading"), *_readings(bench)),
    )
    return tuple(table for table in tables if table.rows)


_Rows = tuple[tuple[str, ...], tuple[Row, ...]]


def _work_list(bench: BenchSheet) -> _Rows:
    titles = {n: visit.title for visit in bench.visits for n in visit.steps}
    headings = (
        tr("step"),
        tr("done"),
        tr("place"),
        tr("do"),
        tr("wire"),
        tr("from"),
        tr("to"),
        tr("text"),
        tr("why"),
        tr("minutes"),
        tr("id"),
    )
    return headings, tuple(
        (
            step.n,
            tr("yes") if step.n in bench.done else "",
            titles[step.n],
            step.do,
            str(step.fields.get("wire", "")),
            str(step.fields.get("from", step.fields.get("at", ""))),
            str(step.fields.get("to", "")),
            step.text,
            ", ".join(step.because),
            step.minutes,
            step.id,
        )
        for step in bench.plan.steps
    )


def _materials(bench: BenchSheet) -> _Rows:
    headings = (
        tr("kind"),
        tr("what"),
        tr("needed"),
        tr("unit"),
        tr("on hand"),
        tr("to buy"),
        tr("steps"),
        tr("note"),
    )
    return headings, tuple(
        (
            tr(_KINDS[m.kind]),
            m.what,
            m.amount,
            tr("m") if m.unit == "m" else tr("pieces"),
            m.on_hand,
            m.to_buy,
            " ".join(map(str, m.steps)),
            m.note,
        )
        for m in bench.materials
    )


def _labels(bench: BenchSheet) -> _Rows:
    rows = tuple((label.wire, label.colour, label.at, label.note, label.text) for label in bench.labels)
    return (tr("wire"), tr("colour"), tr("place and mark"), tr("besides"), tr("text")), rows


def _cutting(bench: BenchSheet) -> _Rows:
    rows = tuple(
        (plan.colour, plan.mm2, cut.stock_metres, name, metres, cut.left_metres)
        for plan in bench.cutting
        for cut in plan.cuts
        for name, metres in cut.pieces
    )
    headings = (
        tr("colour"),
        tr("mm2"),
        tr("length m"),
        tr("wire"),
        tr("piece m"),
        tr("left of the length m"),
    )
    return headings, rows


def _wires(bench: BenchSheet, loom: Loom) -> _Rows:
    """The wires of a loom as a wire list that reads back; a new wire has its name on the sheet."""
    headings, rows = wire_list(loom, bench.parts)
    return headings, tuple((bench.wire_names.get(str(row[0]), row[0]), *row[1:]) for row in rows)


def _asked(bench: BenchSheet) -> _Rows:
    headings = (
        tr("about"),
        tr("where"),
        tr("how"),
        tr("if the meter says"),
        tr("it means"),
        tr("reading"),
    )
    return headings, tuple(
        (question.about, question.where, question.how, reading, means, "")
        for question in bench.plan.questions
        for reading, means in question.answers or (("", ""),)
    )


def _readings(bench: BenchSheet) -> _Rows:
    """The tests of the meter page, one a row, in digits of a meter; a limit that is infinite is empty."""
    headings = (
        tr("test"),
        tr("stage"),
        tr("set"),
        tr("measure"),
        tr("where"),
        tr("good from"),
        tr("good to"),
        tr("unit"),
        tr("lamp"),
        tr("reading"),
    )
    tests = bench.meter.tests if bench.meter else ()
    return headings, tuple(
        (
            test.n,
            tr("dead") if test.stage == "dead" else tr("live"),
            test.all_set_words,
            tr("ohms") if test.quantity == "ohms" else tr("volts"),
            test.where_words,
            *(float(f"{limit:.3g}") if isfinite(limit) else "" for limit in (test.low, test.high)),
            tr("ohm") if test.unit == "ohm" else test.unit,
            lamp_shows(test),
            "",
        )
        for test in tests
    )
