"""Which reading to take next: the one that leaves the fewest explanations, whatever the meter says."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.element_ohms import Ohms
from planner.inquiry.part.explanation import Explanation


@dataclass(frozen=True, slots=True)
class NextReading:
    """A reading that has not been taken, or only by ear, and what it would bring.

    ``left`` is how many of the explanations are left on average, each being as likely as any other;
    ``answers`` are the ohms that the meter may find, and how many explanations have them there.
    """

    position: str
    red: str
    black: str
    left: float
    answers: tuple[tuple[Ohms, int], ...]


def best_reading(asked: Asked, known: Sequence[Explanation]) -> NextReading | None:
    """The reading that would decide best among explanations; None if no reading tells any apart."""
    best: NextReading | None = None
    for reading in _readings(asked, known):
        if reading.left < len(known) - 1e-9 and (best is None or reading.left < best.left - 1e-9):
            best = reading
    return best


def _readings(asked: Asked, known: Sequence[Explanation]) -> Iterator[NextReading]:
    bench = asked.bench
    told = {(q.position, q.red, q.black) for q in asked.questions if isinstance(q.reading.says, float)} | {
        (q.position, q.red, q.black) for q in asked.questions if q.found.is_open
    }
    terminals = range(len(bench.terminals))
    for position, (one, other) in product(range(len(bench.positions)), combinations(terminals, 2)):
        both = [[e.ohms(position, *leads) for e in known] for leads in ((one, other), (other, one))]
        ways = [(one, other), (other, one)] if both[0] != both[1] else [(one, other)]
        if len(ways) == 1 and (position, other, one) in told:
            continue
        for (red, black), found in zip(ways, both, strict=False):
            if (position, red, black) not in told:
                count = Counter(found)
                yield NextReading(
                    bench.positions[position],
                    bench.terminals[red],
                    bench.terminals[black],
                    _left(count),
                    tuple(sorted(count.items())),
                )


def _left(count: Counter[Ohms]) -> float:
    """How many explanations are left on average: those whose ohms overlap with the ones that are there."""
    total = sum(count.values())
    return (
        sum(
            count[here] * count[there]
            for here, there in product(count, repeat=2)
            if here[0] <= there[1] and there[0] <= here[1]
        )
        / total
    )
