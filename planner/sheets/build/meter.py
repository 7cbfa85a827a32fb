"""What the readings of a meter page come to: what is wrong, what was not read, how to go on."""

from collections.abc import Iterator

from planner.messages import tr, tr_count
from planner.model.meter_log import MeterLog, Taken
from planner.sheets.build.listed import number_words
from planner.sheets.build.meter_words import judged_words
from planner.sheets.sheet import Block, Cell, Item, Listing, Section, Sheet, say


def meter_sheet(log: MeterLog, seen: str, kept: str) -> Sheet:
    """The whole report; ``seen`` is the file of observations for a hunt, ``kept`` the log."""
    return Sheet(tr("Meter page: {title}", title=log.title), (Section("", tuple(_blocks(log, seen, kept))),))


def _blocks(log: MeterLog, seen: str, kept: str) -> Iterator[Block]:
    count = len(log.taken)
    good = sum(taken.verdict == "good" for taken in log.taken)
    if not count:
        yield say(tr("Nothing was read."), "warn")
    elif log.wrong:
        wrong = len(log.wrong)
        yield say(tr_count("{count} reading is not good.", "{count} readings are not good.", wrong), "bad")
        yield Listing(tuple(_item(taken) for taken in log.wrong))
        yield from _onwards(log, seen)
    else:
        yield say(tr("{good} of {count} readings are good.", good=good, count=count), "good")
    if log.left:
        numbers = number_words([test.n for test in log.left])
        yield say(
            tr("Not read: {numbers}. Go on with: {command}", numbers=numbers, command=_again(log, kept))
        )
    elif not log.wrong:
        yield say(tr("Every test was read. What they cannot show is on the bench sheet."), "quiet")


def _item(taken: Taken) -> Item:
    first, *more = judged_words(taken)
    where = tr("{where}: {said}", where=taken.test.where_words, said=first)
    return Item(Cell(f"{taken.test.n}.", "strong"), Cell(where, "bad"), tuple(Cell(line) for line in more))


def _onwards(log: MeterLog, seen: str) -> Iterator[Block]:
    """Yield how the hunt goes on."""
    if seen:
        command = f"loomwright trace {log.job} --seen {seen}"
        yield say(tr("To find it, go on from these readings: {command}", command=command))
    else:
        yield say(tr("Put this right and read it again before the battery goes on."), "warn")


def _again(log: MeterLog, kept: str) -> str:
    return f"loomwright meter {log.job} --log {kept}"
