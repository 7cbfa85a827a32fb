"""The sheet of a survey: what to find out about the parts in hand before anything is planned."""

from collections.abc import Iterator, Mapping, Sequence

from planner.cautions import cautions_for
from planner.inquiry.survey.measuring import Measuring, methods
from planner.inquiry.survey.prepare import Survey
from planner.model.catalogue import Catalogue
from planner.model.job import Swap
from planner.model.loom import Loom
from planner.model.part import Part
from planner.model.survey_lines import Asked
from planner.model.vehicle_kind import having
from planner.model.wording import fitting_words, mark_words, small
from planner.reading.survey_supply import POLE, VOLTS
from planner.sheets.build.face import face_sketch
from planner.sheets.build.survey_table import HOW_SUPPLY
from planner.sheets.sheet import Block, Cell, Item, Listing, Section, Sheet, Table, bullets, say

TO_FILL_IN = "." * 12


def swaps_sheet(jobs: Mapping[str, str]) -> Sheet:
    """The swaps that can be asked for, by id and title."""
    rows = tuple((Cell(name, "strong"), Cell(title)) for name, title in sorted(jobs.items()))
    intro = (
        "Name one by its plain words, British or American: loomwright survey \"two-speed wipers\". The sheet "
        "says what to find out; with --ask the answers are typed at once, and the plan follows."
    )  # fmt: skip
    return Sheet("Swaps to survey", (Section("", (say(intro),)), Section("", (Table(("Id", "Swap"), rows),))))


def survey_sheet(survey: Survey, catalogue: Catalogue) -> Sheet:
    """What to find out, part by part."""
    loom, whole = survey.loom, survey.template.whole
    sections = [
        Section("", (say(_intro(whole.title or whole.loom, loom)),)),
        Section(
            "Before you begin",
            (Listing(tuple(_numbered(cautions_for(is_boat=not having(whole.kind).wheels)))),),
        ),
        Section("How to measure", (_methods(loom),)),
        Section("Your vehicle", (_vehicle(survey.pattern),)),
        *(_part(survey, swap, catalogue) for swap in survey.job.swaps),
        *_feeds(survey),
        Section("Photographs and tags", (bullets(_photographs(survey)),)),
        Section("What this does not look at", (bullets(loom.not_seen),)),
        Section("Then", (bullets(_next(survey.name)),)),
    ]
    title = f"Survey: {survey.job.title or survey.name}"
    return Sheet(
        title, tuple(s for s in sections if s.heading != "What this does not look at" or loom.not_seen)
    )


def _intro(pattern: str, loom: Loom) -> str:
    return (
        f"The pattern, and no more than that, is {pattern}; {loom.supply.words}. Yours has its own colours "
        "and perhaps its own wires: write down what you see and measure, not what the pattern has. Where the "
        "colour alone is known, the plan takes the wire for what the pattern has, and asks for a reading."
    )


def _numbered(texts: Sequence[str]) -> Iterator[Item]:
    for number, text in enumerate(texts, 1):
        yield Item(Cell(f"{number:>2}."), Cell(text))


def _methods(loom: Loom) -> Listing:
    return Listing(tuple(Item(Cell(name, "strong"), Cell(how)) for name, how in methods(loom.supply)))


def _vehicle(pattern: Loom) -> Table:
    rows = tuple(
        (Cell(what, "strong"), Cell(TO_FILL_IN), Cell(has), Cell(HOW_SUPPLY[what]))
        for what, has in ((VOLTS, f"{pattern.supply.volts:g} V"), (POLE, pattern.supply.earthed))
    )
    return Table(("What", "Yours", "Pattern has", "How to tell"), rows)


def _part(survey: Survey, swap: Swap, catalogue: Catalogue) -> Section:
    fitted = survey.loom.places.get(swap.at)
    old = catalogue.parts[fitted.part] if fitted else None
    new = catalogue.parts[swap.fit] if swap.fit != "nothing" else None
    blocks: list[Block] = []
    if old is not None:
        blocks += [say(f"Comes out: {small(old.title)}."), *face_sketch(old)]
    lines = [line for line in survey.asked if line.place == swap.at]
    if lines:
        how = tuple(_how(line, survey.measurings[line.key]) for line in lines)
        blocks += [_to_fill_in(lines), Listing(how)]
    blocks += _new_part(new, old)
    return Section(f"Part: {survey.titles[swap.at]}", tuple(blocks))


