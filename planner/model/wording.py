"""What people call a colour, a wire end, a terminal, the way a part is held, and so many of a thing."""

import re
from collections.abc import Mapping
from types import MappingProxyType

from planner.model.loom import Loom, Wire, split_address
from planner.model.part import Held

# IEC 60757, table 1; the plain words, without the standard's remarks.
COLOUR_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "BK": "black",
        "BN": "brown",
        "RD": "red",
        "OG": "orange",
        "YE": "yellow",
        "GN": "green",
        "BU": "blue",
        "VT": "violet",
        "GY": "grey",
        "WH": "white",
        "PK": "pink",
        "GD": "gold",
        "TQ": "turquoise",
        "SR": "silver",
        "GNYE": "green-and-yellow",
    }
)

HELD: Mapping[Held, str] = MappingProxyType(
    {
        "stud": "on a stud of its own",
        "hole": "in a hole",
        "bracket": "on a bracket",
        "screws": "by screws",
        "clamp": "in a clamp or clip",
        "plug-in": "plugged in",
        "in-line": "in line, hanging on its wires",
    }
)


def colour_words(code: str) -> str:
    """A colour code in words: ``BK/RD`` is black/red."""
    return "/".join(COLOUR_WORDS.get(part, part) for part in code.split("/"))


def fitting_words(fitting: str) -> str:
    """A fitting as people say it: ``blade-6.3`` is a 6.3 mm push-on terminal."""
    kind, _, size = fitting.partition("-")
    sized = {
        "blade": f"a {size} mm push-on terminal",
        "ring": f"an M{size} ring",
        "stud": f"an M{size} ring",
    }
    plain = {
        "bullet": "a bullet",
        "bare": "a bare end",
        "screw": "a bare end",
        "contact": "a crimped contact",
    }
    return sized.get(kind) or plain.get(kind, kind)


def counted(count: int, noun: str) -> str:
    """So many of a thing: ``1 wire``, ``2 wires``, ``1,200 wires``."""
    return f"{count:,} {noun}{'' if count == 1 else 's'}"


def wire_words(wire: Wire, end: int = 0) -> str:
    """A wire as people point at it, by the colour seen at one end: ``the black/red wire``."""
    return f"the {colour_words(wire.end_colour(end))} wire"


def address_words(loom: Loom, address: str) -> str:
    """An address as people say it: ``53 on the wiper switch, dash``."""
    head, tail = split_address(address)
    if head == "earth":
        zone = loom.zones.get(tail)
        return f"earth, {zone.title or tail}" if zone else "earth"
    if head == "feed":
        return f"the feed {tail}"
    if head == "joint":
        place, _, mark = tail.rpartition(".")
        return (
            f"the joiner at {address_words(loom, f'{place}:{mark}')}"
            if place in loom.places
            else f"the joiner {tail}"
        )
    return f"{mark_words(tail)} on the {loom.place_title(head)}" if tail else head


def mark_words(mark: str) -> str:
    """A mark as it is said in a sentence: one that is a word of its own stands in quotes."""
    return f"'{mark}'" if len(mark) > 1 and mark.isalpha() and mark.islower() else mark


def small(title: str) -> str:
    """A part's title in mid-sentence: no capital, unless it starts with an abbreviation or a type."""
    first = title.partition(" ")[0]
    return title if re.search(r"\d|.[A-Z]", first) else title[:1].lower() + title[1:]
