"""Colours of wires as people write them: codes, plain words, tracers, and what has faded."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from planner.model.wording import COLOUR_WORDS, colour_words
from planner.reading.colour_codes import CODES, IEC, SHADES, readings
from planner.reading.typed_values import NotUnderstood, plain
from planner.reading.validate import suggest

# British and American words and the usual ways to shorten them.
WORDS: Mapping[str, str] = MappingProxyType(
    {word: code for code, word in COLOUR_WORDS.items() if code != "GNYE"}
    | {code.casefold(): code for code in COLOUR_WORDS if code != "GNYE"}
    | {
        "gray": "GY", "slate": "GY", "purple": "VT", "mauve": "VT", "blk": "BK", "brn": "BN", "orn": "OG",
        "org": "OG", "orng": "OG", "yel": "YE", "ylw": "YE", "grn": "GN", "blu": "BU", "vio": "VT",
        "vlt": "VT", "pur": "VT", "ppl": "VT", "gry": "GY", "wht": "WH", "pnk": "PK",
    }
)  # fmt: skip
_SHADE = frozenset({"light", "lt", "dark", "dk", "pale", "sky", "navy"})
# Colours that IEC 60757 has no code for: the nearest, and the word itself is kept beside it.
_NEAREST: Mapping[str, str] = MappingProxyType(
    {
        "tan": "BN",
        "beige": "BN",
        "maroon": "RD",
        "burgundy": "RD",
        "lavender": "VT",
        "lilac": "VT",
        "cream": "WH",
    }
)
_FILLER = frozenset(
    {"with", "a", "an", "the", "tracer", "stripe", "striped", "trace", "wire", "lead", "and", "thin", "w"}
)
_FADING = re.compile(r"\b(?:faded|fading|bleached|dirty|discoloured|discolored|old)\b|[()?]")
_OTHERWISE = re.compile(r"\b(?:or|perhaps|maybe|possibly|was|were|once)\b")
_TRACER = re.compile(r"\b(?:with|w|tracer|stripe|striped|trace)\b")
_TOKEN = re.compile(r"[^\W\d_]+")
_STRANGE = re.compile(r"[^\w\s/\-,.+&'()?]")
_UNFINISHED = re.compile(r"(?:[/\-+&]|\b(?:and|with|or|on))\Z")
_LEGS = re.compile(r"\s*(?:;|\bthen\b)\s*")
_EXAMPLES = "a colour such as black, black/red, BK/RD or black with red tracer"


@dataclass(frozen=True, slots=True)
class TypedColour:
    """A colour as its IEC 60757 code.

    ``note`` is what was written if the code does not say all of it: a shade, a second possible colour.
    ``is_doubtful`` if it may be another colour; the code is then the one that was named first, and ``others``
    are those that were named after it.
    """

    code: str
    note: str = ""
    is_doubtful: bool = False
    others: tuple[str, ...] = ()


def read_legs(text: str) -> list[str]:
    """The colours of a wire whose legs differ: ``black; brown`` or ``black then brown``."""
    return _LEGS.split(text.strip())


def read_colour(text: str, code: str | None = None) -> TypedColour:
    """Read one colour; ``code`` names the letter code it is written in, if that is known.

    Raises
    ------
    NotUnderstood
        If it is no colour, or if its letters mean different colours in different codes.
    """
    typed = plain(text)
    strange = _STRANGE.search(typed)
    if strange:
        raise NotUnderstood(f"{text!r}: what does {strange.group()!r} mean in a colour?", _EXAMPLES)
    if _UNFINISHED.search(typed):
        raise NotUnderstood(f"{text!r} ends before its tracer", _EXAMPLES)
    as_letters = readings(typed, code)
    if code is None and IEC in as_letters:
        return TypedColour(as_letters[IEC][0])
    if as_letters:
        return _of_letters(text, typed, as_letters)
    return _of_words(text, typed)


def _of_letters(text: str, typed: str, found: Mapping[str, tuple[str, ...]]) -> TypedColour:
    meant = tuple(dict.fromkeys(colour for colours in found.values() for colour in colours))
    if len(meant) > 1:
        said = " or ".join(colour_words(colour) for colour in meant)
        codes = " or ".join(name for name in found if name in CODES)
        hint = f"{' or '.join(meant)}, or the code in the heading: colour ({codes})"
        raise NotUnderstood(f"{text!r} may be {said}", hint)
    (colour,) = meant
    shades = {
        SHADES[name, token] for name in found for token in re.split(r"\W+", typed) if (name, token) in SHADES
    }
    return TypedColour(
        colour, " ".join((text, *(f"({shade})" for shade in sorted(shades)))) if shades else ""
    )


def _of_words(text: str, typed: str) -> TypedColour:
    if typed == COLOUR_WORDS["GNYE"]:
        return TypedColour("GNYE")
    bare = _FADING.sub(" ", typed)
    named = [part for part in _OTHERWISE.split(bare) if part.strip(" ,;.")]
    if not named:
        raise NotUnderstood(f"{text!r} names no colour" if text else "no colour is given", _EXAMPLES)
    read = [_one(text, part.strip(" ,;.")) for part in named]
    colours = tuple(dict.fromkeys(_sharing_tracer([code for code, _ in read], named[-1])))
    is_doubtful = len(colours) > 1 or "?" in typed
    is_more = is_doubtful or bare != typed or any(shade for _, shade in read)
    return TypedColour(colours[0], text.strip() if is_more else "", is_doubtful, colours[1:])


def _sharing_tracer(colours: list[str], last: str) -> list[str]:
    """The tracer of "green or blue with white tracer" is that of both."""
    tracer = colours[-1].partition("/")[2]
    shares = tracer and _TRACER.search(last) and not any("/" in colour for colour in colours[:-1])
    return [colour if "/" in colour else f"{colour}/{tracer}" for colour in colours] if shares else colours


def _one(text: str, part: str) -> tuple[str, bool]:
    """One colour in words as its code, and whether a shade was named with it."""
    base, on, ground = part.partition(" on ")
    if on:
        part = f"{ground} {base}"
    colours: list[str] = []
    shade = False
    for word in _TOKEN.findall(part):
        if word in WORDS:
            colours.append(WORDS[word])
        elif word in _NEAREST:
            colours.append(_NEAREST[word])
            shade = True
        elif word in _SHADE:
            shade = True
        elif word not in _FILLER:
            near = suggest(word, WORDS)
            raise NotUnderstood(f"{text!r}: no colour is called {word!r}", near or _EXAMPLES)
    if sorted(colours) == ["GN", "YE"] and " and " in part:
        raise NotUnderstood(
            f"{text!r} may be green with a yellow tracer or the earth conductor's", "GN/YE or GNYE"
        )
    if len(colours) == 2 and "," in part and not _TRACER.search(part):
        hint = f"{'/'.join(colours)} or {' or '.join(colours)}"
        raise NotUnderstood(f"{text!r} may be one colour with a tracer, or two colours", hint)
    if not 1 <= len(colours) <= 2:
        what = (
            "names no colour"
            if not colours
            else f"names {len(colours)} colours; base and one tracer can be kept"
        )
        raise NotUnderstood(f"{text!r} {what}", _EXAMPLES)
    return "/".join(colours), shade
