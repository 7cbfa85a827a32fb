"""What was written as a part of one's own: what is not known of it, and what to do with it."""

from collections.abc import Iterator
from pathlib import Path

from planner.inquiry.part.identify import Identification
from planner.inquiry.part.measured_part import MeasuredPart
from planner.sheets.sheet import Section, bullets, say

PARTS = "parts"  # the folder in which parts of one's own are found


def written_sections(found: Identification, written: MeasuredPart, file: str) -> Iterator[Section]:
    """Yield what stands in the file, and the commands that use it."""
    name = written.part.part
    said = say(f"{name}, in {file}. What is not known of it stands there as well:")
    yield Section("Written as a part of your own", (said, bullets(written.unknown)))
    yield Section("What to do with it", (bullets(tuple(_next(found, name, Path(file)))),))


def _next(found: Identification, name: str, file: Path) -> Iterator[str]:
    original = found.explanations[0].part.part if found.explanations else "ORIGINAL"
    yield f"'loomwright compare {original} {file}' says whether it does what {_the(original)} does"
    folder = file.parent
    if folder.name == PARTS:
        yield f"in a job: fit: {name}; then 'loomwright plan JOB --catalog {folder.parent}'"
    else:
        yield f"for a job, put it into a folder called {PARTS}, such as my-van/{PARTS}/{file.name}"
        yield f"in the job: fit: {name}; then 'loomwright plan JOB --catalog my-van'"


def _the(original: str) -> str:
    return "the part that it is to replace (ORIGINAL: its id)" if original == "ORIGINAL" else original
