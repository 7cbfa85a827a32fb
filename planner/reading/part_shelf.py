"""The parts of many files by their ids: which file each is in, and where it stands there.

With 10,000 parts every run passes here, so a file is asked for ids only; what stands where is looked for in
the files of which something is wanted.
"""

from collections.abc import Iterator, Mapping, Sequence

from planner.model.catalogue import PartShelf
from planner.model.part import Part
from planner.problems import FilePlace
from planner.reading.part_files import Entry, PartFile


class PartsInFiles(PartShelf):
    """The parts of many files by their ids, in the order of the files."""

    def __init__(self) -> None:
        self.files: list[PartFile] = []
        self._where: dict[str, PartFile] = {}
        self._taken: dict[str, Part] = {}

    def add(self, file: PartFile) -> list[tuple[Entry, FilePlace]]:
        """Put a file's parts on the shelf, and tell those whose id is there already, each with where."""
        self.files.append(file)
        named = file.parts_named
        new = dict.fromkeys(named, file)
        if len(new) == len(named) and self._where.keys().isdisjoint(new):
            self._where |= new
            return []
        again: list[tuple[Entry, FilePlace]] = []
        for entry in file.entries:
            if entry.name in self._where:
                again.append((entry, self.place(entry.name)))
            else:
                self._where[entry.name] = file
        return again

    def place(self, name: str) -> FilePlace:
        """Where a part of the shelf stands; KeyError if there is none of that id."""
        return self._where[name].entry(name).place

    def family(self, name: str, words: Sequence[str] = ()) -> Iterator[str]:
        """Yield the ids of parts of a family among which are all that say every one of some words."""
        return (
            entry.name
            for file in self.files
            for entry in file.of_family(name)
            if all(file.mentions(entry, word) for word in words)
        )

    def mentioning(self, word: str) -> Iterator[str]:
        """Yield the ids of parts among which are all that say a word."""
        return (entry.name for file in self.files for entry in file.entries if file.mentions(entry, word))

    def figures(self, part: str, key: str) -> Sequence[float] | None:
        """Figures among which are all that a part gives under a key, without reading it; None if untold."""
        file = self._where[part]
        return file.figures(file.entry(part), key)

    def __getitem__(self, name: str) -> Part:
        taken = self._taken.get(name)
        if taken is None:
            file = self._where[name]
            taken = self._taken[name] = file.take(file.entry(name))
        return taken

    def __contains__(self, name: object) -> bool:
        return name in self._where

    def __iter__(self) -> Iterator[str]:
        return iter(self._where)

    def __len__(self) -> int:
        return len(self._where)


class PartPlaces(Mapping[str, FilePlace]):
    """Where each part of a shelf stands, looked for when it is asked."""

    def __init__(self, shelf: PartsInFiles) -> None:
        self._shelf = shelf

    def __getitem__(self, name: str) -> FilePlace:
        return self._shelf.place(name)

    def __iter__(self) -> Iterator[str]:
        return iter(self._shelf)

    def __len__(self) -> int:
        return len(self._shelf)
