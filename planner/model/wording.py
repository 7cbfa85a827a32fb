"""What people call a colour, a wire end, a terminal, the way a part is held, and so many of a thing."""

import re
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

from planner.messages import later, tr
from planner.model.loom import Loom, Wire, split_address
from planner.model.part import Held

# How a load appears, to stand after "was" and "now".
_APPEARANCES: Mapping[str, str] = MappingProxyType(
    {
        "off": later("off"),
        "glows": later("glowing faintly"),
        "dim": later("dim or slow"),
        "full": later("working fully"),
        "over": later("driven above its rating"),
        "flashes": later("flashing"),
    }
)
# IEC 60757, table 1; the plain words, without the standard's remarks.
COLOUR_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "BK": later("black"),
        "BN": later("brown"),
        "RD": later("red"),
        "OG": later("orange"),
        "YE": later("yellow"),
        "GN": later("green"),
        "BU": later("blue"),
        "VT": later("violet"),
        "GY": later("grey"),
        "WH": later("white"),
        "PK": later("pink"),
        "GD": later("gold"),
        "TQ": later("turquoise"),
        "SR": later("silver"),
        "GNYE": later("green-and-yellow"),
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


KEY_OFF = later(
    "supply on, ignition off and every switch off, meter on 20 V DC or the next range above the supply"
)
_PARK = "park the "
_PLAIN_FITTINGS: Mapping[str, str] = MappingProxyType(
    {
        "bullet": later("a bullet"),
        "bare": later("a bare end"),
        "screw": later("a bare end"),
        "contact": later("a crimped contact"),
    }
)


def colour_words(code: str) -> str:
    """A colour code in words: ``BK/RD`` is black/red."""
    return "/".join(tr(COLOUR_WORDS.get(part, part)) for part in code.split("/"))


def appearance_words(appearance: str) -> str:
    """How a load appears, to stand after "was" and "now"; of a gauge it is said what it reads."""
    if appearance.startswith("reads "):
        return tr("reading {share}", share=appearance.removeprefix("reads "))
    return tr(_APPEARANCES.get(appearance, appearance))


def park_name(cam: str) -> str:
    """What a cam does, as files name it among loads: ``park the blades``."""
    return f"{_PARK}{cam}"


def task_words(task: str) -> str:
    """What a load or a cam does, in words: those of loads are the files' own."""
    return tr("park the {cam}", cam=task.removeprefix(_PARK)) if task.startswith(_PARK) else task


def fitting_words(fitting: str) -> str:
    """A fitting as people say it: ``blade-6.3`` is a 6.3 mm push-on terminal."""
    kind, _, size = fitting.partition("-")
    if size and kind == "blade":
        return tr("a {size} mm push-on terminal", size=size)
    if size and kind in ("ring", "stud"):
        return tr("an M{size} ring", size=size)
    return tr(_PLAIN_FITTINGS.get(kind, kind))


def ends_words(ends: Sequence[str]) -> str:
    """The ends of a wire, each in words: ``a bullet at each end``, ``a bullet and an M6 ring``."""
    if len(ends) > 1 and len(set(ends)) == 1:
        return tr("{end} at each end", end=ends[0])
    return tr(" and ").join(ends)


def counted(count: int, noun: str) -> str:
    """So many of a thing: ``1 wire``, ``2 wires``, ``1,200 wires``."""
    return f"{count:,} {noun}{'' if count == 1 else 's'}"


def wire_words(wire: Wire, end: int = 0) -> str:
    """A wire as people point at it, by the colour seen at one end: ``the black/red wire``."""
    return tr("the {colour} wire", colour=colour_words(wire.end_colour(end)))


def said_name(name: str) -> str:
    """A name from a file as it is said: ``column-horn`` is column horn."""
    return name.replace("-", " ").replace("_", " ")


def address_words(loom: Loom, address: str, shown: Callable[[str], str] = str) -> str:
    """An address as people say it: ``53 on the wiper switch, dash``; ``shown`` names new wires."""
    head, tail = split_address(address)
    if head == "earth":
        zone = loom.zones.get(tail)
        return tr("earth, {zone}", zone=zone.title or tail) if zone else tr("earth")
    if head == "feed":
        return tr("the feed {name}", name=said_name(tail))
    if head == "joint":
        place, _, mark = tail.rpartition(".")
        if place in loom.places:
            return tr("the joiner at {at}", at=address_words(loom, f"{place}:{mark}"))
        if place and (wires := wires_joined(loom, address, shown)):
            return tr("the joiner of {wires}", wires=wires)  # where its part was nothing is left to see
        return tr("the joiner {name}", name=said_name(tail))
    if head == "loose":
        return tr("a loose end")
    if head == "unknown":
        return tr("an end that nobody has seen")
    if not tail:
        return head
    return tr("{mark} on the {place}", mark=mark_words(tail), place=loom.place_title(head))


def wires_joined(loom: Loom, joint: str, shown: Callable[[str], str] = str) -> str:
    """The wires that meet in a joiner, by what they are called: ``C2, C6, C10``."""
    return ", ".join(dict.fromkeys(shown(wire) for wire, _ in loom.ends_at.get(joint, ())))


def body_words(loom: Loom) -> str:
    """Where the meter's other tip goes: what is earthed, which is not all of every vehicle."""
    earthed = [zone.title or name for name, zone in loom.zones.items() if zone.body]
    if len(earthed) == len(loom.zones):
        return tr("bare metal of the body")
    returns = [w for w in loom.wires if any(split_address(end.at)[0] == "earth" for end in w.ends)]
    if not earthed and loom.kind == "trailer" and len(returns) == 1:
        wire = returns[0]
        colour = colour_words(wire.end_colour(0))
        return tr(
            "the contact of the trailer's plug on which the {colour} wire ({wire}), its return, ends",
            colour=colour,
            wire=wire.wire,
        )
    if not earthed:
        return tr("earth, where the return wire ends")
    return tr("bare metal of the {zones}", zones=tr(" or the ").join(earthed))


def volts_to_body(loom: Loom) -> str:
    """Where the voltmeter's other tip goes, and which tip that is where the positive pole is earthed."""
    to = body_words(loom)
    return to if loom.supply.earthed == "negative" else tr("{to}, the red tip there (positive earth)", to=to)


def mark_words(mark: str) -> str:
    """A mark as it is said in a sentence: one that is a word of its own, or a dash, stands in quotes."""
    is_word = len(mark) > 1 and mark.replace(" ", "").isalpha() and mark.islower()
    return f"'{mark}'" if is_word or mark == "-" else mark


def small(title: str) -> str:
    """A part's title in mid-sentence: no capital, unless it starts with an abbreviation or a type."""
    first = title.partition(" ")[0]
    return title if re.search(r"\d|.[A-Z]", first) else title[:1].lower() + title[1:]


def run_words(numbers: Sequence[int]) -> str:
    """Numbers with runs put together: ``2 to 5, 9``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)
