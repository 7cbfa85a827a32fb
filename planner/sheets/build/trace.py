"""The sheet of a hunt: what is wrong, why, what was seen, and what to read next."""

from collections.abc import Iterator

from planner.model.hunt_report import HuntReport
from planner.sheets.sheet import Block, Cell, Item, Listing, Section, Sheet, Table, bullets, say


def hunt_sheet(report: HuntReport) -> Sheet:
    """The answer first, then the reading to take, the chain with volts, the suspects, and what was seen."""
    opening: list[Block] = [say(report.answer, "good" if report.verdict in ("found", "alike") else "warn")]
    seen = tuple(Item(Cell(f"{n}."), Cell(said)) for n, said in enumerate(report.seen, 1))
    sections = [
        Section("", tuple(opening)),
        Section("Readings to take again", tuple(_contradictions(report))),
        Section("Read this next", tuple(_question(report))),
        Section("From the mistake to what was seen", tuple(_chain(report))),
        Section("Who is suspected", tuple(_suspects(report))),
        Section("What was seen and read", (Listing(seen),) if seen else ()),
        Section("What was considered", (say(f"{report.considered}.", "quiet"),)),
    ]
    return Sheet(f"What is wrong? {report.title}", tuple(s for s in sections if s.blocks))


def _chain(report: HuntReport) -> Iterator[Block]:
    """Yield a list of what was seen, each with the way to it below."""
    items: list[Item] = []
    for line in report.chain:
        number, _, said = line.partition(" ")
        if number:
            items.append(Item(Cell(number), Cell(said)))
        else:
            above = items.pop()
            items.append(Item(above.sign, above.body, (*above.below, Cell(said.strip(), "quiet"))))
    if items:
        yield Listing(tuple(items))


def _contradictions(report: HuntReport) -> Iterator[Block]:
    if report.contradictions:
        yield bullets(report.contradictions)


def _question(report: HuntReport) -> Iterator[Block]:
    asked = report.question
    if asked is None:
        return
    if asked.setting:
        yield say(f"Set: {asked.setting}.")
    yield say(asked.words, "strong")
    yield Table(
        ("Reading", "How likely", "Means"),
        tuple(
            (
                Cell(f"{outcome.reading}{' (as it should be)' if outcome.is_sound else ''}"),
                Cell(f"{outcome.chance:.0%}"),
                Cell(outcome.means),
            )
            for outcome in asked.outcomes
        ),
    )


def _suspects(report: HuntReport) -> Iterator[Block]:
    if report.suspects:
        yield Table(
            ("How likely", "What may be wrong", "Does not explain"),
            tuple(
                (Cell(f"{s.chance:.1%}"), Cell(s.words), Cell(", ".join(map(str, s.unexplained)) or "-"))
                for s in report.suspects
            ),
        )
