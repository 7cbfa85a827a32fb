"""How a reading is said: what is good, what a test lamp shows, what a wrong reading suggests."""

from math import isinf

from planner.model.meter_page import MeterTest, WrongReading

NEARLY_NOTHING_V = 0.3  # a band that ends below this is said as no volts
_LAMPS = {"lit": "lit", "dim": "dim", "dark": "dark", "cannot tell": "cannot tell"}


def good_words(test: MeterTest) -> str:
    """What is good: ``10.7 to 12.7 V (computed 12.2)``."""
    if isinf(test.expected):
        return f"open (more than {ohm_words(test.low)})"
    if test.unit == "ohm":
        if test.low == 0:
            return f"less than {ohm_words(test.high)}"
        return f"{test.low:.2g} to {ohm_words(test.high)} (computed {test.expected:.2g})"
    if test.low <= 0 <= test.high:
        nothing = "nothing, " if test.high < NEARLY_NOTHING_V else ""
        return f"{nothing}less than {test.high:.2f} V"
    return f"{test.low:.1f} to {test.high:.1f} V (computed {test.expected:.1f})"


def ohm_words(ohms: float) -> str:
    """Ohms as a meter shows them."""
    if ohms >= 1e6:
        return f"{ohms / 1e6:.2g} megohm"
    if ohms >= 1e3:
        return f"{ohms / 1e3:.2g} kohm"
    return f"{ohms:.2g} ohm" if ohms < 10 else f"{ohms:.0f} ohm"


def wrong_words(wrong: WrongReading, unit: str) -> str:
    """What a wrong reading suggests: ``open: the yellow wire (W36) is off 53 ...``."""
    return f"{_about(wrong, unit)}: {wrong.words}"


def _about(wrong: WrongReading, unit: str) -> str:
    if isinf(wrong.high):
        return "open"
    if unit == "ohm":
        if wrong.low == 0:
            return f"less than {ohm_words(wrong.high)}"
        return f"{wrong.low:.2g} to {ohm_words(wrong.high)}"
    if wrong.low <= 0 <= wrong.high:
        return "nothing, or next to it"
    return f"{wrong.low:.1f} to {wrong.high:.1f} V"


def lamp_words(test: MeterTest) -> str:
    """What a test lamp shows instead."""
    own = "lamp with a battery of its own" if test.stage == "dead" else "test lamp"
    return f"{own}: {_LAMPS[test.lamp]}"
