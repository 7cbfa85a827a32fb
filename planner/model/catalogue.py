"""A catalogue: the parts and roles at hand, and the files that looms and jobs are read from."""

from abc import abstractmethod
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
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


class PartShelf(Mapping[str, Part]):
    """Parts that are read when they are asked for; asking raises InputError if they cannot be used."""

    @abstractmethod
    def family(self, name: str, words: Sequence[str] = ()) -> Iterator[Part]:
        """Yield parts of a family among which are all that say every one of some words."""

    @abstractmethod
    def mentioning(self, word: str) -> Iterator[Part]:
        """Yield parts among which are all that say a word."""


def _no_standards() -> Standards:
    message = "this catalogue was put together without published tables"
    raise InputError([Problem(FilePlace("standards"), message)])


@dataclass(frozen=True)
class Catalogue:
    """What the catalogue directories hold; looms and jobs are only found, and parts may be (PartShelf).

    Going through all ``parts`` reads them all: a rule asks for a family or a kind of element.
    """

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

    def family(self, name: str, roles: Sequence[str] = ()) -> Iterator[Part]:
        """Yield the parts of a family that have a terminal of each of some roles."""
        of_family: Iterable[Part] = (part for part in self.parts.values() if part.family == name)
        if isinstance(self.parts, PartShelf):
            of_family = self.parts.family(name, roles)
        return (part for part in of_family if {*roles} <= {t.role for t in part.terminals.values()})

    def with_element(self, kind: str) -> Iterator[Part]:
        """Yield the parts that have a kind of element inside."""
        near = self.parts.mentioning(kind) if isinstance(self.parts, PartShelf) else self.parts.values()
        return (part for part in near if any(element.element == kind for element in part.inside))
