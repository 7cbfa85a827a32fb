"""Times how long ``identify`` takes for a switch of six positions and eight terminals.

An invented switch stands among the shipped parts, alone or with others of its size. Of its readings all are
taken, or a share of them at random, or all with one of them wrong. CPU time, the median of some rounds; the
catalogue is read beforehand. Run it with ``uv run python -m benchmarks.identify_a_switch [ROUNDS]``.
"""

from collections.abc import Iterator
from itertools import combinations
from math import inf
from random import Random
from statistics import median
from time import process_time

from benchmarks.arguments import rounds_of
from planner.inquiry.part.bench_view import bench_view
from planner.inquiry.part.identify import identify
from planner.model.part import Part
from planner.model.readings import BenchReadings, Reading
from planner.pipeline import open_catalogue
from planner.problems import FilePlace

ROUNDS = 5
TERMINALS, POSITIONS = 8, 6
CONTACTS, OTHERS = 10, 5
SHARES = (1.0, 0.5, 0.3, 0.1)
TARGET_SECONDS = 1.0


def switch(random: Random, name: str) -> Part:
    """An invented switch with contacts at random."""
    marks = [f"t{number}" for number in range(TERMINALS)]
    labels = [f"p{number}" for number in range(POSITIONS)]
    contacts = [
        {
            "contact": {
                "join": random.sample(marks, 2),
                "when": {"switch": random.sample(labels, random.randint(1, 3))},
            }
        }
        for _ in range(CONTACTS)
    ]
    control = {"control": {"name": "switch", "positions": labels}}
    return Part.model_validate(
        {
            "part": name,
            "title": name,
            "family": "switch",
            "source": "invented",
            "terminals": {mark: {} for mark in marks},
            "inside": [control, *contacts],
        }
    )


def readings(random: Random, part: Part, share: float, wrong: int) -> BenchReadings:
    """A share of its readings, the terminals and positions mixed, so many of them wrong."""
    names = random.sample("ABCDEFGH", TERMINALS)
    taken = []
    settings = [(s["switch"], alike.ohms) for alike in bench_view(part).alike for s in alike.settings]
    for label, ohms in random.sample(settings, POSITIONS):
        for one, other in combinations(range(TERMINALS), 2):
            if random.random() < share:
                says = "open" if ohms[one][other][1] == inf else "closed"
                taken.append((label, names[one], names[other], says))
    for number in random.sample(range(len(taken)), wrong):
        label, one_name, other_name, says = taken[number]
        taken[number] = (label, one_name, other_name, "closed" if says == "open" else "open")
    return BenchReadings(
        tuple("ABCDEFGH"),
        tuple(f"p{number}" for number in range(POSITIONS)),
        tuple(
            Reading(label, red, black, "open" if says == "open" else "closed", says, FilePlace("x", row))
            for row, (label, red, black, says) in enumerate(taken, 2)
        ),
    )


def cases() -> Iterator[tuple[str, float, int]]:
    """Yield what is measured: what it is called, the share of readings taken, how many are wrong."""
    for share in SHARES:
        yield f"{share:.0%} of the readings", share, 0
    yield "all readings, one of them wrong", 1.0, 1
    yield "half of the readings, one of them wrong", 0.5, 1


def main() -> None:
    rounds = rounds_of("identify_a_switch", __doc__, ROUNDS)
    shipped = list(open_catalogue().parts.values())
    print(f"{len(shipped)} shipped parts; aim: under {TARGET_SECONDS:g} s")
    for others in (0, OTHERS):
        for called, share, wrong in cases():
            seconds, left = [], []
            for number in range(rounds):
                random = Random(number)
                mine = switch(random, "mine")
                parts = [*shipped, mine, *(switch(random, f"other-{n}") for n in range(others))]
                bench = readings(random, mine, share, wrong)
                began = process_time()
                found = identify(bench, parts)
                seconds.append(process_time() - began)
                left.append(len(found.explanations) or len(found.nearly))
            worst = max(seconds)
            missed = "  MISSED" if worst > TARGET_SECONDS else ""
            print(
                f"{others} others of its size, {called}: median {median(seconds):.2f} s, "
                f"worst {worst:.2f} s, {median(left):g} explanations{missed}"
            )


if __name__ == "__main__":
    main()
