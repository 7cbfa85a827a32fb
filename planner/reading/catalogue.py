"""Catalogue directories, looms and jobs: from folders and names to checked models.

A catalogue directory may hold ``roles.yaml``, ``sources.yaml``, ``parts/*.yaml`` (a list of parts each),
``looms/*.yaml`` and ``jobs/*.yaml`` (one mapping each), and published tables in ``standards/*.csv``. Looms
and jobs are found by their id; they and the tables are read only when asked for, and so are parts, if wished.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib.metadata import entry_points
from os.path import normpath
from pathlib import Path

from planner.model.catalogue import Catalogue, Publication
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.part import Part, Role
from planner.problems import FilePlace, InputError, Problem
from planner.reading.fed_references import left_unfed_problems, unfed_problems
from planner.reading.job_references import asking_nothing, check_job
from planner.reading.loom_file import MOST_FILES, complete, without_feed_lines
from planner.reading.loom_references import check_loom
from planner.reading.noting import note
from planner.reading.part_files import PartFile
from planner.reading.part_shelf import PartPlaces, PartsInFiles
from planner.reading.standards import STANDARDS, read_standards
from planner.reading.unknown_names import in_own_folder
from planner.reading.validate import MOST_FAULTS, Model, build, met, suggest
from planner.reading.yaml_source import Document, read_document, shown_name

ENTRY_POINTS = "loomwright.catalogs"
HOLDS = ("roles.yaml", "sources.yaml", "parts", "looms", "jobs", STANDARDS)
_ID_LINES = {
    kind: re.compile(rf"^{kind}:[ \t]+([a-z0-9][a-z0-9.-]*)[ \t]*(?:[ \t]#.*)?\r?$", re.MULTILINE)
    for kind in ("loom", "job")
}
MOST_LISTED = 16
_NUMBERED = re.compile(r"^\d+-")


def installed_directories() -> list[Path]:
    """The catalogue directories of all installed packages, in the order of their names.

    Raises
    ------
    InputError
        If an installed package names a catalogue that it does not have.
    """
    found: dict[Path, None] = {}
    for entry in sorted(entry_points(group=ENTRY_POINTS), key=lambda e: (e.name, e.value)):
        try:
            directory: Callable[[], Path] = entry.load()
        except (ImportError, AttributeError) as error:
            message = f"the installed catalogue {entry.name!r} ({entry.value}) cannot be loaded: {error}"
            raise InputError([Problem(FilePlace(ENTRY_POINTS), message)]) from None
        found[directory().resolve()] = None
    return list(found)


def read_catalogue(directories: Sequence[Path]) -> Catalogue:
    """Read catalogue directories whole; later ones add to earlier ones.

    Raises
    ------
    InputError
        With every fault of every file, an id given twice among them.
    """
    reader = _Reader()
    known = reader.read_all(directories)
    return reader.catalogue(known, reader.take_parts())


def scan_catalogue(directories: Sequence[Path]) -> Catalogue:
    """Find what catalogue directories hold, and read parts, a file at a time, only when asked for.

    Raises
    ------
    InputError
        With every fault of roles and sources, an id given twice, and files whose parts cannot be found.
    """
    reader = _Reader()
    known = reader.read_all(directories)
    for file in reader.shelf.files:
        reader.problems += file.faults
    return reader.catalogue(known, reader.shelf)


def jobs_in(folder: Path) -> list[Path]:
    """The job files of one folder, told by the line ``job: id``; folders below it are not looked into."""
    files = sorted(folder.glob("*.yaml"))[:MOST_FILES]
    return [path for path in files if is_file(path) and _id_by_line(path, "job")]


def read_parts(path: Path, catalogue: Catalogue) -> list[Part]:
    """Read one file of parts, against the roles and sources of a catalogue.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    reader = _Reader(catalogue.roles, catalogue.sources)
    reader.find_parts(path)
    parts = reader.take_parts()
    _raise_any(reader.problems)
    return list(parts.values())


def read_loom(name: str | Path, catalogue: Catalogue) -> Loom:
    """Read a loom by its file or its id in the catalogue.

    Raises
    ------
    InputError
        With every fault of the file, or that there is no such loom.
    """
    path = _find(name, catalogue.loom_files, "loom")
    return _read_loom_file(path, catalogue)


def read_job(name: str | Path, catalogue: Catalogue) -> tuple[Job, Loom]:
    """Read a job and its loom by the job's file, its id or its file's name, with or without the number.

    Raises
    ------
    InputError
        With every fault of both files, or that there is no such job.
    """
    path = _find(name, catalogue.job_files, "job")
    document = _open_mapping(path, "job")
    job = _built(document, Job)
    loom = _read_loom_file(_loom_path(job, document, path, catalogue), catalogue)
    _take_parts((swap.fit for swap in job.swaps), catalogue)
    _raise_any(
        [
            *asking_nothing(job, document, loom),
            *check_job(job, document, loom, catalogue.parts),
            *left_unfed_problems(job, document, loom, catalogue.parts),
        ]
    )
    return job, loom


