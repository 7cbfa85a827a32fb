"""A loom's file with what it leaves to others: feeds said in one line, and a wire list beside it."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.names import variables_of
from planner.problems import FilePlace, InputError, Problem
from planner.reading.feed_lines import read_feed_line
from planner.reading.loom_references import check_loom
from planner.reading.typed_values import NotUnderstood
from planner.reading.validate import build
from planner.reading.yaml_source import DataPath, Document, read_document, shown_name

if TYPE_CHECKING:
    from planner.reading.wire_list import WireList

MOST_FILES = 200  # in a folder in which the loom of a list is looked for


def loom_of_list(path: Path) -> Path | None:
    """The loom's file beside a wire list that names it; InputError if several do."""
    found = [file for file in sorted(path.parent.glob("*.yaml"))[:MOST_FILES] if _names(file, path.name)]
    if len(found) > 1:
        message = f"{len(found)} looms name this list: {', '.join(file.name for file in found)}"
        raise InputError([Problem(FilePlace(shown_name(path)), message, hint="a list for each")])
    return found[0] if found else None


def _names(file: Path, wire_list: str) -> bool:
    """Whether a file is a loom's that names this list; one that cannot be read is not."""
    try:
        data = read_document(file).data
    except InputError:
        return False
    return isinstance(data, dict) and "loom" in data and data.get("wire_list") == wire_list


def without_feed_lines(document: Document) -> Document:
    """The document of a loom without the feeds that are said in one line, which are no models yet."""
    feeds = document.data.get("feeds")
    if not isinstance(feeds, dict) or not _lines(document):
        return document
    kept = {name: feed for name, feed in feeds.items() if not isinstance(feed, str)}
    return _with(document, {"feeds": kept}, {})


def complete(document: Document, draft: Loom, path: Path, catalogue: Catalogue) -> tuple[Document, Loom]:
    """Add to a loom what its one-line feeds and its wire list say.

    ``document`` is that of the whole file, ``draft`` the loom without its feeds in one line.

    Raises
    ------
    InputError
        With every such feed and every row of the list that cannot be read.
    """
    if not _lines(document) and draft.wire_list is None:
        return document, draft
    document = _with_feeds(document, draft, catalogue)
    loom = _built(document)
    if loom.wire_list is None:
        return document, loom
    wires = open_wire_list(path.parent / loom.wire_list, loom, catalogue)
    if wires.problems:
        # What is wrong with the loom itself may be why.
        raise InputError((*wires.problems, *check_loom(loom, document, catalogue)))
    document = _with_wires(document, wires)
    return document, _built(document)


def open_wire_list(path: Path, loom: Loom | None, catalogue: Catalogue) -> "WireList":
    """Read a wire list, against its loom if there is one; InputError if it cannot be read as a whole."""
    from planner.reading.wire_list import read_wire_list  # noqa: PLC0415 - most looms have no list

    return read_wire_list(path, loom, catalogue.parts, lambda: catalogue.standards.gauges, catalogue.roles)


def loom_without_list(path: Path, catalogue: Catalogue) -> Loom:
    """A loom as its own file has it, without its wire list; InputError with every fault of the file."""
    document = read_document(path)
    return _built(_with_feeds(document, _built(without_feed_lines(document)), catalogue))


def _lines(document: Document) -> Mapping[str, str]:
    """The feeds of a loom's document that are said in one line."""
    feeds = document.data.get("feeds")
    return (
        {name: feed for name, feed in feeds.items() if isinstance(feed, str)}
        if isinstance(feeds, dict)
        else {}
    )


def _with_feeds(document: Document, draft: Loom, catalogue: Catalogue) -> Document:
    variables = variables_of(draft, catalogue.parts)
    feeds: dict[str, Any] = dict(document.data.get("feeds", {}))
    problems: list[Problem] = []
    for name, line in _lines(document).items():
        try:
            feeds[name] = read_feed_line(line, variables)
        except NotUnderstood as error:
            problems.append(Problem(document.value_place(("feeds", name)), error.message, hint=error.hint))
    if problems:
        raise InputError(problems)
    return _with(document, {"feeds": feeds} if feeds else {}, {})


def _with_wires(document: Document, wires: "WireList") -> Document:
    own = document.data.get("wires") or []
    elsewhere: dict[DataPath, FilePlace] = {}
    for index, row in enumerate(wires.rows, len(own)):
        elsewhere["wires", index] = row.start
        for key, place in row.places.items():
            elsewhere["wires", index, *key] = place
    elsewhere |= {("feeds", name): place for name, place in wires.feed_places.items()}
    feeds = {**(document.data.get("feeds") or {}), **wires.feeds}
    added = {"wires": [*own, *(row.data for row in wires.rows)]}
    return _with(document, added | ({"feeds": feeds} if feeds else {}), elsewhere)


def _with(document: Document, data: Mapping[str, Any], elsewhere: Mapping[DataPath, FilePlace]) -> Document:
    return Document(
        document.file,
        {**document.data, **data},
        document.keys,
        document.values,
        {**document.elsewhere, **elsewhere},
    )


def _built(document: Document) -> Loom:
    loom, problems = build(Loom, document)
    if loom is None:
        raise InputError(problems)
    return loom
