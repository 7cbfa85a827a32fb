"""A step of a plan: one operation with its reason."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.model.delta.operation import EndRef, Operation


@dataclass(frozen=True, slots=True)
class Reason:
    """Why an operation is there: the rule, the facts it fired on, and the source it leans on."""

    rule: str
    facts: tuple[str, ...]
    source: str = "common practice, no source"
    leans_on: tuple[EndRef, ...] = ()  # ends whose weight this operation depends on


@dataclass(frozen=True, slots=True)
class Step:
    """One operation of a plan with its reason."""

    operation: Operation
    why: Reason
    minutes: float = 0.0


def last_words(steps: Sequence[Step]) -> list[Step]:
    """The steps without those that a later one makes void: an end moved again, a part fitted otherwise."""
    subjects = [step.operation.subject or index for index, step in enumerate(steps)]
    last = {subject: index for index, subject in enumerate(subjects)}
    return [step for index, step in enumerate(steps) if last[subjects[index]] == index]
