"""Words for a picture: cleaned of what cannot be shown, measured, cut and broken into lines."""

import re
import unicodedata
from functools import lru_cache

ELLIPSIS = "…"
# Where a line may end: a figure stands with its unit.
_BETWEEN = re.compile(r"(?<!\d) | (?!(?:V|A|W|ohms?|mm2?|m)\b)")
# Widths of Helvetica in thousandths of its size, as Adobe published them for the typeface; from memory.
_WIDTHS = {
    **dict.fromkeys("ijl'", 222),
    **dict.fromkeys(" ,./:;!I[\\]ft|", 278),
    **dict.fromkeys("()-r`", 333),
    **dict.fromkeys('"*cksvxyzJ', 500),
    **dict.fromkeys("#$0123456789?_abdeghnopquL", 556),
    **dict.fromkeys("+<=>~FTZ", 611),
    **dict.fromkeys("&ABEKPSVXY", 667),
    **dict.fromkeys("CDHNRUw", 722),
    **dict.fromkeys("GOQ", 778),
    **dict.fromkeys("mM", 833),
    **dict.fromkeys("%W", 944),
}
_USUAL = 667  # of a letter that the table does not know
_WIDE = 1000  # of ideographs and signs that fill a square
# The browser takes what sans font it has. Words in DejaVu Sans, the widest of the usual ones, were measured
# with Pillow: up to 1.194 times as wide as by this table, its bold up to 1.379 times.
_WIDEST_FONT = 1.2
_BOLD = 1.15


def clean(text: str, most: int = 400) -> str:
    """The text in one line, without controls and marks of direction; cut at ``most`` signs."""
    shown = text[: 4 * most]
    if not shown.isprintable():
        shown = "".join(map(_shown, shown))
    whole = " ".join(shown.split())
    return whole if len(whole) <= most and len(text) <= 4 * most else whole[: most - 1] + ELLIPSIS


def _shown(sign: str) -> str:
    if sign in "\t\n\r" or unicodedata.category(sign).startswith("Z"):
        return " "
    return sign if sign.isprintable() else ""


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """The most room that a text takes in the usual sans fonts, in the unit of ``size``."""
    total = sum(map(_width, text))
    return total / 1000.0 * size * _WIDEST_FONT * (_BOLD if bold else 1.0)


@lru_cache(1024)
def _width(sign: str) -> int:
    """In thousandths of the size; a text has few different signs."""
    if sign in _WIDTHS:
        return _WIDTHS[sign]
    if unicodedata.combining(sign):
        return 0
    wide = unicodedata.east_asian_width(sign) in ("W", "F") or unicodedata.category(sign) == "So"
    return _WIDE if wide else _WIDTHS.get(unicodedata.normalize("NFD", sign)[0], _USUAL)


def fit(text: str, size: float, room: float, *, bold: bool = False) -> str:
    """The text cleaned, and cut with an ellipsis where it would be wider than there is room."""
    text = clean(text)
    if width_of(text, size, bold=bold) <= room:
        return text
    while text and width_of(text + ELLIPSIS, size, bold=bold) > room:
        text = text[:-1]
    return text.rstrip() + ELLIPSIS


def wrap(text: str, size: float, room: float, most: int, *, bold: bool = False) -> tuple[str, ...]:
    """The text in lines of some room, ``most`` lines at the most; what is left over is cut."""
    lines: list[str] = []
    words = _BETWEEN.split(clean(text))
    while words and len(lines) < most - 1:
        words[:1] = _broken(words[0], size, room, bold=bold)
        count = 1
        while count < len(words) and width_of(" ".join(words[: count + 1]), size, bold=bold) <= room:
            count += 1
        lines.append(fit(" ".join(words[:count]), size, room, bold=bold))
        words = words[count:]
    if words:
        lines.append(fit(" ".join(words), size, room, bold=bold))
    return tuple(line for line in lines if line)


def _broken(word: str, size: float, room: float, *, bold: bool) -> list[str]:
    """A word that is wider than the room, in two behind the last hyphen before which it fits."""
    if width_of(word, size, bold=bold) > room:
        for end in (n + 1 for n in range(len(word) - 2, 0, -1) if word[n] == "-"):
            if width_of(word[:end], size, bold=bold) <= room:
                return [word[:end], word[end:]]
    return [word]
