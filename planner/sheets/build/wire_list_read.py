"""What each row of a wire list was read as, to be held against the list itself."""

from collections.abc import Iterator, Mapping
from typing import Any

from planner.model.loom import Loom
from planner.model.wording import address_words, colour_words, counted, fitting_words
from planner.reading.wire_list import WireList
from planner.reading.wire_rows import WireRow
from planner.sheets.sheet import Cell, Item, Listing, Section, Sheet, bullets, say


def wire_list_sheet(file: str, wires: WireList, loom: Loom | None) -> Sheet:
    """The rows that could be read; of the others only how many there are, for each is named by its fault."""
    sections = [Section("", (Listing(tuple(_item(row, loom) for row in wires.rows)),))] if wires.rows else []
    remarks = tuple(_remarks(wires, loom))
    if remarks:
        sections.append(Section("Mind", (bullets(remarks),)))
    none = Section("", (say("No row could be read."),))
    return Sheet(f"Read from {file}: {counted(len(wires.rows), 'wire')}", tuple(sections) or (none,))


def wire_list_json(file: str, wires: WireList, loom: Loom | None) -> dict[str, Any]:
    """The same for a program: the wires as a loom's file says them, each with its row."""
    return {
        "file": file,
        "kind": "wire list",
        "loom": loom.loom if loom else None,
        "wires": [{"row": row.start.line, **row.data, **_as_numbers(row)} for row in wires.rows],
        "feeds": dict(wires.feeds),
        "unread": list(wires.unread),
    }


def _as_numbers(row: WireRow) -> dict[str, list[float]]:
    return {key: [float(value) for value in row.data[key]] for key in ("mm2", "metres")}


def _item(row: WireRow, loom: Loom | None) -> Item:
    data = row.data
    legs = ", ".join(
        [
            " then ".join(colour_words(code) for code in data["colour"]),
            f"{' then '.join(map(_plain, data['mm2']))} mm2",
            f"{' then '.join(map(_plain, data['metres']))} m",
        ]
    )
    first, *others = (_end(end, loom) for end in data["ends"])
    body = f"wire {data['wire']}, {legs}, from {first} to {', on to '.join(others)}; {data['known']}"
    below = [f"{key}: {data[key]}" for key in ("note", "bundle", "insulation") if key in data]
    sign = Cell(f"row {row.start.line}:", "quiet")
    return Item(sign, Cell(body), tuple(Cell(text, "note") for text in below))


def _end(end: Mapping[str, str], loom: Loom | None) -> str:
    words = address_words(loom, end["at"]) if loom else end["at"]
    more = [
        *([f"with {fitting_words(end['fitting'])}"] if "fitting" in end else []),
        *([end["known"]] if "known" in end else []),
        *(["covered"] if "covered" in end else []),
    ]
    return f"{words} ({', '.join(more)})" if more else words


def _remarks(wires: WireList, loom: Loom | None) -> Iterator[str]:
    for name, feed in wires.feeds.items():
        yield f"{name} is a feed at the edge: {_feed(feed)}"
    if wires.unread:
        yield f"not read, for no such column is known: {', '.join(wires.unread)}"
    if loom is None:
        yield (
            "no loom beside this list names it (wire_list: in the loom's file), so nobody has looked up "
            "where the wires go"
        )


def _feed(feed: Mapping[str, Any]) -> str:
    when = " and ".join(f"{name} at {' or '.join(labels)}" for name, labels in feed.get("when", {}).items())
    fuse = f", fuse {feed['fuse_amps']} A" if "fuse_amps" in feed else ", no fuse known"
    return f"role {feed['role']}, live {f'with {when}' if when else 'always'}{fuse}"


def _plain(number: str) -> str:
    return number.removesuffix(".0")
