"""What a person read on a meter between the terminals of a part on the bench."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from planner.problems import FilePlace

# A number is ohms; ``closed`` a beep, ``open`` no way through, ``drop`` volts on the meter's diode range.
Says = float | Literal["closed", "open", "drop"]


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: the position, the terminals at the red and the black lead, and what the meter said."""

    position: str
    red: str
    black: str
    says: Says
    said: str  # as the person wrote it
    place: FilePlace

    @property
    def pair(self) -> tuple[str, str]:
        """The two terminals, the red lead's first."""
        return self.red, self.black

    def __str__(self) -> str:
        return f"{self.red} to {self.black}, {self.position}: {self.said}"


@dataclass(frozen=True, slots=True)
class BenchReadings:
    """All readings of one part: every terminal and position that the person named, read or not.

    ``powered`` are the positions in which a coil was fed; in all others every armature is released.
    """

    terminals: tuple[str, ...]
    positions: tuple[str, ...]
    readings: tuple[Reading, ...]
    powered: frozenset[str] = frozenset()

    def at(self, position: str) -> Iterator[Reading]:
        """Yield the readings of one position."""
        return (reading for reading in self.readings if reading.position == position)
