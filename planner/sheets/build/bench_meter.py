"""The meter page of the bench sheet: dead tests before first power, live tests after it, each with a box."""

from collections.abc import Iterator, Sequence

from planner.messages import tr, tr_count
from planner.model.bench_sheet import BenchSheet
from planner.model.meter_page import MeterTest, Stage
from planner.model.wording import run_words
from planner.sheets.build.bench_power import doors_shut, post_words
from planner.sheets.build.command import command
from planner.sheets.build.meter_words import good_words, lamp_words, lines_words
from planner.sheets.sheet import Block, Cell, Item, Listing, bullets, say, ticked


def dead_tests(bench: BenchSheet) -> tuple[Block, ...]:
    """What is measured with the battery off, and what only eyes can tell; what holds for all readings."""
    if bench.meter is None:
        return ()
    tests, untested = _of(bench, "dead"), bench.meter.untested
    notes = (bullets(bench.meter.notes, "quiet"),) if bench.meter.tests else ()
    looked: tuple[Block, ...] = ()
    if untested:
        look = tr(
            "No reading changes with these, so look at each with your own eyes before the battery goes on, "
            "and tick it when it is not so:"
        )
        looked = (say(look, "warn"), ticked(untested, "look"))
    if bench.meter.ends:
        colours = tr(
            "Ohms do not tell these ends apart (cold lamps, for one, read hardly more than a wire); changed "
            "over they are a short once there is power. Look at the colour on each terminal, and tick it "
            "when it is so:"
        )
        looked += (say(colours, "warn"), ticked(bench.meter.ends, "ends"))
    if not tests:
        none = tr(
            "No reading with the battery off tells anything of this work, so there is no test here; what "
            "stands above is for the readings at full power."
        )
        if bench.leads:
            none = tr(
                "With the battery off only those leads are read that first power names, so there is no test "
                "here; what stands above is for the readings at full power."
            )
        return (*notes, *((say(none),) if notes else ()), *looked)
    how = tr(
        "Battery off (the {post}), every fuse out, all switches off{doors}, lamps left in. A cold "
        "filament reads a tenth of what it has when it is lit, so a good circuit may look like a short: what "
        "is good below is computed with the filaments cold. Where less is read, take the lamps out of that "
        "circuit and read again; only what then still reads nothing is a short.",
        post=post_words(bench.earthed_post_after),
        doors=doors_shut(bench),
    )
    return (*notes, say(how), *_grouped(tests), *looked)


def live_tests(bench: BenchSheet) -> tuple[Block, ...]:
    """What is measured at full power."""
    tests = _of(bench, "live")
    if bench.meter is None or not tests:
        return ()
    begin = tr(
        "Only after first power has passed. All fuses in, battery on, engine off and cold, all else at rest. "
        "Where volts are due and nothing is read, look at the fuse of that way before anything else."
    )
    blocks = [say(begin), *_grouped(tests)]
    if bench.meter.after:
        blocks.append(say(tr("Afterwards: {what}.", what=bench.meter.after), "strong"))
    if bench.shrunk_last:
        shrink = tr_count(
            "Battery off again, all dry, no fuel vapour about: the glue of the joiner of step {steps} is "
            "shrunk",
            "Battery off again, all dry, no fuel vapour about: the glue of the joiners of steps {steps} is "
            "shrunk",
            len(bench.shrunk_last),
            steps=run_words(bench.shrunk_last),
        )
        blocks.append(ticked((shrink,), "shrink"))
    blocks.append(say(tr("One after another, each reading judged at once:")))
    blocks.append(command(f"loomwright meter {bench.called}"))
    return tuple(blocks)


def _of(bench: BenchSheet, stage: Stage) -> tuple[MeterTest, ...]:
    return tuple(test for test in bench.meter.tests if test.stage == stage) if bench.meter else ()


def _grouped(tests: Sequence[MeterTest]) -> Iterator[Block]:
    """Yield the tests, with a line wherever something has to be set."""
    items: list[Item] = []
    for test in tests:
        if test.set_words:
            if items:
                yield Listing(tuple(items))
            items = []
            yield say(tr("Set: {settings}.", settings=test.set_words), "strong")
        items.append(_item(test))
    if items:
        yield Listing(tuple(items))


def _item(test: MeterTest) -> Item:
    text = tr("Ohms, {where}") if test.quantity == "ohms" else tr("Volts, {where}")
    good = tr("good: {reading}; {lamp}", reading=good_words(test), lamp=lamp_words(test))
    below = [
        Cell(good, "good"),
        Cell(test.why, "quiet"),
        *(Cell(f"- {line}") for line in lines_words(test)),
    ]
    if test.steps:
        said = run_words(test.steps)
        steps = tr_count("tests step {steps}", "tests steps {steps}", len(test.steps), steps=said)
        below.append(Cell(steps, "quiet"))
    return Item(
        Cell(f"{test.n}.", "strong"),
        Cell(text.format(where=test.where_words)),
        tuple(below),
        tick=f"#meter {test.n}",
        write_in=tr("reads"),
    )
