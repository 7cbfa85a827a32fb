"""A catalogue: the parts and roles at hand, and the files that looms and jobs are read from."""

from abc import abstractmethod
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import inf
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
    def family(self, name: str, words: Sequence[str] = ()) -> Iterator[str]:
        """Yield the ids of parts of a family among which are all that say every one of some words."""

    @abstractmethod
    def mentioning(self, word: str) -> Iterator[str]:
        """Yield the ids of parts among which are all that say a word."""

    @abstractmethod
    def figures(self, part: str, key: str) -> Sequence[float] | None:
        """Figures among which are all that a part gives under a key, without reading it; None if untold."""


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
        """Yield the parts of a family that have a terminal of each of some roles, by their ids."""
        parts = (self.parts[part] for part in sorted(self._near(name, roles)))
        return (part for part in parts if {*roles} <= {t.role for t in part.terminals.values()})

    def ids_by_figure(
        self, family: str, roles: Sequence[str], key: str, least: float
    ) -> list[tuple[float, str]]:
        """Ids of a family's parts, each with a figure, in their order: no figure of the part is less.

        Looked at are figures under a key that are not below ``least``; inf where a part gives none. Nothing
        is read for it, so ids of parts without some of the roles may be among them.
        """

        def bound(part: str) -> float:
            told = self.parts.figures(part, key) if isinstance(self.parts, PartShelf) else None
            return least if told is None else min((f for f in told if f >= least), default=inf)

        return sorted((bound(part), part) for part in self._near(family, roles))

    def _near(self, family: str, roles: Sequence[str]) -> Iterator[str]:
        """Yield the ids of a family's parts, of a shelf only of those that mention some roles."""
        if isinstance(self.parts, PartShelf):
            return self.parts.family(family, roles)
        return (name for name, part in self.parts.items() if part.family == family)

    def with_element(self, kind: str) -> Iterator[Part]:
        """Yield the parts that have a kind of element inside."""
        near: Iterable[str] = self.parts.mentioning(kind) if isinstance(self.parts, PartShelf) else self.parts
        return (
            part
            for part in map(self.parts.__getitem__, near)
            if any(element.element == kind for element in part.inside)
        )
