"""Writes a file whole or not at all, and never over another one unasked."""

import os
from collections.abc import Mapping
from pathlib import Path
from tempfile import NamedTemporaryFile

from planner.problems import UsageError


def write_whole(path: Path, content: bytes, *, overwrite: bool = False) -> None:
    """Write a file beside its place first and then put it there, so that no half of it is ever seen.

    Raises
    ------
    UsageError
        If something of that name is there, unless it is a file and may go, or if it cannot be written.
    """
    if path.is_dir() or (path.exists() and not overwrite):
        what = "a folder of that name is there" if path.is_dir() else "it is there already"
        raise UsageError(f"{path} is not written: {what}")
    try:
        with NamedTemporaryFile(dir=path.parent, prefix=".", suffix=path.suffix, delete=False) as stream:
            stream.write(content)
    except OSError as error:
        raise UsageError(f"{path} is not written: {error.strerror or error}") from None
    try:
        umask = os.umask(0)
        os.umask(umask)
        Path(stream.name).chmod(0o666 & ~umask)  # temporary files are readable by their owner only
        Path(stream.name).replace(path)
    except OSError as error:
        Path(stream.name).unlink(missing_ok=True)
        raise UsageError(f"{path} is not written: {error.strerror or error}") from None


def write_all(directory: Path, files: Mapping[str, bytes], *, overwrite: bool = False) -> None:
    """Write files by name into a folder, which is made if it is not there; none if one of them may not go.

    Raises
    ------
    UsageError
        If the folder cannot be made, or as ``write_whole`` does.
    """
    try:
        directory.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise UsageError(f"{directory} cannot be written to: {error.strerror or error}") from None
    for path in (directory / name for name in files):
        if path.is_dir() or (path.exists() and not overwrite):
            hint = "" if path.is_dir() else "; --force replaces it"
            raise UsageError(f"{path} is there already, so nothing is written{hint}")
    for name, content in files.items():
        (directory / name).parent.mkdir(exist_ok=True)
        write_whole(directory / name, content, overwrite=overwrite)
