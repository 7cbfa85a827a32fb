"""Loads and diodes by what was read alone, where nobody knows what part it is."""

from collections.abc import Iterator, Sequence
from typing import Any

from planner.inquiry.part.asked import Asked, Question
from planner.inquiry.part.joints import is_joint_by_itself
from planner.inquiry.part.network_ohms import OhmsNetwork

SAME_SHARE = 0.2  # how far ohms of one pair may differ between positions and still be of one load


def measured_loads(asked: Asked, control: str | None) -> Iterator[dict[str, Any]]:
    """Yield a resistor or diode for what no joint and no other one explains, with its positions.

    ``control`` is the name of the control whose positions are the table's; None if there is only one.
    """
    seen: dict[tuple[str, str], list[Question]] = {}
    for here in asked.by_position.values():
        for question in _loads_at(here):
            seen.setdefault(question.reading.pair, []).append(question)
    for pair, questions in seen.items():
        numbers = [q for q in questions if q.reading.says != "drop"]
        if len(numbers) < len(questions):
            yield {"element": "diode", "between": pair}
        for ohms, positions in _alike(numbers, asked):
            load = {"element": "resistor", "between": pair, "ohms": ohms}
            is_always = control is None or len(positions) == len(asked.by_position)
            yield load if is_always else load | {"when": {control: positions}}


def _alike(questions: Sequence[Question], asked: Asked) -> Iterator[tuple[float, list[str]]]:
    """Yield ohms and the positions in which they were read, those that are about the same together."""
    left = list(questions)
    while left:
        first = _ohms(left[0], asked)
        same = [q for q in left if abs(_ohms(q, asked) - first) <= SAME_SHARE * first]
        left = [q for q in left if q not in same]
        yield first, [asked.bench.positions[q.position] for q in same]


def _ohms(question: Question, asked: Asked) -> float:
    says = question.reading.says
    assert isinstance(says, float)
    return round(max(says - (asked.leads_ohms or 0.0), 0.01), 3)


def _loads_at(questions: Sequence[Question]) -> Iterator[Question]:
    """Yield what has ohms or drops in one position, unless what came before it explains it."""
    edges = [(*q.reading.pair, (0.01, 0.01)) for q in questions if is_joint_by_itself(q)]
    drops = [q for q in questions if q.reading.says == "drop"]
    numbers = [q for q in questions if isinstance(q.reading.says, float) and not is_joint_by_itself(q)]
    yield from drops
    for question in sorted(numbers, key=lambda q: float(str(q.reading.says))):
        ohms = float(str(question.reading.says))
        known = OhmsNetwork(tuple(edges), ()).between(*question.reading.pair)
        if not question.found.agrees(known):
            edges.append((*question.reading.pair, (ohms, ohms)))
            yield question
