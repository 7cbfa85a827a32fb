"""A person's own loom and job in a folder of their own, written whole or not at all."""

import re
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory

from planner.model.job import Job
from planner.model.loom import Loom
from planner.problems import UsageError
from planner.reading.schema import schema_files, schema_line
from planner.reading.yaml_text import yaml_of
from planner.sheets.render.whole_file import write_all
from planner.sheets.render.whole_folder import in_the_way, write_folder

LOOM_FILE, JOB_FILE = "loom.yaml", "job.yaml"
_OTHER = "name another one with --into DIR"
_TEACHING = """\
# known: measured (a meter said so), seen (a colour), drawing, or assumed (from a pattern: to be measured).
# An end stands at place:mark, earth:zone, feed:NAME or joint:NAME; at 'unknown' where nobody knows.
"""


_MARK = re.compile(r"^# survey: ([0-9a-f]{16})\b.*\n", re.MULTILINE)


def check_folder(folder: Path) -> None:
    """Raise UsageError unless a folder is empty, can be made, or is a survey's own and unchanged by hand."""
    what = in_the_way(folder)
    if what and folder.is_dir():
        _check_own(folder)
    elif what:
        raise UsageError(f"{folder} is not made: {what}; {_OTHER}")
    elif not folder.absolute().parent.is_dir():
        raise UsageError(f"{folder} cannot be made: there is no folder {folder.parent}")


def write_own(folder: Path, job: Job, loom: Loom, check: Callable[[Path], object]) -> Path:
    """Write loom and job into a folder, over those of an earlier survey; the job's file.

    ``check`` reads the job's file before anything has its name, and raises if it cannot be used.

    Raises
    ------
    UsageError
        If the folder holds something else, or a file of it was changed by hand, or it cannot be made.
    """
    check_folder(folder)
    texts = {
        LOOM_FILE: (schema_line("loom"), _TEACHING + yaml_of(loom)),
        JOB_FILE: (schema_line("job"), yaml_of(job)),
    }
    files = {name: _marked(*text).encode() for name, text in texts.items()} | schema_files("loom", "job")
    if (folder / JOB_FILE).exists():
        with TemporaryDirectory() as beside:
            write_folder(Path(beside) / "own", files, lambda made: check(made / JOB_FILE))
        write_all(folder, files, overwrite=True)
    else:
        write_folder(folder, files, lambda made: check(made / JOB_FILE))
    return folder / JOB_FILE


def _check_own(folder: Path) -> None:
    texts = {name: _text(folder / name) for name in (LOOM_FILE, JOB_FILE)}
    if not all(text and _MARK.search(text) for text in texts.values()):
        raise UsageError(f"{folder} is a folder with something in it that no survey wrote; {_OTHER}")
    for name, text in texts.items():
        found = _MARK.search(text)
        assert found is not None
        if _digest(text[: found.start()] + text[found.end() :]) != found[1]:
            raise UsageError(
                f"{folder / name} was changed since a survey wrote it, and is not written over; {_OTHER}, or "
                "change the table and not the file"
            )


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return ""


def _marked(first: str, rest: str) -> str:
    """A file with a line below its first that tells whether anybody has changed it since."""
    return f"{first}# survey: {_digest(first + rest)} (changes with the rest: keep the line as it is)\n{rest}"


def _digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:16]
