"""The letter codes that wire lists use for colours, and which of them a text may be written in.

IEC 60757 is the one that looms are kept in. The others are told from memory: BS AU 7, the two letters of
German drawings, and the letters of Japanese ones. The same letters mean different colours in them, so a text
is read in each, and who asks compares the readings.
"""

import re
from collections.abc import Mapping
from types import MappingProxyType

from planner.model.wording import COLOUR_WORDS

IEC = "IEC 60757"
# By the codes in small letters; basis of all but the first: memory.
_IEC = {code.casefold(): code for code in COLOUR_WORDS}
_BRITISH = {
    "b": "BK", "n": "BN", "u": "BU", "g": "GN", "k": "PK", "lg": "GN", "o": "OG", "p": "VT", "r": "RD",
    "s": "GY", "w": "WH", "y": "YE",
}  # fmt: skip
_GERMAN = {
    "sw": "BK", "br": "BN", "rt": "RD", "or": "OG", "ge": "YE", "gn": "GN", "bl": "BU", "vi": "VT",
    "gr": "GY", "ws": "WH", "rs": "PK", "li": "VT",
}  # fmt: skip
_JAPANESE = {
    "b": "BK", "l": "BU", "br": "BN", "g": "GN", "gr": "GY", "lg": "GN", "o": "OG", "p": "PK", "r": "RD",
    "sb": "BU", "v": "VT", "w": "WH", "y": "YE",
}  # fmt: skip
CODES: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {IEC: _IEC, "British": _BRITISH, "German": _GERMAN, "Japanese": _JAPANESE}
)
# Shades that a code has and IEC 60757 has not.
SHADES = MappingProxyType(
    {("British", "lg"): "light green", ("Japanese", "lg"): "light green", ("Japanese", "sb"): "sky blue"}
)
# What people shorten to one or two letters when they have no code in mind.
_SHORTENED = {"b": ("BK", "BU", "BN"), "bl": ("BK", "BU"), "s": ("GY", "SR"), "p": ("PK", "VT")}
HEADED: Mapping[str, str] = {
    "iec": IEC, "60757": IEC, "british": "British", "bs": "British", "au7": "British", "german": "German",
    "din": "German", "japanese": "Japanese", "jis": "Japanese", "jaso": "Japanese",
}  # fmt: skip
_BETWEEN = re.compile(r"[/\-.,+ ]+")


def code_in_heading(heading: str) -> str | None:
    """The code that a heading names, such as ``colour (British)``; None if it names none."""
    words = re.findall(r"[a-z]+|\d+", heading.casefold())
    return next((HEADED[word] for word in (*words, "".join(words)) if word in HEADED), None)


def readings(text: str, code: str | None = None) -> dict[str, tuple[str, ...]]:
    """What a text means in each code that can read it, or in the named one alone: ``GN/RD``."""
    tokens = tuple(token for token in _BETWEEN.split(text.strip().casefold()) if token)
    found: dict[str, tuple[str, ...]] = {}
    for name, letters in CODES.items():
        meant = tuple(dict.fromkeys(_in_code(tokens, letters))) if code in (None, name) else ()
        if meant:
            found[name] = meant
    shortened = tuple(_SHORTENED.get(tokens[0], ())) if len(tokens) in (1, 2) and IEC not in found else ()
    if shortened and code is None:
        tracer = (
            [c for letters in CODES.values() for c in _in_code(tokens[1:], letters)] if tokens[1:] else [""]
        )
        found["shortened"] = tuple(dict.fromkeys(f"{b}/{t}".rstrip("/") for b in shortened for t in tracer))
    return {name: meant for name, meant in found.items() if meant}


def _in_code(tokens: tuple[str, ...], letters: Mapping[str, str]) -> list[str]:
    if len(tokens) == 2 and all(token in letters for token in tokens):
        return [f"{letters[tokens[0]]}/{letters[tokens[1]]}"]
    if len(tokens) != 1:
        return []
    (token,) = tokens
    whole = [letters[token]] if token in letters else []
    joined = [
        f"{letters[token[:cut]]}/{letters[token[cut:]]}"
        for cut in range(1, len(token))
        if token[:cut] in letters and token[cut:] in letters
    ]
    return whole + joined
