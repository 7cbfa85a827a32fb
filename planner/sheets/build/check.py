"""The sheets of a check that found nothing wrong."""

from collections.abc import Iterable, Sequence

from planner.model.catalogue import Catalogue
from planner.sheets.sheet import Cell, Section, Sheet, Table, say


def catalogue_sheet(catalogue: Catalogue) -> Sheet:
    """What checked catalogues hold, looms and jobs by name."""
    counts = {
        "roles": len(catalogue.roles),
        "sources": len(catalogue.sources),
        "parts": len(catalogue.parts),
        "looms": len(catalogue.loom_files),
        "jobs": len(catalogue.job_files),
    }
    rows = tuple(
        (Cell(kind), Cell(str(count)), Cell("can be used", "good")) for kind, count in counts.items()
    )
    return Sheet(
        "Nothing wrong in the catalogues",
        (
            Section("", (Table(("What", "Count", ""), rows),)),
            Section("Looms", (say(_listed(catalogue.loom_files)),)),
            Section("Jobs, for 'loomwright plan JOB'", (say(_listed(catalogue.job_files)),)),
        ),
    )


def files_sheet(kinds: Sequence[tuple[str, str]]) -> Sheet:
    """Which files were checked, and as what."""
    rows = tuple((Cell(file), Cell(kind), Cell("can be used", "good")) for file, kind in kinds)
    return Sheet("Written without a fault", (Section("", (Table(("File", "Kind", ""), rows),)),))


def written_sheet(file: str, what: str) -> Sheet:
    """That a file was written, and with what."""
    return Sheet(f"Written: {file}", (Section("", (say(what, "good"),)),))


def _listed(names: Iterable[str]) -> str:
    return ", ".join(sorted(names)) or "none"
