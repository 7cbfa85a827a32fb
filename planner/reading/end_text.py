"""An end of a wire as text, without a loom: its place, its mark and what stands in brackets behind it."""

import re
from collections.abc import Container, Iterator
from typing import get_args

from planner.model.loom import Known
from planner.reading.lengths import read_length
from planner.reading.place_words import with_plain_sides
from planner.reading.typed_values import plain

EARTH = re.compile(
    r"(?:earth|ground|body|chassis)(?: point)?\b[\s,:/]*(?:(?:in|at|on)\b)?\s*(?:the\b)?\s*(.*)"
)
LIVE = re.compile(r"(?:always|permanently|constantly|live|hot|fed)\b")
NAMED = {
    "?": "unknown",
    "unknown": "unknown",
    "not known": "unknown",
    "loose": "loose",
    "not connected": "loose",
}
# A joiner's name is said with spaces; a joint box is a place, with terminals.
JOINT = re.compile(r"(?:joint|joiner|splice)\s*[:\s]\s*((?!box\b|block\b)[^:\s]+(?: (?!at\b|on\b)[^:\s]+)*)")
FEED = re.compile(r"(feed:[^:\s,]+)(?:\s*,\s*(.+))?", re.IGNORECASE)
_REMARKS = re.compile(r"(.*)\(([^()]*)\)\s*\Z", re.DOTALL)
_IN_BRACKETS = re.compile(r"\(\s*([^()]*[^()\s])\s*\)")
_SPARE = re.compile(r"spare (.+)")
# "wiper switch terminal 53", "53 on the wiper switch".
_ON = re.compile(
    r"(?:(?:terminal|pin|mark|tab|post)\s+)?['‘\"]?(?P<mark>[^'’\"]+?)['’\"]?\s+on\s+(?P<place>.+)",
    re.IGNORECASE,
)
_WITH_TERMINAL = re.compile(
    r"(?P<place>.+?)[\s,]+(?:terminal|pin|mark|tab|post)\s+(?P<mark>\S.*)", re.IGNORECASE
)


def is_elsewhere(text: str) -> bool:
    """Whether an end is written as no place of the vehicle: earth, a feed, a joiner, loose, unknown."""
    said = plain(remarks(text)[0])
    patterns = (EARTH, FEED, JOINT)
    return not said or said in NAMED or bool(LIVE.match(said)) or any(p.fullmatch(said) for p in patterns)


def earth_zone(text: str) -> str:
    """The zone that an earth is written to be in: ``bay`` of ``earth in the bay``; empty if none is said."""
    found = EARTH.fullmatch(plain(remarks(text)[0]))
    return found[1] if found else ""


def split_end(text: str, things: Container[str]) -> tuple[str, str]:
    """What an end as written calls its place, and the mark, which is empty if the text names none.

    A last word that is one of the ``things`` that parts are is no mark: ``left side lamp``, ``horn push``.
    """
    bare = with_plain_sides(remarks(text)[0])
    called, mark = next(splits(bare), (bare, ""))
    is_thing = mark.casefold() in things and not re.search(rf"[/:]\s*{re.escape(mark)}\Z", bare)
    return (bare, "") if is_thing else (called, mark)


def splits(text: str) -> Iterator[tuple[str, str]]:
    """Every way to take a text apart into what may be a place and a mark, the plainest first."""
    for sign in ("/", ":"):
        at = [index for index, character in enumerate(text) if character == sign]
        for index in at:
            if text[:index].strip() and text[index + 1 :].strip():
                yield text[:index].strip(), _bare(text[index + 1 :])
    for pattern in (_WITH_TERMINAL, _ON):
        if found := pattern.fullmatch(text):
            yield found["place"], _bare(found["mark"])
    words = text.split()
    for last in range(len(words) - 1, 0, -1):
        yield " ".join(words[:last]), _bare(" ".join(words[last:]))


def _bare(mark: str) -> str:
    """A mark without the brackets that it may be written in: ``(stop)``."""
    found = _IN_BRACKETS.fullmatch(mark.strip())
    return found[1] if found else mark.strip()


def remarks(text: str) -> tuple[str, dict[str, str]]:
    """The text without what stands in brackets at its end, if all of that says something of an end."""
    found = _REMARKS.fullmatch(text)
    more: dict[str, str] = {}
    for item in plain(found[2]).split(",") if found else ():
        spare = _SPARE.fullmatch(item.strip())
        if item.strip() in get_args(Known):
            more["known"] = item.strip()
        elif item.strip() == "covered":
            more["covered"] = "true"
        elif spare:
            metres = 0.0 if re.fullmatch(r"0+(\.0+)?( m)?", spare[1]) else read_length(spare[1], "m")
            more["spare_metres"] = f"{metres!r}"
        else:
            return text, {}
    return (found[1].strip(), more) if found else (text, {})
