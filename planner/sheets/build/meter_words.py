"""How a reading is said: what is good, what a test lamp shows, what a wrong reading suggests."""

from collections.abc import Iterator
from math import isinf

from planner.messages import later, tr
from planner.model.meter_limits import OPEN_FROM_OHMS, near
from planner.model.meter_log import Taken
from planner.model.meter_page import MeterTest, WrongReading

KILO = 1e3
NEARLY_NOTHING_V = 0.3  # a band that ends below this is said as no volts
_LAMPS = {
    "lit": later("lit"),
    "dim": later("dim"),
    "dark": later("dark"),
    "flashes": later("flashes"),
    "none": later("none"),
    "cannot tell": later("cannot tell"),
}


def good_words(test: MeterTest) -> str:
    """What is good: ``10.7 to 12.7 V (computed 12.2)``; where it swings with a flasher, in both halves."""
    if test.dark is None:
        return _good_words(test)
    dark = _volts(near(test.dark)) if abs(test.dark) >= NEARLY_NOTHING_V else tr("nothing")
    return tr(
        "swings with the flasher: {good} while lit, {dark} while dark", good=_good_words(test), dark=dark
    )


def _good_words(test: MeterTest) -> str:
    if test.at_levels:
        return _at_any_level(test)
    if isinf(test.expected):
        return tr("open ({ohms} or more)", ohms=ohm_words(test.low))
    if test.unit == "ohm":
        if test.low == 0:
            return tr("{most} or less", most=ohm_words(test.high))
        least, computed = figure(test.low), figure(near(test.expected))
        most = ohm_words(test.high)
        return tr("{least} to {most} (computed {computed})", least=least, most=most, computed=computed)
    if test.low <= 0 <= test.high:
        most = _volts(test.high)
        return (
            tr("nothing, {most} or less", most=most)
            if test.high < NEARLY_NOTHING_V
            else tr("{most} or less", most=most)
        )
    least, most, computed = f"{test.low:.1f}", _volts(test.high), f"{test.expected:.1f}"
    return tr("{least} to {most} (computed {computed})", least=least, most=most, computed=computed)


def _at_any_level(test: MeterTest) -> str:
    """A reading that hangs on how full a tank is: both its ends, and all between them."""
    span = _ohm_span if test.unit == "ohm" else _volt_span
    ends = tr(", ").join(
        tr("{span} with {level}", span=span(low, high), level=level) for level, low, high in test.at_levels
    )
    return tr("{span}: {ends}, in between at other levels", span=span(test.low, test.high), ends=ends)


def _ohm_span(low: float, high: float) -> str:
    least = figure(low) if high < KILO else ohm_words(low)
    return tr("{least} to {most}", least=least, most=ohm_words(high))


def _volt_span(low: float, high: float) -> str:
    return tr("{least} to {most}", least=_signed(low), most=_volts(high))


def ohm_words(ohms: float) -> str:
    """Ohms as a meter shows them."""
    if ohms >= 1e6:
        return tr("{ohms} megohm", ohms=f"{ohms / 1e6:.3g}")
    if ohms >= KILO:
        return tr("{ohms} kohm", ohms=f"{ohms / KILO:.3g}")
    return tr("{ohms} ohm", ohms=figure(ohms))


def figure(ohms: float) -> str:
    """Ohms to the digit that their limits have."""
    return f"{ohms:.1f}" if ohms % 1.0 else f"{ohms:.0f}"


def lines_words(test: MeterTest) -> Iterator[str]:
    """Yield what each reading that is not good suggests, from low to high; what was said is named."""
    said: dict[str, str] = {}
    for wrong in test.wrong:
        about = _about(wrong, test.unit)
        words = tr("as for {reading}", reading=said[wrong.words]) if wrong.words in said else wrong.words
        said.setdefault(wrong.words, about)
        yield f"{about}: {words}"
    if test.dark is not None:
        yield tr("steady: {words}", words=test.steady)


def _about(wrong: WrongReading, unit: str) -> str:
    say = ohm_words if unit == "ohm" else _volts
    if isinf(wrong.high):
        if wrong.low >= OPEN_FROM_OHMS:
            return tr("open")
        return (tr("more than {least}, or open") if unit == "ohm" else tr("more than {least}")).format(
            least=say(wrong.low)
        )
    if isinf(wrong.low):
        return tr("less than {most}", most=say(wrong.high))
    if wrong.low == 0 and unit == "ohm":
        return tr("less than {most}", most=say(wrong.high))
    if wrong.low <= 0 <= wrong.high:
        return tr("nothing, or less than {most}", most=say(wrong.high))
    return tr("{least} to {most}", least=_least(wrong, unit), most=say(wrong.high))


def _least(wrong: WrongReading, unit: str) -> str:
    """The lower limit, without its unit where the upper one has the same."""
    if unit == "V":
        return _signed(wrong.low)
    return figure(wrong.low) if wrong.high < KILO else ohm_words(wrong.low)


def _volts(volts: float) -> str:
    return f"{_signed(volts)} V"


def _signed(volts: float) -> str:
    """Volts whose minus nobody takes for a dash."""
    return tr("minus {volts}", volts=f"{-volts:.1f}") if volts < 0 else f"{volts:.1f}"


def lamp_shows(test: MeterTest) -> str:
    """What a test lamp shows instead, in a word or two."""
    return tr(_LAMPS[test.lamp])


def lamp_words(test: MeterTest) -> str:
    """What a test lamp shows instead."""
    if test.lamp == "none":
        return tr("no lamp: it might do harm there")
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
        yield from lines_words(test)
    elif taken.says:
        for wrong in taken.says:
            yield tr("likeliest: {words}", words=wrong.words)
    else:
        yield tr(
            "A minus: see that red is where the line says, and take it again. If it is, two wires are "
            "changed over: those of what is read across, or those on the battery"
        )
