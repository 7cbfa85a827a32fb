"""The table of a survey as rows: what is known filled in, the rest blank, and how to measure it."""

from collections.abc import Iterator

from planner.inquiry.survey.measuring import Measuring
from planner.inquiry.survey.prepare import Survey
from planner.model.survey_lines import Answer, Answers, Asked
from planner.model.wording import colour_words
from planner.reading.survey_supply import POLE, VEHICLE, VOLTS
from planner.reading.survey_table import COLUMNS

HOW_SUPPLY = {
    VOLTS: "look at the battery: about 2 V for each filler cap",
    POLE: "look which post of the battery has its cable on the body",
}
HEADINGS = tuple(column.name for column in COLUMNS)


def table_rows(survey: Survey, answers: Answers) -> tuple[tuple[str, ...], ...]:
    """Two rows about the vehicle, then one for each line and for each wire found beside them."""
    found = [*_vehicle(survey, answers)]
    for line in survey.asked:
        found.append(
            _row(survey.titles[line.place], line, answers.of(line), _how(line, survey.measurings[line.key]))
        )
        found += _more(line, survey, answers)
    return tuple(found)


def _vehicle(survey: Survey, answers: Answers) -> Iterator[tuple[str, ...]]:
    supply = survey.pattern.supply
    said = ((VOLTS, f"{answers.volts:g} V" if answers.volts else "", f"{supply.volts:g} V"),
            (POLE, answers.earthed or "", supply.earthed))  # fmt: skip
    for what, typed, pattern in said:
        how = f"{HOW_SUPPLY[what]}; pattern: {pattern}"
        yield (VEHICLE, what, "", "", typed, "", "", "", how)


def _more(line: Asked, survey: Survey, answers: Answers) -> Iterator[tuple[str, ...]]:
    """Yield the wires of a terminal that the pattern does not have, below its last line."""
    if any(other.key == (line.place, line.mark, line.number + 1) for other in survey.asked):
        return
    for (place, mark, number), answer in sorted(answers.by_key.items()):
        if (place, mark) == (line.place, line.mark) and number > line.number:
            row = _row(survey.titles[place], line, answer, "a wire beside those of the pattern")
            yield (*row[:2], str(number), *row[3:])


def _row(title: str, line: Asked, answer: Answer, how: str) -> tuple[str, ...]:
    return (
        title,
        line.mark,
        f"{line.number} of {line.count}" if line.count > 1 else "",
        "no wire" if answer.no_wire else colour_text(answer),
        answer.reading.said if answer.reading else "",
        answer.fitting or "",
        f"{answer.mm2:.6g} mm2" if answer.mm2 else "",
        answer.note,
        how,
    )


def colour_text(answer: Answer) -> str:
    """A colour as it is read back: what was said of it, else its words."""
    return answer.colour_said or (colour_words(answer.colour) if answer.colour else "")


def _how(line: Asked, measuring: Measuring) -> str:
    said = {"look": "LOOK", "bracket": "OHMS from its bracket to bare body"}
    parts = [
        f"tag it {line.wire}" if line.wire and line.is_swapped else "",
        said.get(measuring.method, measuring.method.upper()),
        measuring.settings,
        f"pattern: {measuring.expected}",
    ]
    return "; ".join(part for part in parts if part)
