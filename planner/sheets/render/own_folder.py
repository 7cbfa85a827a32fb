"""A person's own loom and job in a folder of their own, written whole or not at all."""

from collections.abc import Callable
from pathlib import Path

from planner.model.job import Job
from planner.model.loom import Loom
from planner.problems import UsageError
from planner.reading.schema import schema_files, schema_line
from planner.reading.yaml_text import yaml_of
from planner.sheets.render.whole_folder import write_folder

LOOM_FILE, JOB_FILE = "loom.yaml", "job.yaml"
_TEACHING = """\
# known: measured (a meter said so), seen (a colour), drawing, or assumed (from a pattern: to be measured).
# An end stands at place:mark, earth:zone, feed:NAME or joint:NAME; at 'unknown' where nobody knows.
"""


def check_folder(folder: Path) -> None:
    """Raise UsageError unless a folder is empty, or not there and can be made."""
    if folder.is_dir():
        if any(folder.iterdir()):
            raise UsageError(f"{folder} is a folder with something in it; name another one with --into DIR")
        return
    if folder.exists() or folder.is_symlink():
        raise UsageError(f"{folder} is there and no folder; name another one with --into DIR")
    if not folder.absolute().parent.is_dir():
        raise UsageError(f"{folder} cannot be made: there is no folder {folder.parent}")


def write_own(folder: Path, job: Job, loom: Loom, check: Callable[[Path], object]) -> Path:
    """Write loom and job into a new or empty folder; the job's file.

    ``check`` reads the job's file before the folder has its name, and raises if it cannot be used.

    Raises
    ------
    UsageError
        If the folder is not empty, or cannot be made.
    """
    check_folder(folder)
    texts = {
        LOOM_FILE: schema_line("loom") + _TEACHING + yaml_of(loom),
        JOB_FILE: schema_line("job") + yaml_of(job),
    }
    files = {name: text.encode() for name, text in texts.items()} | schema_files("loom", "job")
    write_folder(folder, files, lambda made: check(made / JOB_FILE))
    return folder / JOB_FILE
