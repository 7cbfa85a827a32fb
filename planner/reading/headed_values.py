"""Colours, sizes and lengths in a table, by the code or unit that the heading of their column names."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from planner.model.conductors import Gauge
from planner.reading.colour_codes import code_in_heading
from planner.reading.colour_words import TypedColour, read_colour
from planner.reading.lengths import read_length
from planner.reading.wire_columns import length_unit, size_unit
from planner.reading.wire_sizes import names_gauge, read_size


@dataclass(frozen=True)
class HeadedValues:
    """Reads what stands below the headings of one table; each method raises NotUnderstood.

    ``headings`` are those written above colour, mm2 and metres; ``gauges`` is asked only if a gauge is named.
    """

    headings: Mapping[str, str]
    gauges: Callable[[], Sequence[Gauge]]

    def colour(self, text: str) -> TypedColour:
        """One colour, by the letter code that the heading names."""
        return read_colour(text, code_in_heading(self.headings.get("colour", "")))

    def mm2(self, text: str) -> float:
        """One wire size in mm², by the unit that the heading names."""
        unit = size_unit(self.headings.get("mm2", ""))
        return read_size(text, self.gauges() if unit == "awg" or names_gauge(text) else (), unit)

    def metres(self, text: str) -> float:
        """One length in metres, by the unit that the heading names."""
        return read_length(text, length_unit(self.headings.get("metres", "")))
