"""What parts are narrowed down to besides words: a family, years, a terminal's role, volts."""

from dataclasses import dataclass

from planner.model.part import Part

Years = tuple[int, int]
FIRST_YEAR, LAST_YEAR = 0, 9999


@dataclass(frozen=True, slots=True)
class Narrowing:
    """What a part must be; nothing where it may be anything."""

    family: str = ""
    years: Years | None = None
    role: str = ""
    volts: float | None = None

    def fits(self, part: Part) -> bool:
        """Whether a part is so; one that was made in any of the years is, and one of any years."""
        return (
            self.family in ("", part.family)
            and (self.years is None or overlap(self.years, years_of(part.years)))
            and (not self.role or any(terminal.role == self.role for terminal in part.terminals.values()))
            and self.volts in (None, part.volts)
        )

    @property
    def words(self) -> str:
        """What is asked, in words: ``family relay, 12 V``."""
        years = self.years and years_words(self.years)
        said = (
            f"family {self.family}" if self.family else "",
            f"years {years}" if years else "",
            f"a terminal of role {self.role}" if self.role else "",
            f"{self.volts:g} V" if self.volts is not None else "",
        )
        return ", ".join(text for text in said if text)


def years_of(said: str) -> Years:
    """First and last year of ``1961-1966``, ``1961-``, ``-1966``, ``1965`` or ``any``.

    Raises ValueError if it is none of these, or the first year comes after the last.
    """
    if said == "any":
        return FIRST_YEAR, LAST_YEAR
    first, dash, last = said.partition("-")
    if not any((first, last)) or not all(
        len(year) == 4 and year.isdecimal() for year in (first, last) if year
    ):
        raise ValueError(f"expected a year or years such as 1965, 1961-1966, 1961- or -1966, got {said!r}")
    years = (int(first or FIRST_YEAR), int(last or LAST_YEAR) if dash else int(first))
    if years[0] > years[1]:
        raise ValueError(f"the first year comes after the last in {said!r}")
    return years


def years_words(years: Years) -> str:
    """Years as they are written: ``1965``, ``1961-1966``, ``1961-``."""
    first, last = years
    if first == last:
        return str(first)
    return f"{first if first > FIRST_YEAR else ''}-{last if last < LAST_YEAR else ''}"


def overlap(one: Years, other: Years) -> bool:
    """Whether two spans of years have a year in common."""
    return one[0] <= other[1] and other[0] <= one[1]
