"""One row of a wire list as a wire in the form of a loom's file, with the place of each of its values."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, get_args

from planner.model.loom import Known
from planner.problems import FilePlace, InputError
from planner.reading.colour_words import TypedColour, read_legs
from planner.reading.csv_table import TableRow
from planner.reading.fitting_words import read_fitting
from planner.reading.headed_values import HeadedValues
from planner.reading.row_cells import Cells
from planner.reading.typed_values import NotUnderstood, plain

AS_THEY_ARE = ("bundle", "insulation")
_EACH = re.compile(r"\s*\beach\s*\Z", re.IGNORECASE)
AS_WRITTEN = "colour as written: "
_KNOWN: Mapping[str, Known] = {
    "": "drawing",
    "drawn": "drawing",
    "from drawing": "drawing",
    "from a drawing": "drawing",
    "guess": "assumed",
    "guessed": "assumed",
}


@dataclass(frozen=True, slots=True)
class WireRow:
    """A wire as a loom's file says it, and where each of its keys and ends stands."""

    data: dict[str, Any]
    places: Mapping[tuple[str | int, ...], FilePlace]
    start: FilePlace


@dataclass(frozen=True)
class RowReader:
    """Reads the rows of one list: what its values are by its headings, what reads an end."""

    values: HeadedValues
    read_end: Callable[[str, FilePlace], dict[str, str]]

    def read(self, row: TableRow) -> WireRow:
        """Read one row.

        Raises
        ------
        InputError
            With every cell that cannot be read.
        """
        cells = Cells(row)
        colours = cells.take("colour", self.colours) or []
        known = cells.take("known", _known)
        sizes, lengths = cells.take("mm2", self.sizes), cells.take("metres", self.lengths)
        ends = self._ends(cells)
        if (
            lengths is not None
            and len(lengths) == 1 < len(ends) - 1
            and not _EACH.search(row.cells["metres"])
        ):
            message = f"{row.cells['metres']!r} may be each of the {len(ends) - 1} legs, or all together"
            cells.fault("metres", message, f"'{row.cells['metres']} each', or one for each leg: 0.5; 0.4")
        if cells.faults:
            raise InputError(cells.faults)
        # A wire that may be another colour is found with the meter only, unless it was measured.
        is_doubtful = any(colour.is_doubtful for colour in colours) and known != "measured"
        notes = [row.cells["note"], *(AS_WRITTEN + colour.note for colour in colours if colour.note)]
        data: dict[str, Any] = {
            "wire": row.cells["wire"] or f"row{cells.start.line}",
            "colour": [colour.code for colour in colours],
            "mm2": sizes,
            "metres": lengths,
            "ends": list(ends.values()),
            "known": "assumed" if is_doubtful else known,
        }
        data |= {key: row.cells[key] for key in AS_THEY_ARE if row.cells[key]}
        if any(notes):
            data["note"] = "; ".join(note for note in notes if note)
        places: dict[tuple[str | int, ...], FilePlace] = {
            (key,): row.places[key] for key in data if key != "ends"
        }
        places |= {("ends", number): row.places[column] for number, column in enumerate(ends)}
        return WireRow(data, places, cells.start)

    def colours(self, text: str) -> list[TypedColour]:
        """The colour of each leg."""
        return [self.values.colour(leg) for leg in read_legs(text)]

    def sizes(self, text: str) -> list[str]:
        """The size of each leg in mm², as text with all its digits."""
        return [repr(self.values.mm2(leg)) for leg in read_legs(text)]

    def lengths(self, text: str) -> list[str]:
        """The length of each leg in metres, as text with all its digits."""
        return [repr(self.values.metres(leg)) for leg in read_legs(_EACH.sub("", text))]

    def _ends(self, cells: Cells) -> dict[str, dict[str, str]]:
        """The ends in their order, by column."""
        found: dict[str, dict[str, str]] = {}
        filled = [name for name, text in cells.row.cells.items() if name.startswith("to ") and text]
        for column in ("from", "to", *(name for name in filled if not name.endswith(" terminal"))):
            terminal = cells.row.cells.get(f"{column} terminal", "")
            place = cells.row.places[column]

            def read(text: str, terminal: str = terminal, place: FilePlace = place) -> dict[str, str]:
                return self.read_end(f"{text} / {terminal}" if text and terminal else text, place)

            found[column] = cells.take(column, read) or {}
        fittings = cells.take("fittings", _fittings) or []
        if len(fittings) not in (0, 1, len(found)):
            message = f"{len(fittings)} fittings for {len(found)} ends"
            cells.fault("fittings", message, "one for all ends, or one for each: blade-6.3; ring-8")
        for number, end in enumerate(found.values()):
            if fittings and (fitting := fittings[number % len(fittings)]):
                end["fitting"] = fitting
        return found


def _known(text: str) -> Known:
    said = plain(text)
    for known in get_args(Known):
        if said == known:
            weight: Known = known
            return weight
    if said in _KNOWN:
        return _KNOWN[said]
    raise NotUnderstood(
        f"{text!r} does not say how well it is known", f"one of: {', '.join(get_args(Known))}"
    )


def _fittings(text: str) -> list[str]:
    """A fitting for all ends, or one for each; an empty one between semicolons fits its terminal."""
    items = [item.strip() for item in text.split(";")] if text else []
    return [read_fitting(item) if item else "" for item in items]
