"""The way back: what belongs in the vehicle's papers, and every step taken back in reverse order."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet, UndoLine
from planner.model.breaker_points import timed_places
from planner.sheets.build.bench_power import polarise_words, post_words
from planner.sheets.build.listed import listed
from planner.sheets.sheet import NOTHING, Block, Cell, Item, Listing, Section, bullets, say


def way_back(bench: BenchSheet) -> tuple[Section, ...]:
    """What was changed for good or for now, and how to go back."""
    if not bench.undo:
        return ()
    papers = tr("For the vehicle's papers: what is exchanged, tied back, added, changed")
    return (
        Section(papers, _papers(bench), begins="page"),
        Section(tr("The way back"), _steps_back(bench), begins="whole"),
    )


def _papers(bench: BenchSheet) -> tuple[Block, ...]:
    blocks: list[Block] = []
    for title, lines in (
        (tr("Exchanged:"), bench.exchanged),
        (tr("Tied back or covered:"), bench.tied_back),
        (tr("Added:"), bench.links_added),
        (tr("Original ends and wires that are not as they were:"), bench.fittings_changed),
    ):
        nothing = tr("nothing.")
        blocks.append(say(title if lines else f"{title} {nothing}", "strong"))
        if lines:
            blocks.append(bullets(lines))
    return tuple(blocks)


def _steps_back(bench: BenchSheet) -> tuple[Block, ...]:
    post = post_words(bench.earthed_post_after)
    first = tr("Battery off first: the {post}, the earthed one. Then the last step first:", post=post)
    marked = tuple(
        Item(NOTHING, Cell(text), tick=f"#back first {n}") for n, text in enumerate(_at_first(bench), 1)
    )
    items = marked + tuple(_taken_back(line) for line in bench.undo)
    last = tuple(
        Item(NOTHING, Cell(text), tick=f"#back last {number}")
        for number, text in enumerate(_at_last(bench), 1)
    )
    return (
        say(tr("This page belongs with the vehicle's papers."), "note"),
        say(first),
        Listing(items + last),
    )


def _at_first(bench: BenchSheet) -> Iterator[str]:
    """Yield what is marked before a distributor comes out again, for it is timed as on the way there."""
    swapped = {card.at for card in bench.plan.cards}
    for place in timed_places(bench.before, bench.parts):
        if place in swapped:
            yield tr(
                "Before the {distributor} comes out, turn the engine by hand to its timing mark, and mark "
                "how the rotor points and how the body sits; then turn the engine no more until the old part "
                "is in, rotor and body to the marks. Where it has points, set their gap; set the ignition "
                "timing by the engine's manual before it is driven",
                distributor=bench.before.place_title(place),
            )


def _at_last(bench: BenchSheet) -> Iterator[str]:
    """Yield what comes when every step is taken back: the vehicle is made live as after any work."""
    yield tr(
        "When all is back: tug at every new crimp, nothing bare; then first power as on its page, the fuses "
        "one at a time behind the lamp in series, the {post}, the earthed one, last of all",
        post=post_words(bench.earthed_post),
    )
    for dynamo in bench.charging.polarised_back if bench.charging is not None else ():
        yield polarise_words(bench, dynamo)


def _taken_back(line: UndoLine) -> Item:
    text, below = listed(line.text, line.ends)
    if line.cannot:
        below = (*below, Cell(tr("not as it was: {why}", why=line.cannot), "warn"))
    return Item(Cell(f"{line.step}.", "strong"), Cell(text), below, tick=f"#back {line.step}")
