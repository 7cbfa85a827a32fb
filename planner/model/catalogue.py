"""A catalogue: the parts and roles at hand, and the files that looms and jobs are read from."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from pydantic import Field

from planner.model.elements import Record
from planner.model.part import Part, Role
from planner.model.standards import Standards
from planner.problems import FilePlace, InputError, Problem


class Publication(Record):
    """Where a part's data come from."""

    title: str = Field(min_length=1)
    edition: str | None = None
    page: str | None = None
    basis: str = Field(
        min_length=1, description="how the data were had: measured, read there, memory, invented"
    )


def _no_standards() -> Standards:
    message = "this catalogue was put together without published tables"
    raise InputError([Problem(FilePlace("standards"), message)])


@dataclass(frozen=True)
class Catalogue:
    """Everything read from the catalogue directories; looms and jobs are only found, not yet read."""

    roles: Mapping[str, Role]
    sources: Mapping[str, Publication]
    parts: Mapping[str, Part]
    part_places: Mapping[str, FilePlace]
    loom_files: Mapping[str, Path]
    job_files: Mapping[str, Path]
    load_standards: Callable[[], Standards] = field(default=_no_standards, repr=False, compare=False)

    @cached_property
    def standards(self) -> Standards:
        """The published tables, read when first asked for; raises InputError if they cannot be used."""
        return self.load_standards()
