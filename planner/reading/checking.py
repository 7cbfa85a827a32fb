"""Whole catalogues and single files of any kind, read only to say what is wrong with them."""

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from planner.model.catalogue import Catalogue
from planner.problems import InputError, Problem
from planner.reading.catalogue import read_catalogue, read_job, read_loom, read_parts
from planner.reading.standards import STANDARDS, read_standards
from planner.reading.validate import met
from planner.reading.yaml_source import read_document

FileKind = Literal["parts", "loom", "job"]


def check_catalogue(directories: Sequence[Path]) -> Catalogue:
    """Read catalogue directories with every loom, job and published table in them.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    catalogue = read_catalogue(directories)
    problems: dict[Problem, None] = {}
    for path in (*catalogue.loom_files.values(), *catalogue.job_files.values()):
        try:
            check_file(path, catalogue)
        except InputError as error:
            # A loom's faults come up again with each of its jobs.
            problems |= dict.fromkeys(error.problems)
    if any((directory / STANDARDS).exists() for directory in directories):
        try:
            read_standards(directories)
        except InputError as error:
            problems |= dict.fromkeys(error.problems)
    if problems:
        raise InputError(tuple(problems))
    return catalogue


def check_file(path: Path, catalogue: Catalogue) -> FileKind:
    """Check one file of parts, loom or job against a catalogue and say which it is.

    Raises
    ------
    InputError
        With every fault of the file, and of the loom that a job names.
    """
    document = read_document(path)
    data = document.data
    if isinstance(data, list):
        read_parts(path, catalogue)
        return "parts"
    if isinstance(data, dict) and "job" in data:
        read_job(path, catalogue)
        return "job"
    if isinstance(data, dict) and "loom" in data:
        read_loom(path, catalogue)
        return "loom"
    message = f"this is no list of parts, loom or job, got {met(data)}"
    hint = "a list of parts, or a mapping that starts with loom: or job:"
    raise InputError([Problem(document.value_place(()), message, hint=hint)])
