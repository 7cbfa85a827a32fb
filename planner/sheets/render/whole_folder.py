"""Writes a new folder whole or not at all."""

import shutil
from collections.abc import Callable, Mapping
from pathlib import Path
from tempfile import mkdtemp

from planner.problems import UsageError


def write_folder(
    folder: Path, files: Mapping[str, bytes], check: Callable[[Path], object] | None = None
) -> None:
    """Write files, by their names within the folder; a folder that is there must be empty.

    ``check`` is given the folder before it has its name, and raises if it may not have it.

    Raises
    ------
    UsageError
        If something is there already, or it cannot be written. Nothing is left behind then.
    """
    refused = f"{folder} is not made"
    try:
        if what := in_the_way(folder):
            raise UsageError(f"{refused}: {what}")
        parent = folder.resolve().parent
        beside = Path(mkdtemp(prefix=".new-", dir=parent))
    except (OSError, ValueError) as error:
        raise UsageError(f"{refused}: {getattr(error, 'strerror', None) or error}") from None
    try:
        for name, content in files.items():
            path = beside / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        if check is not None:
            check(beside)
        beside.chmod(0o755)  # a temporary folder is for its owner only
        if folder.exists():  # it may be the one that somebody stands in: it is filled, not exchanged
            _fill(folder, beside)
        else:
            beside.replace(folder.resolve())
    except OSError as error:
        raise UsageError(f"{refused}: {error.strerror or error}") from None
    finally:
        shutil.rmtree(beside, ignore_errors=True)  # there is none once it has its name


def in_the_way(folder: Path) -> str:
    """What keeps a folder from being made or filled: something in it, a file of its name; else nothing."""
    if folder.is_dir():
        return "it is there already and not empty" if any(folder.iterdir()) else ""
    return "a file of that name is there" if folder.exists() or folder.is_symlink() else ""


def _fill(folder: Path, beside: Path) -> None:
    """Move what is in one folder into an empty one, all of it or nothing."""
    moved: list[Path] = []
    try:
        moved.extend(entry.replace(folder / entry.name) for entry in sorted(beside.iterdir()))
    except OSError:
        for entry in moved:
            shutil.rmtree(entry) if entry.is_dir() else entry.unlink()
        raise
