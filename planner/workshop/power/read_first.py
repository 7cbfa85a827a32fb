"""What is read at first power before a fuse stays in: what would be destroyed is off its feed until then."""

from collections.abc import Collection, Sequence
from dataclasses import replace

from planner.model.bench_sheet import FuseTest
from planner.model.facts import Facts
from planner.workshop.ends.names import Names
from planner.workshop.power.polarity_first import polarity_reads, vehicle_reads
from planner.workshop.power.stabiliser_first import stabiliser_reads


def read_first(
    names: Names, facts: Facts, tests: Sequence[FuseTest], left_off: Collection[str]
) -> tuple[tuple[str, ...], tuple[FuseTest, ...]]:
    """What is read before any fuse, and the tests of first power, each with what is read before its own.

    ``facts`` are those of the loom after; ``left_off`` are places whose feed stays off anyway.
    """
    reads: dict[str, list[str]] = {test.at: [] for test in tests if test.at}
    first = list(vehicle_reads(names, facts))
    for fuse, text in (*polarity_reads(names, facts, left_off), *stabiliser_reads(names, facts)):
        reads.get(fuse, first).append(text)
    return tuple(first), tuple(replace(test, read_first=tuple(reads.get(test.at, ()))) for test in tests)
