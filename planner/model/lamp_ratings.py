"""Lamp ratings: the volts and watts of the categories of filament lamps."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LampRating:
    """A category at one rated voltage.

    Watts are listed by filament: major before minor, main before dipped.
    ``test_volts`` is None and ``most_test_watts`` empty where no limit is published.
    """

    category: str
    rated_volts: float
    rated_watts: tuple[float, ...]
    test_volts: float | None
    most_test_watts: tuple[float, ...]
    source: str
    basis: str
