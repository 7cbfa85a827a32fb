"""Which terminals a table of readings says to be joined, in which positions."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from planner.inquiry.part.asked import Asked, Question
from planner.inquiry.part.element_ohms import JOINT


@dataclass(frozen=True, slots=True)
class Joined:
    """Terminals that are one conductor in some positions, and whether that is so wherever it was read."""

    terminals: tuple[str, ...]
    positions: tuple[str, ...]
    is_always: bool


def is_joint_by_itself(question: Question) -> bool:
    """Whether a reading is taken for a joint where no part is known: a beep, or next to no ohms."""
    return question.found.least < JOINT[1] and (
        question.reading.says == "closed" or question.found.most <= 2 * JOINT[1]
    )


def joined(asked: Asked, is_joint: Callable[[Question], bool]) -> tuple[Joined, ...]:
    """The groups of joined terminals, each once with its positions, as they were read and no further."""
    bench = asked.bench
    positions: dict[tuple[str, ...], list[str]] = {}
    for number, questions in asked.by_position.items():
        for group in _groups(q.reading.pair for q in questions if is_joint(q)):
            ordered = tuple(name for name in bench.terminals if name in group)
            positions.setdefault(ordered, []).append(bench.positions[number])
    everywhere = len(asked.by_position)
    return tuple(Joined(group, tuple(at), len(at) == everywhere) for group, at in positions.items())


def unread(asked: Asked) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """The pairs of terminals that were not read, by position."""
    terminals = asked.bench.terminals
    found = {}
    for position in asked.bench.positions:
        read = {frozenset(reading.pair) for reading in asked.bench.at(position)}
        found[position] = tuple(
            (one, other)
            for number, one in enumerate(terminals)
            for other in terminals[number + 1 :]
            if frozenset((one, other)) not in read
        )
    return found


def never_joined(asked: Asked) -> tuple[str, ...]:
    """Terminals from which no reading leads anywhere: nothing but elimination says what they are for."""
    seen = {name for q in asked.questions if not q.found.is_open for name in q.reading.pair}
    return tuple(name for name in asked.bench.terminals if name not in seen)


def _groups(pairs: Iterator[tuple[str, str]]) -> list[set[str]]:
    groups: list[set[str]] = []
    for one, other in pairs:
        touched = [group for group in groups if one in group or other in group]
        merged = {one, other}.union(*touched)
        groups = [group for group in groups if group not in touched] + [merged]
    return groups
