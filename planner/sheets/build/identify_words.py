"""What a meter finds and how a part is set, in words."""

from collections.abc import Sequence
from math import inf

from planner.inquiry.part.bench_view import Setting
from planner.inquiry.part.element_ohms import JOINT, JUNCTION, UNKNOWN, Ohms
from planner.model.part import Part
from planner.sheets.build.contact_rows import position_words


def ohms_words(ohms: Ohms) -> str:
    """What is between two terminals: ``a joint: it beeps``, ``42 to 79 ohm``, ``open``."""
    least, most = ohms
    if ohms == JOINT:
        return "a joint: it beeps"
    if least == inf:
        return "open"
    if ohms == UNKNOWN:
        return "anything: nobody knows"
    if ohms == JUNCTION:
        return "a diode: some 0.6 V on the diode range, high or open on ohms"
    if most == inf:
        return f"{_number(least)} ohm or more"
    return f"{_number(least)} to {_number(most)} ohm"


def setting_words(part: Part, settings: Sequence[Setting]) -> str:
    """Settings that a meter cannot tell apart: each thing that is set, unless any value of it will do."""
    said = []
    for name in settings[0]:
        values = dict.fromkeys(setting[name] for setting in settings)
        every = part.variables.get(name, ())
        if len(values) == 1 or len(values) < len(every):
            words = " or ".join(position_words(part, name, value) for value in values if value)
            said.append(f"{name}: {words or 'at rest'}")
    return ", ".join(said) or "any"


def ways_words(count: int, *, or_more: bool = False) -> str:
    """In how many ways the terminals can be called so."""
    if or_more:
        return f"{count} ways or more"
    return "one way" if count == 1 else f"{count} ways"


def _number(ohms: float) -> str:
    return f"{ohms:.2g}" if ohms < 10 else f"{ohms:.0f}"
