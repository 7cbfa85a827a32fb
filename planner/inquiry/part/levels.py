"""What may still be said of some things when at most so many readings are wrong."""

from collections.abc import Sequence


class Levels:
    """For each of some things its possible values as bits, by how many readings would be wrong with them.

    ``by[n]`` are the values with at most ``n`` wrong readings, so each holds those of the one before.
    """

    def __init__(self, by: Sequence[Sequence[int]]) -> None:
        self.by = [list(level) for level in by]

    def copy(self) -> "Levels":
        """The same, to be changed without changing this."""
        return Levels(self.by)

    def read(self, thing: int, fitting: int) -> None:
        """Take in a reading that only fits some values of a thing."""
        for number in range(len(self.by) - 1, 0, -1):
            self.by[number][thing] = self.by[number][thing] & fitting | self.by[number - 1][thing]
        self.by[0][thing] &= fitting

    def rule_out(self, value: int) -> None:
        """Take a value from all things."""
        for level in self.by:
            level[:] = [values & ~(1 << value) for values in level]

    def keep(self, thing: int, values: int) -> None:
        """Leave a thing only some of its values."""
        for level in self.by:
            level[thing] &= values

    def wrong(self, thing: int, value: int) -> int:
        """How many readings are wrong with a value that is possible."""
        return next(number for number, level in enumerate(self.by) if level[thing] >> value & 1)

    def least_wrong(self, thing: int) -> int:
        """How many readings are wrong at least; one more than may be if no value is left."""
        return next((number for number, level in enumerate(self.by) if level[thing]), len(self.by))