def read_jobs(catalogue: Catalogue) -> dict[str, Job]:
    """Every job of a catalogue by its id, without its loom.

    Raises
    ------
    InputError
        With every fault of every job's file.
    """
    jobs: dict[str, Job] = {}
    problems: list[Problem] = []
    for name, path in catalogue.job_files.items():
        try:
            jobs[name] = _built(_open_mapping(path, "job"), Job)
        except InputError as error:
            problems += error.problems
    _raise_any(problems)
    return jobs


def find_file(name: str, catalogue: Catalogue) -> Path:
    """The file of that name, or that of the loom or job of that name in the catalogue.

    Raises
    ------
    InputError
        That there is none.
    """
    return _find(name, {**catalogue.job_files, **catalogue.loom_files}, "loom or job")


def _read_loom_file(path: Path, catalogue: Catalogue) -> Loom:
    whole = _open_mapping(path, "loom")
    loom = _built(without_feed_lines(whole), Loom)
    _take_parts((place.part for place in loom.places.values()), catalogue)
    document, loom = complete(whole, loom, path, catalogue)
    _raise_any([*check_loom(loom, document, catalogue), *unfed_problems(loom, document, catalogue.parts)])
    return loom


def _take_parts(names: Iterable[str], catalogue: Catalogue) -> None:
    """Have parts read, so that the faults of all their files are said together."""
    problems: dict[Problem, None] = {}
    for name in names:
        try:
            catalogue.parts.get(name)
        except InputError as error:
            problems |= dict.fromkeys(error.problems)
    _raise_any(tuple(problems))


def _open_mapping(path: Path, kind: str) -> Document:
    document = read_document(path)
    if not isinstance(document.data, dict):
        message = f"a {kind} file holds one mapping, got {met(document.data)}"
        raise InputError([Problem(document.value_place(()), message)])
    return document


def _built(document: Document, model: type[Model]) -> Model:
    built, problems = build(model, document)
    if built is None:
        raise InputError(problems)
    return built


def _raise_any(problems: Sequence[Problem]) -> None:
    if problems:
        raise InputError(problems)


def _loom_path(job: Job, document: Document, job_file: Path, catalogue: Catalogue) -> Path:
    if job.loom in catalogue.loom_files:
        return catalogue.loom_files[job.loom]
    beside = job_file.parent / job.loom
    if is_file(beside):
        return beside
    message = (
        f"no loom is called {job.loom!r}, and no file beside the job is; a folder of your own looms and "
        "parts is given with --catalog DIR"
    )
    # Beside the job, or beside the folder of jobs that it is in, if that is not read already.
    given = {file.parent.resolve() for file in catalogue.loom_files.values()}
    folders = (job_file.parent, Path(normpath(job_file.parent / "..")))
    unread = [folder for folder in folders if (folder / "looms").resolve() not in given]
    own = next(filter(None, (in_own_folder(folder, "looms") for folder in unread)), None)
    hint = own or suggest(job.loom, catalogue.loom_files)
    raise InputError([Problem(document.value_place(("loom",)), message, hint=hint)])


def _find(name: str | Path, files: Mapping[str, Path], kind: str) -> Path:
    path = Path(name)
    if isinstance(name, Path) or is_file(path):
        return path
    if name in files:
        return files[name]
    for file in files.values():
        if name in (file.stem, _NUMBERED.sub("", file.stem)):
            return file
    if name and _is_folder(path) and (here := " or ".join(map(str, _files_in(path, kind)))):
        message = f"this is a folder, and no {kind} of that name"
        raise InputError([Problem(FilePlace(name), message, hint=here)])
    what = "this is a folder" if name and _is_folder(path) else "there is no file"
    message = f"{what} and no {kind} of that name"
    alike = [
        known for known in files if name and (name in known or set(name.split("-")) & set(known.split("-")))
    ]
    listed = f"one of: {', '.join(files)}"
    few = listed if len(files) <= MOST_LISTED else "another name: 'loomwright check' lists them all"
    hint = suggest(name, files) or (" or ".join(alike[:MOST_LISTED]) if alike else few)
    raise InputError([Problem(FilePlace(name or kind), message, hint=hint)])


def _files_in(folder: Path, kind: str) -> list[Path]:
    """The jobs of a folder, or its looms; both where both are meant."""
    files = sorted(folder.glob("*.yaml"))[:MOST_FILES]
    return [p for p in files if is_file(p) and any(_id_by_line(p, word) for word in kind.split(" or "))]


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:
        return False