def _new_part(new: Part | None, old: Part | None) -> Iterator[Block]:
    if new is None:
        yield say("Nothing takes its place.")
    elif old is not None and new.part == old.part:
        yield say("The same part goes in again.")
    else:
        yield say(f"Goes in: {small(new.title)}. Compare its marks with the part on your bench.")
        yield from face_sketch(new)


def _to_fill_in(lines: Sequence[Asked]) -> Table:
    rows = tuple(
        (
            Cell(_mark(line), "strong"),
            Cell("-" if line.kind == "mounting" else TO_FILL_IN),
            Cell(_fitting(line)),
            Cell(TO_FILL_IN * 2),
        )
        for line in lines
    )
    return Table(("Mark", "Colour seen", "Fitting", "Goes to, or the meter says"), rows)


def _mark(line: Asked) -> str:
    if line.kind == "mounting":
        return "mounting"
    return f"{line.mark} ({line.number} of {line.count})" if line.count > 1 else line.mark


def _fitting(line: Asked) -> str:
    if line.kind == "mounting":
        return "its bracket"
    return (
        fitting_words(line.fitting)
        .removeprefix("a ")
        .removeprefix("an ")
        .replace("push-on terminal", "push-on")
    )


def _how(line: Asked, measuring: Measuring) -> Item:
    named = line.does if line.kind != "mounting" else ""
    called = "; ".join(
        text for text in (named, "" if line.is_stamped else "nothing is stamped there") if text
    )
    leads = f"pattern: to {measuring.leads}. " if measuring.leads else ""
    leads = f"({called}) {leads}" if called else leads
    how = {
        "look": f"look; pattern: {measuring.expected}",
        "bracket": "OHMS from its bracket, scraped bright, to bare metal of the body, where it is fitted",
    }.get(measuring.method, measuring.method.upper())
    settings = f", {measuring.settings}" if measuring.settings else ""
    means = tuple(Cell(f"- {reading}: {meaning}") for reading, meaning in measuring.means)
    return Item(Cell(_mark(line), "strong"), Cell(f"{leads}{how}{settings}."), means)


def _feeds(survey: Survey) -> Iterator[Section]:
    """Yield where a new part may be fed from, if it may have to be."""
    lines = [line for line in survey.asked if not line.is_swapped]
    if not lines:
        return
    intro = (
        "The new part needs a feed that the old one had not. One of these may give it; measure those that "
        "your vehicle has, on the terminal itself, the wires left on."
    )
    rows = tuple(
        (
            Cell(survey.titles[line.place]),
            Cell(line.mark, "strong"),
            Cell(survey.measurings[line.key].expected),
            Cell(TO_FILL_IN * 2),
        )
        for line in lines
    )
    table = Table(("Part", "Mark", "Pattern has", "The meter says"), rows)
    yield Section("Where a new feed may come from", (say(intro), table))


def _photographs(survey: Survey) -> tuple[str, ...]:
    titles = survey.titles
    hand = [title for place, title in titles.items() if survey.is_in_hand(place)]
    tags = [
        f"{line.wire} on {mark_words(line.mark)} ({titles[line.place].partition(',')[0]})"
        for line in survey.asked
        if line.wire and line.is_swapped
    ]
    tagged = ", ".join(dict.fromkeys(tags)) or "none here"
    return (
        f"Photograph where it is fitted, before anything is touched: {'; '.join(hand)}. Once the whole, once "
        "from the wiring side with every mark in focus, once from the side, with a rule beside it.",
        "Photograph each wire at its terminal in daylight: colours fade, and lamplight turns green and blue.",
        f"Tag each wire before it comes off, with its mark and what the plan calls it: {tagged}. Nothing "
        "else tells two wires of one colour on one terminal apart. One beside those is X1, the next X2.",
        "One wire off at a time; read it, write it down, insulate it or put it back.",
    )


def _next(name: str) -> tuple[str, ...]:
    return (
        f"Type the answers at once, and get the plan: loomwright survey {name} --ask",
        f"Or fill in a table: loomwright survey {name} --write {name}.xlsx (or .csv), then --read it.",
        "Leave blank what you do not know: the plan then says which reading settles it.",
    )
