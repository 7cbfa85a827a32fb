"""The columns of a wire list, and what the heading of a column says of the numbers and letters below it."""

import re

from planner.reading.colour_codes import HEADED
from planner.reading.headings import Column
from planner.reading.lengths import METRES
from planner.reading.typed_values import plain

_UNIT_WORDS = [unit for unit in METRES if unit.isalpha()]
_LENGTHS = ("length", "len", "wire length")
_SIZES = ("size", "wire size", "cable size", "conductor size", "cross section", "section", "csa", "area")
_COLOURS = ("colour", "color", "wire colour", "wire color", "colours", "colors", "col")
_BESIDE = ("terminal", "term", "terminal no", "pin", "pin no", "mark", "tab", "contact", "position", "at")
_TRACERS = ("tracer", "trace", "stripe", "second")
COLUMNS = (
    Column("wire", also=("wire no", "wire number", "wire id", "no", "nr", "number", "id", "wire mark")),
    Column(
        "colour",
        also=(
            *_COLOURS[1:],
            "colour code",
            "color code",
            *(f"{colour} {code}" for colour in _COLOURS for code in HEADED),
            "colour bs au 7",
            "color bs au 7",
            "colour iec 60757",
            "color iec 60757",
            *(f"{which} {colour}" for which in ("main", "base", "body", "ground") for colour in _COLOURS),
            "base",
        ),
        required=True,
    ),
    Column(
        "tracer",
        also=("trace", "stripe", *(f"{which} {c}" for which in _TRACERS for c in ("colour", "color", "col"))),
    ),
    Column(
        "mm2",
        also=(
            *("sq mm", "awg", "gauge", "strands"),
            *_SIZES,
            *(f"{size} {unit}" for size in _SIZES for unit in ("mm2", "sq mm", "awg")),
        ),
        required=True,
    ),
    Column(
        "metres",
        also=(
            *(unit for unit in _UNIT_WORDS if unit not in ("metres", "in")),
            *_LENGTHS,
            *(f"{length} {unit}" for length in _LENGTHS for unit in _UNIT_WORDS),
            *(f"{length} in {unit}" for length in _LENGTHS for unit in _UNIT_WORDS),
        ),
        required=True,
    ),
    Column(
        "from",
        also=("from place", "from end", "start", "end 1", "from part"),
        required=True,
        beside=_BESIDE,
    ),
    Column("from terminal", also=("from pin", "from mark", "from tab")),
    Column(
        "to",
        also=("to place", "to end", "end 2", "to part", "then to", "on to", "and to", "and on to"),
        required=True,
        many=True,
        beside=_BESIDE,
    ),
    Column("to terminal", also=("to pin", "to mark", "to tab")),
    Column("known", also=("weight", "how known", "how well known")),
    Column("fittings", also=("fitting", "end fittings")),
    Column("bundle", also=("taped with", "lies in")),
    Column("insulation"),
    Column("note", also=("notes", "remark", "remarks", "comment", "comments"), lines=True),
)


def length_unit(heading: str) -> str | None:
    """The unit that a heading of lengths names: ``mm`` of ``Length (mm)``."""
    words = re.findall(r"[a-z]+", plain(heading))
    # The last one: in "length in mm" the first is no inch.
    return next((word for word in reversed(words) if word in METRES), None)


def size_unit(heading: str) -> str | None:
    """``mm2`` or ``awg``, if the heading of sizes says which."""
    said = plain(heading)
    if re.search(r"mm ?\^?2|sq\.? ?mm|qmm", said):
        return "mm2"
    return "awg" if re.search(r"awg|gauge", said) else None
