"""Several readings that contradict the pattern where one mistake of measuring explains them all.

Then it is not said whether the vehicle differs or the lamp and the meter were wrong, so it is asked. Common
practice, no source.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.inquiry.survey.matching import agrees, pattern_words
from planner.inquiry.survey.prepare import Survey
from planner.model.doubt import Doubt
from planner.model.survey_lines import ALWAYS, IGNITION, LIGHTS, Answers, Asked, MeterReading

LEAST_EXPLAINED = 2  # one reading that differs is a vehicle that differs
LEAST_CONTRADICTING = 3  # that no one mistake explains, so that it is asked whether it is this part at all
READ_AGAIN = "read again"  # what a person puts behind a reading that was taken once more

_LIVE = ("always-live", "ignition-live", "switched-live")
_EARTHED = ("earth", "switched-earth", "load")
Read = tuple[Asked, MeterReading]


@dataclass(frozen=True, slots=True)
class _Mistake:
    """One way to measure wrongly: the readings that it explains, those that speak against it, and a proof."""

    called: str
    explains: Callable[[Read], bool]
    refuted_by: Callable[[Read], bool]
    first: str  # what to look at before the line is read again


@dataclass(frozen=True, slots=True)
class OneCause:
    """Lines that one mistake explains, in the order of the survey, and the question that settles it."""

    lines: tuple[Asked, ...]
    doubt: Doubt


def _is_of_an_earth(asked: Asked, reading: MeterReading) -> bool:
    """Whether against the live pole an earth reads so: live always, or as its switch closes."""
    is_switched = asked.nature == "switched-earth" and reading.when not in (IGNITION, LIGHTS)
    return reading.when == ALWAYS or is_switched


def _is_ignition(asked: Asked) -> bool:
    by = " ".join((*asked.depends_on, asked.when)).lower()
    return asked.nature == "ignition-live" or (asked.nature == "switched-live" and "ignition" in by)


_MISTAKES = (
    _Mistake(
        "the test lamp was clipped to the live pole, or the meter's other probe was not on bare body",
        lambda read: (
            (read[0].nature in _LIVE and read[1].kind == "nothing")
            or (read[0].nature in _EARTHED and read[1].kind == "live" and _is_of_an_earth(*read))
        ),
        lambda read: read[0].nature in _LIVE and read[1].kind == "live" and agrees(read[1], read[0]),
        "clip of the lamp, or the other probe, on bare metal of the body: at the battery's live post it must "
        "light or read the battery, on bare metal it must not",
    ),
    _Mistake(
        "the battery was off, or flat",
        lambda read: read[0].nature in _LIVE and read[1].kind == "nothing",
        lambda read: read[1].kind == "live",
        "the battery on, both its clamps tight: the horn or a lamp that needs no key must work",
    ),
    _Mistake(
        "the ignition was not on",
        lambda read: _is_ignition(read[0]) and read[1].kind == "nothing",
        lambda read: read[1].kind == "live" and read[1].when == IGNITION,
        "the ignition on: its warning lamps must light",
    ),
)


def one_cause(survey: Survey, answers: Answers) -> tuple[OneCause, ...]:
    """What may be wrong with the readings rather than with the pattern, each with the lines it would explain.

    A reading that was taken again is the vehicle's own; what it contradicts is no mistake.
    """
    reads = [
        (line, answer.reading)
        for line in survey.asked
        if line.kind != "mounting" and (answer := answers.of(line)).reading is not None
    ]
    return (*_minus(survey, reads), *(_mistaken(survey, reads) or _most(survey, reads)))


def _mistaken(survey: Survey, reads: Sequence[Read]) -> list[OneCause]:
    """One question for all mistakes that explain as much as any does."""
    explained: dict[_Mistake, list[Read]] = {}
    for mistake in _MISTAKES:
        by = [read for read in reads if not agrees(read[1], read[0]) and mistake.explains(read)]
        against = [read for read in reads if mistake.refuted_by(read)]
        if (
            len(by) >= LEAST_EXPLAINED
            and len(by) > len(against)
            and not any(read[1].is_read_again for read in by)
        ):
            explained[mistake] = by
    if not explained:
        return []
    most = max(map(len, explained.values()))
    meant = [mistake for mistake, by in explained.items() if len(by) == most]
    lines = tuple(line for line, _ in explained[meant[0]])
    called = "; or ".join(mistake.called for mistake in meant)
    first = "; ".join(mistake.first for mistake in meant)
    return [OneCause(lines, _doubt(survey, lines, f"whether {called}", first))]


def _minus(survey: Survey, reads: Sequence[Read]) -> list[OneCause]:
    lines = tuple(line for line, read in reads if (read.volts or 0.0) < 0 and not read.is_read_again)
    if not lines:
        return []
    pole = survey.loom.supply.earthed
    other = "positive" if pole == "negative" else "negative"
    about = f"whether the meter's leads were exchanged, or the {other} pole is earthed and not the {pole} one"
    first = "look which post of the battery has its cable on the body, and that red is in the volts socket"
    return [OneCause(lines, _doubt(survey, lines, about, first))]


def _most(survey: Survey, reads: Sequence[Read]) -> list[OneCause]:
    """Most readings contradict, and no mistake of measuring explains it: perhaps it is another part."""
    own = [read for read in reads if read[0].is_swapped]
    contrary = [read for read in own if not agrees(read[1], read[0])]
    if (
        len(contrary) < LEAST_CONTRADICTING
        or 2 * len(contrary) <= len(own)
        or any(read[1].is_read_again for read in contrary)
    ):
        return []
    lines = tuple(line for line, _ in contrary)
    about = "whether the marks were read from the wrong side (mirror image), or another part is fitted"
    first = "hold the part beside its sketch: the sketch is seen from the wiring side"
    return [OneCause(lines, _doubt(survey, lines, about, first))]


def _doubt(survey: Survey, lines: Sequence[Asked], about: str, first: str) -> Doubt:
    named = ", ".join(dict.fromkeys(_point(survey, line) for line in lines))
    return Doubt(
        about=f"{about}: that alone would explain what was read at {named}",
        where=f"{_point(survey, lines[0])} again, the wire off its terminal: voltmeter or test lamp from the "
        "wire to bare metal of the body",
        how=f"first {first}",
        answers={
            pattern_words(lines[0], survey.loom.supply.volts): "as the pattern: the first readings were "
            "wrong; take all of these again, enter them, and read the table again",
            "the same as before": f"your vehicle differs: write {READ_AGAIN!r} behind that reading, and read "
            "the table again",
        },
    )


def _point(survey: Survey, line: Asked) -> str:
    title = survey.titles[line.place].partition(",")[0]
    wire = f" (wire {line.number})" if line.count > 1 else ""
    return f"{line.mark}{wire} on the {title}"
