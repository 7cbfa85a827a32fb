"""Whole catalogues and single files of any kind, read only to say what is wrong with them."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Loom
from planner.problems import InputError, Problem
from planner.reading.catalogue import read_catalogue, read_job, read_loom, read_parts
from planner.reading.standards import STANDARDS, read_standards
from planner.reading.validate import met
from planner.reading.yaml_source import read_document

FileKind = Literal["parts", "loom", "job"]


@dataclass(frozen=True, slots=True)
class CheckedFile:
    """A file in which nothing is wrong, and what was read from it; the loom of a job as well."""

    kind: FileKind
    loom: Loom | None = None
    job: Job | None = None


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


def check_file(path: Path, catalogue: Catalogue) -> CheckedFile:
    """Check one file of parts, loom or job against a catalogue.

    Raises
    ------
    InputError
        With every fault of the file, and of the loom that a job names.
    """
    document = read_document(path)
    data = document.data
    if isinstance(data, list):
        read_parts(path, catalogue)
        return CheckedFile("parts")
    if isinstance(data, dict) and "job" in data:
        job, loom = read_job(path, catalogue)
        return CheckedFile("job", loom, job)
    if isinstance(data, dict) and "loom" in data:
        return CheckedFile("loom", read_loom(path, catalogue))
    message = f"this is no list of parts, loom or job, got {met(data)}"
    hint = "a list of parts, or a mapping that starts with loom: or job:"
    raise InputError([Problem(document.value_place(()), message, hint=hint)])
