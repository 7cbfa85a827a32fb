"""How a reading is said: what is good, what a test lamp shows, what a wrong reading suggests."""

from collections.abc import Iterator
from math import isinf

from planner.messages import later, tr
from planner.model.meter_log import Taken
from planner.model.meter_page import MeterTest, WrongReading

NEARLY_NOTHING_V = 0.3  # a band that ends below this is said as no volts
_LAMPS = {
    "lit": later("lit"),
    "dim": later("dim"),
    "dark": later("dark"),
    "cannot tell": later("cannot tell"),
}


def good_words(test: MeterTest) -> str:
    """What is good: ``10.7 to 12.7 V (computed 12.2)``."""
    if isinf(test.expected):
        return tr("open (more than {ohms})", ohms=ohm_words(test.low))
    if test.unit == "ohm":
        if test.low == 0:
            return tr("less than {most}", most=ohm_words(test.high))
        least, computed = _figure(test.low), _figure(test.expected)
        most = ohm_words(test.high)
        return tr("{least} to {most} (computed {computed})", least=least, most=most, computed=computed)
    if test.low <= 0 <= test.high:
        if test.high < NEARLY_NOTHING_V:
            return tr("nothing, less than {volts:.2f} V", volts=test.high)
        return tr("less than {volts:.2f} V", volts=test.high)
    least, most, computed = f"{test.low:.1f}", f"{test.high:.1f} V", f"{test.expected:.1f}"
    return tr("{least} to {most} (computed {computed})", least=least, most=most, computed=computed)


def ohm_words(ohms: float) -> str:
    """Ohms as a meter shows them."""
    if ohms >= 1e6:
        return tr("{ohms} megohm", ohms=f"{ohms / 1e6:.3g}")
    if ohms >= 1e3:
        return tr("{ohms} kohm", ohms=f"{ohms / 1e3:.3g}")
    return tr("{ohms} ohm", ohms=_figure(ohms))


def _figure(ohms: float) -> str:
    """Two digits of a few ohms, whole ohms of more."""
    return f"{ohms:.2g}" if ohms < 10 else f"{ohms:.0f}"


def wrong_words(wrong: WrongReading, unit: str) -> str:
    """What a wrong reading suggests: ``open: the yellow wire (W36) is off 53 ...``."""
    return f"{_about(wrong, unit)}: {wrong.words}"


def _about(wrong: WrongReading, unit: str) -> str:
    if isinf(wrong.high):
        return tr("open")
    if unit == "ohm":
        if wrong.low == 0:
            return tr("less than {most}", most=ohm_words(wrong.high))
        return tr("{least} to {most}", least=_figure(wrong.low), most=ohm_words(wrong.high))
    if wrong.low <= 0 <= wrong.high:
        return tr("nothing, or next to it")
    return tr("{least} to {most}", least=_signed(wrong.low), most=f"{_signed(wrong.high)} V")


def _signed(volts: float) -> str:
    """Volts whose minus nobody takes for a dash."""
    return tr("minus {volts}", volts=f"{-volts:.1f}") if volts < 0 else f"{volts:.1f}"


def lamp_shows(test: MeterTest) -> str:
    """What a test lamp shows instead, in a word or two."""
    return tr(_LAMPS[test.lamp])


def lamp_words(test: MeterTest) -> str:
    """What a test lamp shows instead."""
    says = lamp_shows(test)
    if test.stage == "dead":
        return tr("lamp with a battery of its own: {says}", says=says)
    return tr("test lamp: {says}", says=says)


def judged_words(taken: Taken) -> Iterator[str]:
    """Yield what a reading comes to, line by line."""
    test = taken.test
    if taken.verdict == "good":
        yield tr("good")
        return
    if taken.verdict == "cannot tell":
        yield tr("A test lamp cannot tell here; it takes a meter")
        return
    yield tr("NOT GOOD: {typed}, and good is {good}", typed=taken.typed, good=good_words(test))
    if isinstance(taken.read, str):
        yield tr("A lamp does not tell which; with a meter:")
        for wrong in taken.says:
            yield wrong_words(wrong, test.unit)
    elif taken.says:
        for wrong in taken.says:
            yield tr("likeliest: {words}", words=wrong.words)
    else:
        yield tr("None of the likeliest mistakes reads so; take it again, then look at both ends of the wire")
