"""A name in a file that points at nothing: its place, and the nearest that exist."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from planner.model.names import meanings_of_name
from planner.problems import FilePlace, Problem
from planner.reading.validate import suggest
from planner.reading.yaml_source import DataPath, Document

Values = Mapping[str, tuple[str, ...]]


def unknown(
    document: Document,
    path: DataPath,
    what: str,
    name: str,
    known: Iterable[str],
    *,
    key: bool = False,
    related: tuple[tuple[FilePlace, str], ...] = (),
) -> Problem:
    """A name that nothing has, at its place, with the nearest that something has."""
    place = document.key_place(path) if key else document.value_place(path)
    own = in_own_folder(Path(document.file).parent, "parts") if what == "part" else None
    return Problem(place, f"no {what} is called {name!r}", related, own or suggest(name, known))


def in_own_folder(folder: Path, kind: str) -> str | None:
    """What to add where one's own parts or looms lie in a folder: nothing in it is read unasked."""
    own = folder / kind
    return f"--catalog {folder}, if it is one of your own in {own}" if own.is_dir() else None


def item_path(document: Document, path: DataPath, name: str) -> DataPath:
    """The path of one name in a list, or of the value itself where it was given alone."""
    value = document.at(document.nearest(path))
    return (*path, value.index(name)) if isinstance(value, list) and name in value else path


def unknown_labels(
    labels: Iterable[str], known: tuple[str, ...], name: str, document: Document, path: DataPath
) -> Iterator[Problem]:
    """Yield a problem for each label that is not among those known."""
    for label in labels:
        if label not in known:
            yield unknown(document, item_path(document, path, label), f"value of {name!r}", label, known)


def when_problems(
    when: Mapping[str, tuple[str, ...]], document: Document, path: DataPath, variables: Values
) -> Iterator[Problem]:
    """Yield a problem for each control of a condition that is unknown or may mean several, and each label."""
    for name, labels in when.items():
        here = (*path, name)
        meant = meanings_of_name(name, variables)
        if len(meant) == 1:
            yield from unknown_labels(labels, variables[meant[0]], name, document, here)
        elif meant:
            message = f"{name!r} may mean {len(meant)} things here"
            yield Problem(document.key_place(here), message, hint=" or ".join(meant[:4]))
        else:
            known = {*variables, *(full.partition("/")[2] for full in variables if "/" in full)}
            problem = unknown(document, here, "condition or control", name, known, key=True)
            added = f"if the vehicle has it, {name} with its values under conditions in the loom"
            yield replace(problem, hint=problem.hint or added)
