"""Whether what a meter said is what the pattern has there; where not, the meter is right."""

from planner.model.survey_lines import ALWAYS, IGNITION, LIGHTS, Asked, MeterReading

# Up to so much a cold filament or a motor at rest may read against the body: common practice, no source.
MOST_OHMS_OF_A_LOAD = 500.0


def agrees(reading: MeterReading, asked: Asked) -> bool:
    """Whether a reading is one that the pattern's conductor can give, its wire off the terminal."""
    nature = asked.nature
    if reading.kind == "live":
        return _is_live_so(reading.when, asked)
    if reading.kind == "link":
        return reading.to in asked.addresses
    if reading.kind == "earth":  # a cold filament reads a few tenths of an ohm too
        is_switched = reading.when != ALWAYS
        return nature in (("switched-earth",) if is_switched else ("earth", "switched-earth", "load"))
    if reading.kind == "ohms":
        return nature == "load" and (reading.ohms or 0.0) <= MOST_OHMS_OF_A_LOAD
    return nature in ("dead", "switched-live", "switched-earth")


def settles(reading: MeterReading, asked: Asked) -> bool:
    """Whether a reading that agrees leaves nothing open.

    "Nothing" on a switched wire has many causes; hardly any ohms to the body may be a cold filament or an
    earth, and an earth that nobody has seen open may be one that a switch makes.
    """
    if reading.kind == "nothing":
        return asked.nature == "dead" and not _terminals(asked)
    return reading.kind != "earth" or asked.nature == "earth" or reading.when != ALWAYS


def pattern_words(asked: Asked, volts: float) -> str:
    """What the pattern has there, as a meter would say it; ``volts`` are the supply's nominal ones."""
    if asked.kind == "empty":
        return "no wire" if asked.is_swapped else f"{volts:g} V {_live_words(asked)}"
    if asked.kind == "mounting":
        return "0 ohms to body" if asked.nature == "earth" else "nothing to body"
    words = {
        "earth": "0 ohms to body",
        "switched-earth": "0 ohms to body with its switch closed",
        "load": "some ohms to body",
        "dead": "nothing to body",
    }
    return words.get(asked.nature, f"{volts:g} V {_live_words(asked)}")


def _live_words(asked: Asked) -> str:
    if asked.nature == "always-live":
        return ALWAYS
    return "with ignition" if asked.nature == "ignition-live" else f"{asked.when or 'with a switch'}"


def _is_live_so(when: str, asked: Asked) -> bool:
    if when == ALWAYS:
        return asked.nature == "always-live"
    if asked.nature == "ignition-live":
        return when == IGNITION
    if asked.nature != "switched-live":
        return False
    names = " ".join(asked.depends_on).lower()
    wanted = {IGNITION: ("ignition", "key"), LIGHTS: ("light", "lamp")}.get(when)
    return wanted is None or any(word in names for word in wanted)


def _terminals(asked: Asked) -> list[str]:
    return [at for at in asked.addresses if not at.startswith(("earth", "feed:", "joint:"))]
