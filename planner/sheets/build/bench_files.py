"""The files that a bench sheet is written as: one to read, and tables for spreadsheet programs."""

from planner.model.bench_sheet import BenchSheet
from planner.sheets.build.bench import bench_sheet
from planner.sheets.render.markdown import as_markdown
from planner.sheets.render.page.page import as_page
from planner.sheets.render.spreadsheet import as_csv


def bench_files(bench: BenchSheet) -> dict[str, bytes]:
    """The content of each file by its name; the names begin with the job's."""
    sheet = bench_sheet(bench)
    files = {
        "sheet.md": as_markdown(sheet).encode("utf-8"),
        "sheet.html": as_page(sheet).encode("utf-8"),
        "work-list.csv": _work_list(bench),
        "materials.csv": _materials(bench),
        "labels.csv": _labels(bench),
    }
    if any(plan.cuts for plan in bench.cutting):
        files["cutting-plan.csv"] = _cutting(bench)
    return {f"{bench.plan.job}-{name}": content for name, content in files.items()}


def _work_list(bench: BenchSheet) -> bytes:
    titles = {n: visit.title for visit in bench.visits for n in visit.steps}
    headings = ("step", "done", "place", "do", "wire", "from", "to", "text", "why", "minutes", "id")
    rows = [
        (
            step.n,
            "yes" if step.n in bench.done else "",
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
    ]
    return as_csv(headings, rows)


def _materials(bench: BenchSheet) -> bytes:
    headings = ("kind", "what", "needed", "unit", "on hand", "to buy", "steps", "note")
    rows = [
        (m.kind, m.what, m.amount, m.unit, m.on_hand, m.to_buy, " ".join(map(str, m.steps)), m.note)
        for m in bench.materials
    ]
    return as_csv(headings, rows)


def _labels(bench: BenchSheet) -> bytes:
    rows = [(label.wire, label.colour, label.at, label.note, label.text) for label in bench.labels]
    return as_csv(("wire", "colour", "place and mark", "besides", "text"), rows)


def _cutting(bench: BenchSheet) -> bytes:
    rows = [
        (plan.colour, plan.mm2, cut.stock_metres, name, metres, cut.left_metres)
        for plan in bench.cutting
        for cut in plan.cuts
        for name, metres in cut.pieces
    ]
    return as_csv(("colour", "mm2", "length m", "wire", "piece m", "left of the length m"), rows)
