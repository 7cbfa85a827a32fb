"""What was written, and what each file is for."""

from collections.abc import Sequence

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet
from planner.sheets.build.bench_files import WrittenFile
from planner.sheets.build.plan import VERDICTS
from planner.sheets.sheet import Cell, Paragraph, Section, Sheet, Table


def written_sheet(bench: BenchSheet, folder: str, files: Sequence[WrittenFile]) -> Sheet:
    """The files of one job in a folder."""
    word, said, meaning = VERDICTS[bench.plan.verdict]
    rows = tuple((Cell(file.name, "strong"), Cell(file.purpose)) for file in files)
    verdict = Paragraph((Cell(tr("Verdict: {word}", word=tr(word)), meaning), Cell(f"- {tr(said)}.")))
    return Sheet(
        tr("Written to {folder}", folder=folder),
        (Section("", (verdict, Table((tr("File"), tr("What it is for")), rows))),),
    )
