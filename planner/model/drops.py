"""Drops: how many volts a circuit, or one section of it, may lose."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from planner.model.published import Published, must_be_positive, no_row

Circuit = Literal[
    "lamp below 15 W",
    "lamp above 15 W",
    "headlamp",
    "charging",
    "starter main",
    "starter control",
    "control line",
    "general",
]
Section = Literal["earth", "feed", "contact"]

# The row of each circuit. A lamp's volts depend on its whole circuit, way back included, so the column for
# whole circuits stands here though it is from memory; the confirmed one for the positive line alone would
# refuse sound circuits. Where only the positive line is published, that is the limit. A starter's control
# line is held to the stricter of its two rows, as nobody knows the windings beforehand.
ROWS: Mapping[Circuit, tuple[str, str]] = {
    "lamp below 15 W": ("lighting, lamps below 15 W", "whole circuit"),
    "lamp above 15 W": ("lighting, lamps above 15 W", "whole circuit"),
    "headlamp": ("headlamps", "whole circuit"),
    "charging": ("charging line, alternator B+ to battery", "positive line only"),
    "starter main": ("starter main cable", "positive line only"),
    "starter control": ("starter control line, single-winding solenoid", "whole circuit"),
    "control line": ("other control lines, switch to relay or horn", "whole circuit"),
    "general": ("general lighting and other non-critical circuits", "feed and return"),
}
SECTIONS: Mapping[Section, str] = {
    "earth": "ground side of a circuit or one ground connection",
    "feed": "feed wire or cable",
    "contact": "switch or solenoid contact",
}
PER_SECTION = "per section, loaded"
# Systems of 6 V charge at up to about 7.5 V, those of 12 V at up to about 15 V: common practice, no source.
MOST_VOLTS_OF_6, MOST_VOLTS_OF_12 = 9.0, 18.0


@dataclass(frozen=True, slots=True)
class DropLimit:
    """One row: the most volts, or percent of the volts, that may be lost; no system's volts means any."""

    circuit: str
    system_volts: float | None
    limit_volts: float | None
    limit_percent: float | None
    scope: str
    source: str
    basis: str


def circuit_limit(limits: Sequence[DropLimit], circuit: Circuit, volts: float) -> Published:
    """The limit of a circuit, with what it covers said in the source.

    No figure for 6 V is published; below 9 V every figure in volts is halved, which errs to the strict side.
    """
    must_be_positive("volts", volts)
    system = 12.0 if volts <= MOST_VOLTS_OF_12 else 24.0
    row = _row(limits, *ROWS[circuit], system)
    source = f"{row.source}, {row.scope}"
    if row.limit_volts is None:
        return Published(volts * (row.limit_percent or 0) / 100, source, row.basis)
    if volts < MOST_VOLTS_OF_6:
        return Published(row.limit_volts / 2, f"{source}; halved, as none is published for 6 V", row.basis)
    return Published(row.limit_volts, source, row.basis)


def section_limit(limits: Sequence[DropLimit], section: Section) -> Published:
    """The guideline for one section of a loaded 12 V circuit."""
    row = _row(limits, SECTIONS[section], PER_SECTION, 12.0)
    return Published(row.limit_volts or 0.0, f"{row.source}, {row.scope}", row.basis)


def _row(limits: Sequence[DropLimit], circuit: str, scope: str, system: float) -> DropLimit:
    for row in limits:
        if row.circuit == circuit and row.scope == scope and row.system_volts in (None, system):
            return row
    raise no_row("drops", f"{circuit}, {scope}, {system:g} V")
