"""What the readings of a meter page come to: what is wrong, what was not read, how to go on."""

from collections.abc import Iterator

from planner.messages import tr, tr_count
from planner.model.meter_log import MeterLog, Taken
from planner.model.meter_page import AsBuilt
from planner.model.wording import run_words
from planner.sheets.build.command import command
from planner.sheets.build.meter_words import judged_words
from planner.sheets.sheet import Block, Cell, Item, Listing, Section, Sheet, bullets, say

MOST_ALIKE = 20  # groups of mistakes that nothing tells apart: more are told as a number


def meter_sheet(log: MeterLog, kept: str, built: AsBuilt | None) -> Sheet:
    """The whole report; ``kept`` is the log, as typed."""
    sections = [Section("", tuple(_blocks(log, kept, built)))]
    if built is not None:
        sections.append(Section(tr("As built"), tuple(_built(log, built))))
    return Sheet(tr("Meter page: {title}", title=log.title), tuple(sections))


def _built(log: MeterLog, built: AsBuilt) -> Iterator[Block]:
    """Yield what the fewest readings prove, and what they leave open."""
    few = tr("no smaller set shows as much") if built.is_smallest else tr("{n} at least", n=built.at_least)
    count = tr("{count} readings ({few})", count=len(built.tests), few=few)
    shown = tr("{shown} of {all} single wiring mistakes", shown=built.exposed, all=built.mistakes)
    if log.wrong:
        yield say(tr("NOT AS BUILT: put right what is not good, and read again."), "bad")
    elif log.left:
        yield say(tr("NOT PROVED YET: {count} show {shown}.", count=count, shown=shown), "warn")
    else:
        proved = tr("PROVED AS BUILT: {count} show {shown}, and all are good.", count=count, shown=shown)
        yield say(proved, "good")
    if built.missed:
        yield say(tr("No reading at the changed ends shows these:"))
        yield bullets(built.missed, "warn")
    if built.alike:
        yield say(tr("No reading tells these apart; if one is suspected, look at all its places:"), "quiet")
        yield bullets(tuple("; or ".join(group) for group in built.alike[:MOST_ALIKE]), "quiet")
        if len(built.alike) > MOST_ALIKE:
            more = len(built.alike) - MOST_ALIKE
            yield say(tr("And {count} more such groups: --json lists them.", count=more), "quiet")


def _blocks(log: MeterLog, kept: str, built: AsBuilt | None) -> Iterator[Block]:
    count = len(log.taken)
    good = sum(taken.verdict == "good" for taken in log.taken)
    if not count:
        yield say(tr("Nothing was read."), "warn")
    elif log.wrong:
        wrong = len(log.wrong)
        yield say(tr_count("{count} reading is not good.", "{count} readings are not good.", wrong), "bad")
        yield Listing(tuple(_item(taken) for taken in log.wrong))
        if any(taken.test.stage == "dead" for taken in log.wrong):
            yield say(tr("Put this right and read it again before the battery goes on."), "warn")
    else:
        yield say(tr("{good} of {count} readings are good.", good=good, count=count), "good")
    if log.left:
        yield say(tr("Not read: {numbers}.", numbers=run_words([test.n for test in log.left])))
    if log.left or log.wrong:
        yield say(tr("Go on with:"))
        yield command(_again(log, kept, built))
    else:
        yield say(tr("Every test was read. What they cannot show is on the bench sheet."), "quiet")


def _item(taken: Taken) -> Item:
    first, *more = judged_words(taken)
    where = tr("{where}: {said}", where=taken.test.where_words, said=first)
    return Item(Cell(f"{taken.test.n}.", "strong"), Cell(where, "bad"), tuple(Cell(line) for line in more))


def _again(log: MeterLog, kept: str, built: AsBuilt | None) -> str:
    return f"loomwright meter {log.job}{' --as-built' if built else ''} --log {kept}"
