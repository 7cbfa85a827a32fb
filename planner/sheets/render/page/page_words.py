"""What a page itself says besides the sheet: buttons, messages, the states of its live picture."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from planner.messages import later, tr

_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "parts": later("Parts of this sheet"),
        "contents": later("Contents"),
        "ticks": later("Ticks"),
        "ticked": later("{done} of {all} steps ticked"),
        "save": later("Save ticks as a file"),
        "read": later("Read ticks from a file"),
        "untick": later("Clear all ticks"),
        "otherwise": later("What turned out otherwise"),
        "lines": later("A line each: part PLACE PART, broken WIRE ADDRESS, or cut WIRE."),
        "saved": later("Saved as {file}; loomwright sheet {job} --done {file} reads it."),
        "was_read": later("Read {count} ticks from {file}."),
        "other_plan": later("The file is of another plan."),
        "not_here": later("{count} of its lines are not on this sheet."),
        "cleared": later("Nothing is ticked now."),
        "not_kept": later("This browser keeps nothing: save the ticks as a file before you close the page."),
        "in_words": later("in words"),
        "live": later("Live picture: throw a switch and see what both looms do"),
        "to_live": later("Live picture"),
        "proven": later(
            "Each state here is looked up in what was proven, before the work and after it, with every joint "
            "sound. It shows no volts and no amps, and it is no leave to touch anything: the meter says what "
            "is live. What differs is marked ≠."
        ),
        "switches": later("Switches and conditions"),
        "rest": later("Everything at rest"),
        "only": later("Only what is on, live or differs"),
        "drawing": later("Drawing"),
        "shown": later("Shown"),
        "both": later("Both"),
        "bands": later(
            "A wire with a wide band beside it is live, with a narrower one live through a load; on the way "
            "back to earth the band is narrow and blue. Where it is dotted it carries no current, in long "
            "dashes the current comes and goes. A terminal with a heavy edge is live. A load's circle is "
            "empty: off; a quarter filled: glows; half: dim; full: at work; with a broken edge: flashes; in "
            "a red square: takes too much."
        ),
        "load": later("Load"),
        "wire": later("Wire"),
        "terminal": later("Terminal"),
        "before": later("Before"),
        "after": later("After"),
        "wires": later("Wires: which carry current"),
        "terminals": later("Terminals: which are live"),
        "not_told": later(
            '"Not told": two sources meet there, or another way runs beside it, so that joints alone do not '
            "say how the current divides."
        ),
        "only_before": later("{what} (only before)"),
        "only_after": later("{what} (only after)"),
        "at_work": later("Loads at work: {before} before, {after} after. Loads that differ: {differing}."),
        "stays_before": later("Before: {control} has no such position; it is shown at {detent}."),
        "stays_after": later("After: {control} has no such position; it is shown at {detent}."),
        "alarm_before": later("{what} (before)"),
        "alarm_after": later("{what} (after)"),
        "alarm_both": later("{what} (before and after)"),
        "or": later(" or "),
    }
)
_STATES = (
    later("off"),
    later("glows"),
    later("dim"),
    later("full"),
    later("over"),
    later("flashes"),
    later("chatters"),
    later("parks"),
    later("turns"),
    later("stops off-park"),
    later("depends on which pulls first"),
    later("live"),
    later("earth"),
    later("live through a load"),
    later("neither"),
    later("carries current"),
    later("no current"),
    later("not told"),
    later("comes and goes"),
    later("not there"),
)


def page_words() -> dict[str, str]:
    """The page's own words, in the language that is spoken."""
    return {name: tr(text) for name, text in _WORDS.items()}


def state_words(words: Iterable[str]) -> dict[str, str]:
    """How each state is said; what a gauge reads is said as it is."""
    return {word: tr(word) for word in dict.fromkeys((*_STATES, *words))}
