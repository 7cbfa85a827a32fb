"""How to measure each line of a survey: range, probes, ignition on or off, and what each reading means.

The expected reading is that of the pattern; a reading is taken whatever it is. Common practice, no source.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from planner.inquiry.survey.matching import pattern_words
from planner.model.facts import Nature
from planner.model.loom import Loom, Supply, split_address
from planner.model.survey_lines import Asked, Method
from planner.model.wording import address_words

# Ranges that meters have in common.
_RANGES_VOLTS = (20, 200)
_METHODS: Mapping[Nature, Method] = MappingProxyType(
    {
        "always-live": "volts",
        "ignition-live": "volts",
        "switched-live": "volts",
        "earth": "ohms",
        "switched-earth": "ohms",
        "load": "ohms",
        "dead": "ohms",
    }
)


@dataclass(frozen=True, slots=True)
class Measuring:
    """One line's reading: the method, what is particular here, what to expect, what each reading means."""

    method: Method
    leads: str  # where the pattern has the wire go
    settings: str
    expected: str
    means: tuple[tuple[str, str], ...]


def range_words(supply: Supply) -> str:
    """The meter's range for the supply: the next above it that meters have."""
    volts = next(volts for volts in _RANGES_VOLTS if volts > supply.volts * 1.3)
    return f"{volts} V DC"


def methods(supply: Supply) -> tuple[tuple[str, str], ...]:
    """How each kind of reading is taken, named as the lines name it."""
    live = "red" if supply.earthed == "negative" else "black"
    other = "black" if live == "red" else "red"
    return (
        (
            "VOLTS",
            f"battery on, range {range_words(supply)}; the {live} probe on the wire, taken off its terminal "
            f"and clear of metal, the {other} probe on bare metal of the body. First with ignition and every "
            "switch off, then ignition on, then each switch in turn. Nothing else is touched meanwhile.",
        ),
        (
            "OHMS",
            "earthed pole of the battery OFF, lowest ohms range, probes held together first: subtract what "
            "they read. One probe on the wire, taken off its terminal, the other on bare metal of the body.",
        ),
        (
            "BEEP",
            "as OHMS, but the other probe on the terminal named: the meter beeps, or reads under 2 ohms, if "
            "both are one wire.",
        ),
    )


def measuring(asked: Asked, loom: Loom, asked_places: Sequence[str]) -> Measuring:
    """How to measure one line."""
    volts = loom.supply.volts
    expected = pattern_words(asked, volts)
    if asked.kind == "mounting":
        means = (
            ("under 1 ohm", "its mounting earths it"),
            ("more", "not an earth to rely on: clean it and read again, or enter it as it is"),
            ("nothing", "it is insulated: a wire has to earth it"),
        )
        return Measuring("bracket", "", "", expected, means)
    if asked.kind == "empty" and asked.is_swapped:
        return Measuring("look", "", "", expected, (("a wire is there", "enter its colour and reading"),))
    leads = _leads(asked, loom)
    far = _far_terminal(asked, loom, asked_places)
    if asked.nature in ("dead", "load") and far is not None:
        there = address_words(loom, far).partition(",")[0]
        also = (f"{expected}", f"goes through {asked.loads[0][1]!r}") if asked.loads else ("", "")
        means = (
            (f"beeps to {there}", "one wire, from here to there"),
            *((also,) if also[0] else ()),
            (f"{volts:g} V in any setting", "a feed, not what the pattern has: enter with what it is live"),
            ("nothing at all", "broken, or it goes elsewhere"),
        )
        return Measuring("beep", leads, f"other probe on {there}", f"beeps to {there}", means)
    return Measuring(_METHODS[asked.nature], leads, _settings(asked), expected, _means(asked, volts))


def _settings(asked: Asked) -> str:
    if asked.nature in ("switched-live", "switched-earth") and asked.when:
        return f"read also {asked.when}"
    return {"always-live": "ignition off", "ignition-live": "ignition off, then on"}.get(asked.nature, "")


def _means(asked: Asked, volts: float) -> tuple[tuple[str, str], ...]:
    live = f"{volts:g} V"
    if asked.nature in ("always-live", "ignition-live", "switched-live"):
        return (
            (f"{live} always", "a constant feed"),
            (f"{live} with ignition", "an ignition-switched feed"),
            (f"{live} with something else", f"switched by that: enter with what, such as {live} with lights"),
            ("nothing", "no feed, or its fuse is out: then OHMS"),
        )
    means = [("under 2 ohms", "earth" if asked.nature != "load" else "a cold filament, a motor, or earth")]
    if asked.nature == "switched-earth":
        means = [
            ("under 2 ohms", "earth through a switch: enter with what, such as 0 ohms to body with door open")
        ]
    return (
        *means,
        (
            "more ohms",
            "a lamp, motor or coil between here and earth" if asked.nature != "earth" else "a poor earth",
        ),
        ("nothing", "open: a switch, a break, or it goes elsewhere"),
    )


def _leads(asked: Asked, loom: Loom) -> str:
    """Where the wire itself goes; behind a joiner, where that leads."""
    if not asked.wire or not asked.is_swapped:
        return ""
    heads = [end.at for n, end in enumerate(loom.find(asked.wire).ends) if n != asked.end]
    if all(at.startswith("joint:") for at in heads):
        beyond = [at for at in asked.addresses if not at.startswith("joint:")]
        heads = beyond[: 1 if asked.nature.endswith("-live") else 2]
    said = (address_words(loom, at).partition(",")[0] for at in heads if not at.startswith("joint:"))
    return " and ".join(dict.fromkeys(said))


def _far_terminal(asked: Asked, loom: Loom, in_hand: Sequence[str]) -> str | None:
    """The other end to beep to: on a part in hand as well, or on any where nothing else tells the wire."""
    places = loom.places if asked.nature == "dead" else in_hand
    return next((at for at in asked.addresses if split_address(at)[0] in places), None)
