"""What has to be bought before the work begins, and what of it can wait."""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet, Material
from planner.model.wording import small
from planner.sheets.sheet import Block, bullets, say


def to_buy(bench: BenchSheet) -> Iterator[Block]:
    """Yield the parts that the plan adds of its own: without them the work stops half-way."""
    own = [line for line in bench.materials if line.kind == "part" and line.to_buy]
    if own and not bench.done:
        yield say(
            tr("The job does not name these parts, and the steps need them; have them before you begin:")
        )
        yield bullets(
            tuple(
                tr(
                    "{part} ({steps})",
                    part=small(line.what) if line.amount == 1 else f"{line.amount:g} x {small(line.what)}",
                    steps=", ".join(tr("step {n}", n=use.step) for use in line.uses),
                )
                for line in own
            )
        )
        if dark := tuple(_stay_dead(bench, own)):
            yield say(
                tr(
                    "As planned these stay dead; buy what goes in there once the loss above is settled: "
                    "{places}.",
                    places=", ".join(dark),
                ),
                "warn",
            )


def _stay_dead(bench: BenchSheet, lines: Sequence[Material]) -> Iterator[str]:
    """Yield the places for which something is bought that answers to nothing once it is there."""
    answering = {load.key[0] for fuse in bench.fuses for load in fuse.loads}
    lost = {line.at for line in bench.plan.behaviours if line.outcome == "lost"} - answering
    for number in sorted({use.step for line in lines for use in line.uses}):
        at = bench.step(number).fields.get("at")
        if at in lost:
            yield bench.after.place_title(at)
