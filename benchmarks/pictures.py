"""Times how long the pictures take: the layout of a loom of 300 wires, and all that is drawn for the van.

The loom of 300 wires is made of copies of one small circuit, all of it in one picture, the first time with
the start of the layout engine. The van is the largest shipped job; its plan is made beforehand. CPU time,
the median of some rounds. Run it with ``uv run python -m benchmarks.pictures [ROUNDS]``.
"""

from collections.abc import Callable
from statistics import median
from time import process_time

from benchmarks.arguments import rounds_of
from benchmarks.size import make_catalogue, make_loom
from planner.pictures.arrange import arrange
from planner.pictures.pictures import draw_pictures
from planner.pictures.union import Looms, union_of
from planner.pipeline import open_catalogue
from planner.sheet_pipeline import wired

ROUNDS = 5
COPIES = 30  # of ten wires each
TARGET_SECONDS = 2.0
LARGEST = "whole-van"


def main() -> None:
    """Measure and print."""
    rounds = rounds_of("pictures", __doc__, ROUNDS)
    loom = make_loom(COPIES)
    looms = Looms(loom, loom, make_catalogue(), (), str)
    graph = union_of(looms, [wire.wire for wire in loom.wires], ())
    first = timed(lambda: arrange([graph]), 1)
    again = timed(lambda: arrange([graph]), rounds)
    print(f"layout of {len(loom.wires)} wires: {first:.2f} s the first time, then {again:.2f} s")
    print(f"  wanted: under {TARGET_SECONDS:g} s with the start: {'yes' if first < TARGET_SECONDS else 'NO'}")
    catalogue = open_catalogue()
    van = wired(LARGEST, catalogue)
    assert van.before is not None
    before, after, shown = van.before, van.loom, van.shown
    swapped = [at for at, place in after.places.items() if before.places.get(at) != place]
    count = len(draw_pictures(before, after, catalogue, swapped, lambda wire: shown.get(wire, wire)))
    all_ = timed(lambda: draw_pictures(before, after, catalogue, swapped), rounds)
    print(f"{LARGEST}: {count} pictures in {all_:.2f} s, the engine started")


def timed(work: Callable[[], object], rounds: int) -> float:
    """The median seconds of some rounds."""
    took = []
    for _ in range(rounds):
        start = process_time()
        work()
        took.append(process_time() - start)
    return median(took)


if __name__ == "__main__":
    main()
