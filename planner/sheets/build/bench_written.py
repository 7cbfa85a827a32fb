"""What was written, and what each file is for."""

from collections.abc import Sequence

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet
from planner.sheets.build.bench_files import WrittenFile
from planner.sheets.build.verdict_words import verdict_words
from planner.sheets.sheet import Cell, Paragraph, Section, Sheet, Table


def written_sheet(bench: BenchSheet, folder: str, files: Sequence[WrittenFile]) -> Sheet:
    """The files of one job in a folder."""
    word, said, meaning = verdict_words(bench.plan)
    rows = tuple((Cell(file.name, "strong"), Cell(file.purpose)) for file in files)
    verdict = Paragraph((Cell(tr("Verdict: {word}", word=word), meaning), Cell(f"- {said}.")))
    return Sheet(
        tr("Written to {folder}", folder=folder),
        (Section("", (verdict, Table((tr("File"), tr("What it is for")), rows))),),
    )
