"""The sheet of what lies on the bench: what explains the readings, and what to read next."""

from collections.abc import Iterator, Mapping, Sequence

from planner.inquiry.part.deciding import NextReading
from planner.inquiry.part.explanation import Explanation
from planner.inquiry.part.identify import Identification
from planner.inquiry.part.measured_part import MeasuredPart
from planner.model.part import Role
from planner.model.readings import Reading
from planner.sheets.build.identify_opening import opening
from planner.sheets.build.identify_words import ohms_words, setting_words, ways_words
from planner.sheets.build.identify_written import written_sections
from planner.sheets.sheet import Block, Cell, Item, Listing, Section, Sheet, Table, bullets, say

MOST_LISTED, MOST_SHOWN = 12, 3


def identification_sheet(
    found: Identification,
    roles: Mapping[str, Role],
    looked_at: int,
    written: MeasuredPart | None = None,
    file: str = "",
) -> Sheet:
    """Verdict first, then contradictions, what to read next, what explains the readings, what was written."""
    sections = [
        Section("", tuple(opening(found, is_written=written is not None))),
        Section("Readings that contradict each other", tuple(_contradictions(found))),
        Section("Read this next", tuple(_next(found))),
        Section("What explains the readings", tuple(_list(found, found.explanations))),
        Section("What would fit if one reading were withdrawn", tuple(_list(found, found.nearly))),
    ]
    sections += [Section(_title(e), tuple(_shown(e, roles))) for e in _first(found)]
    if written is not None:
        sections += written_sections(found, written, file)
    sections.append(Section("", tuple(_footnotes(looked_at))))
    return Sheet("What lies on the bench", tuple(section for section in sections if section.blocks))


def _contradictions(found: Identification) -> Iterator[Block]:
    if not found.contradictions:
        return
    items = [
        Item(
            Cell("-", "bad"),
            Cell(f"{_reading_words(c.reading)}, but there is a way", "strong"),
            tuple(Cell(_reading_words(reading)) for reading in c.way),
        )
        for c in found.contradictions
    ]
    yield Listing(tuple(items))
    if found.suspects:
        yield say("Any one of these, withdrawn, would leave no contradiction; take them again first:")
        yield bullets(tuple(_reading_words(reading) for reading in found.suspects))


def _next(found: Identification) -> Iterator[Block]:
    reading = found.next
    if reading is None:
        return
    yield say(
        f"In position {reading.position}, from {reading.red} (red) to {reading.black} (black).", "strong"
    )
    taken = found.asked.bench.at(reading.position)
    if any((r.red, r.black) == (reading.black, reading.red) for r in taken):
        yield say("That is the other way round than you read it: exchange the leads.")
    yield say(f"Of {len(found.explanations)} explanations it leaves {reading.left:.1f} on average.", "quiet")
    yield _answers(reading)


def _answers(reading: NextReading) -> Table:
    rows = tuple((Cell(ohms_words(ohms)), Cell(str(count))) for ohms, count in reading.answers)
    return Table(("If the meter finds", "explanations that say so"), rows)


def _list(found: Identification, explanations: Sequence[Explanation]) -> Iterator[Block]:
    if not explanations:
        return
    by_part: dict[str, list[Explanation]] = {}
    for explanation in explanations:
        by_part.setdefault(explanation.part.part, []).append(explanation)
    rows = []
    for number, (name, known) in enumerate(list(by_part.items())[:MOST_LISTED], 1):
        wrong = dict.fromkeys(_reading_words(reading) for e in known for reading in e.wrong)
        ways = ways_words(sum(e.count for e in known), or_more=found.is_cut and name in found.incomplete)
        cells = (Cell(known[0].part.title), Cell("; ".join(wrong) or ways))
        rows.append((Cell(f"{number}."), Cell(name, "strong"), *cells))
    yield Table(("", "Part", "What it is", "Withdrawn" if explanations[0].wrong else "In"), tuple(rows))
    if len(by_part) > MOST_LISTED:
        yield say(f"And {len(by_part) - MOST_LISTED} more; --json lists them all.", "quiet")


def _first(found: Identification) -> Sequence[Explanation]:
    """What is shown in full: the first of each part, or the ways of the one part there is."""
    known = found.explanations or found.nearly
    by_part = {e.part.part: e for e in reversed(known)}
    first = [e for e in known if by_part[e.part.part] is e] if len(by_part) > 1 else known
    return first[:MOST_SHOWN]


def _title(explanation: Explanation) -> str:
    return f"{explanation.part.title} ({explanation.part.part})"


def _shown(explanation: Explanation, roles: Mapping[str, Role]) -> Iterator[Block]:
    """Which terminal and which position is which."""
    rows = []
    for name, mark in explanation.marks.items():
        role = roles.get(explanation.part.terminals[mark].role or "")
        others = explanation.other_marks[name]
        rows.append(
            (
                Cell(name, "strong"),
                Cell(" or ".join((mark, *others)), "strong"),
                Cell(
                    "these read alike: go by its face or its wires"
                    if others
                    else role.meaning
                    if role
                    else "purpose not known"
                ),
            )
        )
    yield Table(("Yours", "Its mark", "What that is"), tuple(rows))
    positions = tuple(
        (
            Cell(name, "strong"),
            Cell(
                "; or ".join(
                    setting_words(explanation.part, each)
                    for each in (settings, *explanation.other_settings[name])
                )
            ),
        )
        for name, settings in explanation.settings.items()
    )
    yield Table(("Your position", "is"), positions)
    unread = explanation.unseen + explanation.left_out
    if unread:
        yield say(f"Not read: {'; '.join(unread)}.", "quiet")


def _footnotes(looked_at: int) -> Iterator[Block]:
    yield say(
        f"{looked_at} parts were looked at. A meter sees joints and ohms only: marks, ends and what a part "
        "is made to carry have to be read off it. Cold filaments, windings that stand still, coils of other "
        "makes and the meter's leads are allowed for.",
        "quiet",
    )


def _reading_words(reading: Reading) -> str:
    return f"{reading} (row {reading.place.line})"
