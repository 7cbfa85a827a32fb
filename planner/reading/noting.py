"""Notes which files and folders are read, and how each looked then, so that a change can be noticed."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path

Stamp = tuple[int, int] | None  # when it was changed in ns, and its bytes; None if it is not there
_NOTED: ContextVar[dict[Path, Stamp] | None] = ContextVar("noted", default=None)


def stamp(path: Path) -> Stamp:
    """How a file or folder looks now."""
    try:
        found = path.stat()
    except (OSError, ValueError):  # not there, or a name that no file can have
        return None
    return found.st_mtime_ns, found.st_size


def note(path: Path) -> None:
    """Note that a file or folder is about to be read; nothing is done where nobody asked."""
    noted = _NOTED.get()
    if noted is not None and path not in noted:
        noted[path] = stamp(path)


@contextmanager
def noted_files() -> Iterator[dict[Path, Stamp]]:
    """All that is read meanwhile, each as it looked before it was read first."""
    noted: dict[Path, Stamp] = {}
    token = _NOTED.set(noted)
    try:
        yield noted
    finally:
        _NOTED.reset(token)
