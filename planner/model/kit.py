"""Leads of a kit as they lie on the bench: known by colour, length, and number and kind of ends."""

from collections import Counter
from dataclasses import dataclass

from planner.model.wording import colour_words, fitting_words

_KINDS = {"blade": "a push-on terminal", "ring": "a ring", "stud": "a ring"}
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six")


@dataclass(frozen=True, slots=True)
class KitLead:
    """One kind of lead; an end is a fitting, or a kind of fittings whose size nobody said (``blade``).

    ``colours`` has more than one where nobody is sure, the first that was named first.
    """

    name: str
    colours: tuple[str, ...]
    metres: float
    ends: tuple[str, ...]
    mm2: float | None
    count: int
    row: int

    @property
    def words(self) -> str:
        """As people tell leads apart: ``black, 0.45 m, three push-on terminals``."""
        colours = " or ".join(colour_words(colour) for colour in self.colours)
        ends = [_several(fitting, number) for fitting, number in Counter(self.ends).items()]
        size = "" if self.mm2 is None else f"{self.mm2:g} mm2, "
        return f"{colours}, {size}{self.metres:g} m, {' and '.join(ends)}"


def is_a(end: str, fitting: str) -> bool:
    """Whether an end of a lead may be of this fitting: the same, or of its kind if no size is said."""
    return end == fitting or fitting.startswith(f"{end}-")


def _several(fitting: str, number: int) -> str:
    words = _KINDS.get(fitting) or fitting_words(fitting)
    if number == 1 or not words.startswith(("a ", "an ")):
        return words
    count = _NUMBERS[number] if number < len(_NUMBERS) else str(number)
    return f"{count} {words.partition(' ')[2]}s"
