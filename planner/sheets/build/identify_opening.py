"""What the readings come to, in the first lines of the sheet: found or not, and what to do about it."""

from collections.abc import Iterator, Sequence

from planner.inquiry.part.assign import MOST_WAYS
from planner.inquiry.part.identify import Identification
from planner.inquiry.part.search import MOST_STEPS
from planner.model.wording import counted
from planner.sheets.build.identify_words import setting_words
from planner.sheets.sheet import Block, say

MOST_SHOWN = 3


def opening(found: Identification, *, is_written: bool) -> Iterator[Block]:
    """Yield the verdict, and what is to be minded before it is believed."""
    parts = dict.fromkeys(e.part.title for e in found.explanations)
    if found.is_all_open:
        yield from _all_open(found)
    elif found.contradictions:
        yield say("TAKE SOME READINGS AGAIN: no part could give all of them.", "bad")
    elif not parts:
        looked = ", as far as it was looked for" if found.incomplete else ""
        yield say(f"NOT FOUND: no part of the catalogue explains all readings{looked}.", "bad")
        if not is_written:
            yield say("'--write PART.yaml' makes a part of them all the same.", "note")
    elif found.next is not None:
        yield say(f"NOT DECIDED: {_left(found)}.", "warn")
    elif len(found.kinds) > 1:
        said = f"NOT DECIDED: {counted(len(parts), 'part')} of {len(found.kinds)} kinds read alike"
        yield say(f"{said} in these positions. Marks, face and mounting have to decide.", "warn")
    elif found.explanations[0].contrary:
        yield say("NOT DECIDED: it fits only if your positions are called otherwise.", "warn")
    else:
        yield from _one_kind(found, list(parts))
    yield from _contrary(found)
    yield from _which_kind(found)
    if found.incomplete:
        yield say(_limit(found), "warn")
    first = found.explanations[0] if found.explanations else None
    for name, read, ohms in first.other_coils if first else ():
        yield say(
            f"The same pattern with another coil ({name}): {read:g} ohm, {ohms:g} in the catalogue. Its "
            "volts may be others: twice the volts take about four times the ohms.",
            "warn",
        )
    unread = first.unseen + first.left_out if first else ()
    if unread:
        yield say(f"Not read, if it is the first one below: {'; '.join(unread)}.", "warn")


def _all_open(found: Identification) -> Iterator[Block]:
    """Where nothing is joined, a part is hardly told from a bad lead."""
    yield say("NOT DECIDED: nothing was found joined to anything.", "warn")
    yield say(
        "Hold the tips of the meter together: does it read nothing, and beep? Then work the part through "
        "all its positions, try each terminal against its case, and each diode both ways round. A connector "
        "with nothing in it reads like this, and so does a switch whose contacts are dirty."
    )
    if found.explanations:
        yield say(f"{_left(found)}: all that may read open.", "quiet")


def _left(found: Identification) -> str:
    count, parts = len(found.explanations), len({e.part.part for e in found.explanations})
    more = " or more" if found.is_cut else ""
    said = "explanation is" if (count, more) == (1, "") else "explanations are"
    return f"{count}{more} {said} left, by {counted(parts, 'part')}"


def _contrary(found: Identification) -> Iterator[Block]:
    first = found.explanations[0] if found.explanations else None
    for name in first.contrary if first else ():
        reads = setting_words(first.part, first.settings[name]) if first else ""
        yield say(
            f"Your '{name}' reads as its '{reads}'. Do you call so what the hand does to the part itself, "
            "such as pushing a plunger that the pedal lets go? Then call the positions by what the vehicle "
            "does. If not, yours works the other way round, and is none of these.",
            "warn",
        )


def _which_kind(found: Identification) -> Iterator[Block]:
    """What it is for a person often knows from where it came, and no meter does."""
    families = list(dict.fromkeys(family for family, *_ in found.kinds))
    if len(families) < 2:
        return
    if found.speaks_for:
        yield say(f"What you call the positions and terminals speaks for a {found.speaks_for.part.family}.")
    more = f" and {len(families) - MOST_SHOWN} more" if len(families) > MOST_SHOWN else ""
    yield say(f"If you know what it is for, say so with --family: {', '.join(families[:MOST_SHOWN])}{more}.")


def _one_kind(found: Identification, titles: Sequence[str]) -> Iterator[Block]:
    """FOUND if nothing is left to read or to tell apart, as the exit status says; else what is."""
    several = f"a {found.kinds[0][0]}; {counted(len(titles), 'part')} of that kind read alike"
    said = titles[0] if len(titles) == 1 else several
    if found.is_decided:
        yield say(f"FOUND: {said}.", "good")
    elif found.has_more_ways:
        yield say(f"NOT DECIDED: {said}, but not which terminal is which.", "warn")
        yield say(
            "More than one way fits, the likeliest first; what they have overlaps, so no reading decides."
        )
    elif found.explanations[0].unseen:
        yield say(f"NOT DECIDED: {said}, as far as it was read.", "warn")
    else:
        yield say(f"NOT DECIDED: {said}, as far as it was looked for.", "warn")


def _limit(found: Identification) -> str:
    """Which limit of the search was met, and by which parts."""
    kept = f"More than {MOST_WAYS} ways of one part fit, and no more are kept" if found.is_cut else ""
    tried = "" if found.is_cut else f"More than {MOST_STEPS:,} ways of one part were tried, and no more are"
    named = ", ".join(found.incomplete[:MOST_SHOWN])
    more = len(found.incomplete) - MOST_SHOWN
    others = f" and {more} more" if more > 0 else ""
    return f"{kept or tried}: read more. Not looked at to the end: {named}{others}."
