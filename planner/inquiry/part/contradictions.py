"""Readings that no part could give together: ohms go along a way and add up, in any network."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from planner.inquiry.part.asked import Asked, Question
from planner.model.readings import Reading


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A reading that is higher than a way through others of the same position allows."""

    reading: Reading
    way: tuple[Reading, ...]


def contradictions(asked: Asked) -> tuple[Contradiction, ...]:
    """Find every reading that others of its position contradict.

    From one terminal to another there is never more than along any way between them, so A to C cannot be open
    where A to B and B to C are joined. A pair that was read one way only counts for both ways.
    """
    found = []
    for questions in asked.by_position.values():
        steps = _steps(questions)
        for question in questions:
            most, way = _shortest(steps, question)
            if question.found.least > most:
                found.append(Contradiction(question.reading, way))
    return tuple(found)


def suspects(asked: Asked, found: Sequence[Contradiction]) -> tuple[Reading, ...]:
    """The readings of which each, withdrawn alone, would leave no contradiction."""
    involved = dict.fromkeys(r for c in found for r in (c.reading, *c.way))
    return tuple(reading for reading in involved if not contradictions(without(asked, reading)))


def without(asked: Asked, reading: Reading) -> Asked:
    """The same readings but one."""
    bench = asked.bench
    left = tuple(r for r in bench.readings if r is not reading)
    kept = type(bench)(bench.terminals, bench.positions, left, bench.powered)
    return Asked(kept, asked.leads_ohms)


def _steps(questions: Sequence[Question]) -> Mapping[int, list[tuple[int, Question]]]:
    """From each terminal the readings that lead on; junctions lead nowhere, for their drops add up."""
    read = {(q.red, q.black) for q in questions}
    steps: dict[int, list[tuple[int, Question]]] = {}
    for question in questions:
        if question.found.most < inf:
            steps.setdefault(question.red, []).append((question.black, question))
            if (question.black, question.red) not in read:
                steps.setdefault(question.black, []).append((question.red, question))
    return steps


def _shortest(
    steps: Mapping[int, Sequence[tuple[int, Question]]], question: Question
) -> tuple[float, tuple[Reading, ...]]:
    """The most ohms there can be from a question's red terminal to its black one, and the way."""
    best: dict[int, tuple[float, tuple[Reading, ...]]] = {question.red: (0.0, ())}
    queue = [question.red]
    while queue:
        here = queue.pop(0)
        ohms, way = best[here]
        for there, step in steps.get(here, ()):
            further = ohms + step.found.most
            if further < best.get(there, (inf, ()))[0]:
                best[there] = further, (*way, step.reading)
                queue.append(there)
    return best.get(question.black, (inf, ()))
