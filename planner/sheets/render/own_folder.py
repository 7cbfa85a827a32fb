"""A person's own loom and job in a folder of their own, written whole or not at all."""

import shutil
from pathlib import Path
from tempfile import mkdtemp

from planner.model.job import Job
from planner.model.loom import Loom
from planner.problems import UsageError
from planner.reading.yaml_text import yaml_of

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


def write_own(folder: Path, job: Job, loom: Loom) -> Path:
    """Write loom and job into a new or empty folder; the job's file.

    Raises
    ------
    UsageError
        If the folder is not empty, or cannot be made.
    """
    check_folder(folder)
    try:
        made = Path(mkdtemp(prefix=".", dir=folder.absolute().parent))
        try:
            (made / LOOM_FILE).write_text(_TEACHING + yaml_of(loom), encoding="utf-8")
            (made / JOB_FILE).write_text(yaml_of(job), encoding="utf-8")
            made.chmod(0o755)
            made.replace(folder)  # onto an empty folder, or where none is
        except OSError:
            shutil.rmtree(made, ignore_errors=True)
            raise
    except OSError as error:
        raise UsageError(f"{folder} is not written: {error.strerror or error}") from None
    return folder / JOB_FILE