def is_file(path: Path) -> bool:
    """Whether there is a file of this name; false for a name that no file can have."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


class _Reader:
    """Gathers what several directories hold, and what is wrong with it."""

    def __init__(
        self, roles: Mapping[str, Role] | None = None, sources: Mapping[str, Publication] | None = None
    ) -> None:
        self.problems: list[Problem] = []
        self.roles = dict(roles or {})
        self.sources = dict(sources or {})
        self.shelf = PartsInFiles()
        self.places: dict[tuple[str, str], FilePlace] = {}
        self.loom_files: dict[str, Path] = {}
        self.job_files: dict[str, Path] = {}

    def catalogue(self, directories: Sequence[Path], parts: Mapping[str, Part]) -> Catalogue:
        _raise_any(self.problems)
        return Catalogue(
            self.roles,
            self.sources,
            parts,
            PartPlaces(self.shelf),
            self.loom_files,
            self.job_files,
            lambda: read_standards(directories),
        )

    def read_all(self, directories: Sequence[Path]) -> tuple[Path, ...]:
        """Read each directory once, and say which these are."""
        known: dict[Path, Path] = {}
        for directory in directories:
            if directory.resolve() not in known:
                known[directory.resolve()] = directory
                self.read(directory)
        return tuple(known.values())

    def read(self, directory: Path) -> None:
        if not directory.is_dir():
            self._fault(FilePlace(shown_name(directory)), "there is no such catalogue folder")
            return
        if not any((directory / name).exists() for name in HOLDS):
            self._fault(FilePlace(shown_name(directory)), f"holds none of {', '.join(HOLDS)}")
        self._read_names(directory / "roles.yaml", "role", Role, self.roles)
        self._read_names(directory / "sources.yaml", "source", Publication, self.sources)
        for path in self._files_in(directory / "parts"):
            self.find_parts(path)
        for kind, files in (("loom", self.loom_files), ("job", self.job_files)):
            for path in self._files_in(directory / f"{kind}s"):
                self._find_id(path, kind, files)

    def _files_in(self, folder: Path) -> list[Path]:
        note(folder)
        for path in sorted(folder.glob("*.yml")):
            self._fault(FilePlace(shown_name(path)), "is not read", "a name that ends in .yaml")
        return sorted(folder.glob("*.yaml"))

    def _fault(self, place: FilePlace, message: str, hint: str | None = None) -> None:
        self.problems.append(Problem(place, message, hint=hint))

    def _open(self, path: Path) -> Document | None:
        try:
            return read_document(path)
        except InputError as error:
            self.problems += error.problems
            return None

    def _is_new(self, kind: str, name: str, place: FilePlace) -> bool:
        first = self.places.setdefault((kind, name), place)
        if first is not place:
            self._given_twice(kind, name, place, first)
        return first is place

    def _given_twice(self, kind: str, name: str, place: FilePlace, first: FilePlace) -> None:
        related = ((first, "first given here"),)
        self.problems.append(Problem(place, f"{kind} {name!r} is given twice", related, "another id"))

    def _read_names(self, path: Path, kind: str, model: type[Model], into: dict[str, Model]) -> None:
        document = self._open(path) if path.exists() else None
        if document is None:
            return
        if not isinstance(document.data, dict):
            self._fault(
                document.value_place(()), f"must map each {kind} to what it is, got {met(document.data)}"
            )
            return
        for name in document.data:
            built, problems = build(model, document, (name,))
            self.problems += problems
            if built is not None and self._is_new(kind, name, document.key_place((name,))):
                into[name] = built
            if len(self.problems) >= MOST_FAULTS:
                return

    def find_parts(self, path: Path) -> None:
        try:
            file = PartFile(path, (self.roles, self.sources))
        except InputError as error:
            self.problems += error.problems
            return
        for entry, first in self.shelf.add(file):
            self._given_twice("part", entry.name, entry.place, first)

    def take_parts(self) -> dict[str, Part]:
        """All parts of all files, as far as they can be used."""
        parts: dict[str, Part] = {}
        for file in self.shelf.files:
            try:
                parts |= file.parts
            except InputError as error:
                self.problems += error.problems
        return parts

    def _find_id(self, path: Path, kind: str, files: dict[str, Path]) -> None:
        name, place = _id_by_line(path, kind) or _id_by_parsing(path, kind)
        if self._is_new(kind, name, place):
            files[name] = path


def _id_by_line(path: Path, kind: str) -> tuple[str, FilePlace] | None:
    """The id from the line that usually holds it, without parsing the file."""
    note(path)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return None
    found = _ID_LINES[kind].search(text)
    if found is None:
        return None
    line = text.count("\n", 0, found.start()) + 1
    return found.group(1), FilePlace(shown_name(path), line, found.start(1) - found.start() + 1)


def _id_by_parsing(path: Path, kind: str) -> tuple[str, FilePlace]:
    """The id wherever it stands; the file's own name if it has none, so that reading it can say so."""
    try:
        document = read_document(path)
    except InputError:
        return path.stem, FilePlace(shown_name(path))
    data = document.data
    name = data.get(kind) if isinstance(data, dict) else None
    return (
        (name, document.value_place((kind,)))
        if isinstance(name, str)
        else (path.stem, document.value_place(()))
    )
