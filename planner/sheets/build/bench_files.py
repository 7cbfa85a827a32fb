"""The files that a bench sheet is written as, by form: what a file is for stands in its name."""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from types import MappingProxyType

from planner.beside import beside
from planner.messages import tr
from planner.model.bench_sheet import BenchSheet
from planner.model.papers import Paper
from planner.sheets.build.bench import bench_sheet
from planner.sheets.build.bench_json import bench_json
from planner.sheets.build.bench_tables import bench_tables
from planner.sheets.render.markdown import as_markdown
from planner.sheets.render.page.page import as_page
from planner.sheets.render.pdf import as_pdf
from planner.sheets.render.spreadsheet import as_csv
from planner.sheets.render.workbook import as_workbook
from planner.sheets.sheet import Sheet


@dataclass(frozen=True, slots=True)
class WrittenFile:
    """A file by its name, what it is for, and what is in it."""

    name: str
    purpose: str
    content: bytes


@dataclass(frozen=True, slots=True)
class _Order:
    """What is to be written."""

    bench: BenchSheet
    sheet: Sheet
    paper: Paper


def bench_files(bench: BenchSheet, forms: Iterable[str] = (), paper: Paper = "a4") -> tuple[WrittenFile, ...]:
    """The files of some forms or of the usual ones; their names begin with the job's."""
    order = _Order(bench, bench_sheet(bench), paper)
    # The typesetting library runs beside the rest.
    written = [beside(partial(_written, form, order)) for form in dict.fromkeys(forms or USUAL_FORMS)]
    return tuple(file for each in written for file in each.result())


def _written(form: str, order: _Order) -> list[WrittenFile]:
    job = order.bench.plan.job
    return [replace(file, name=f"{job}-{file.name}") for file in FORMS[form](order)]


def _pdf(order: _Order) -> Iterator[WrittenFile]:
    name = f"bench-sheet-{order.paper}.pdf"
    yield WrittenFile(name, tr("to print and take to the vehicle"), as_pdf(order.sheet, order.paper))


def _html(order: _Order) -> Iterator[WrittenFile]:
    content = as_page(order.sheet, order.bench.plan.job, order.bench.states).encode()
    yield WrittenFile("bench-sheet.html", tr("to open in a browser, and tick there"), content)


def _markdown(order: _Order) -> Iterator[WrittenFile]:
    yield WrittenFile("bench-sheet.md", tr("the same as plain text"), as_markdown(order.sheet).encode())


def _workbook(order: _Order) -> Iterator[WrittenFile]:
    tables = {table.name: (table.headings, table.rows) for table in bench_tables(order.bench)}
    yield WrittenFile("all-tables.xlsx", tr("a workbook with every table"), as_workbook(tables))


def _csv(order: _Order) -> Iterator[WrittenFile]:
    for table in bench_tables(order.bench):
        yield WrittenFile(
            f"{table.name.replace(' ', '-')}.csv", table.purpose, as_csv(table.headings, table.rows)
        )


def _json(order: _Order) -> Iterator[WrittenFile]:
    content = json.dumps(bench_json(order.bench), indent=2) + "\n"
    yield WrittenFile("bench-sheet.json", tr("all of it, for programs"), content.encode())


def _svg(order: _Order) -> Iterator[WrittenFile]:
    for picture in order.bench.pictures:
        yield WrittenFile(f"{picture.name}.svg", picture.title, picture.svg.encode())


FORMS: Mapping[str, Callable[[_Order], Iterator[WrittenFile]]] = MappingProxyType(
    {"pdf": _pdf, "html": _html, "md": _markdown, "xlsx": _workbook, "csv": _csv, "json": _json, "svg": _svg}
)
USUAL_FORMS = tuple(form for form in FORMS if form != "svg")  # the pictures are in the others
WITH_PICTURES = frozenset(("pdf", "html", "md", "svg"))  # forms that show pictures, or say what is on them
