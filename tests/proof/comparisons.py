"""Comparisons of shipped and of small parts, each made once, and what is read off them."""

from functools import cache

from small_looms import ROLES, make_part, read

from planner.pipeline import open_catalogue
from planner.proof.part_compare import PartComparison, compare_parts

CATALOGUE = open_catalogue()
PARTS = CATALOGUE.parts
SHORTFALLS = ("lost", "changed", "unintended")


@cache
def shipped(original: str, other: str) -> PartComparison:
    return compare_parts(PARTS[original], PARTS[other], CATALOGUE.roles)


def small(original: str, other: str) -> PartComparison:
    """Two parts from short forms in YAML."""
    one, two = (make_part(name, read(text)) for name, text in (("one", original), ("two", other)))
    return compare_parts(one, two, ROLES)


def pairs(comparison: PartComparison) -> dict[str, str]:
    return {line.original: line.other for line in comparison.terminals if line.original and line.other}


def alone(comparison: PartComparison) -> tuple[list[str], list[str]]:
    """Terminals without a partner: of the original, of the other."""
    lines = comparison.terminals
    return (
        [line.original for line in lines if line.original and not line.other],
        [line.other for line in lines if line.other and not line.original],
    )


def rows(comparison: PartComparison, *outcomes: str) -> set[tuple[str, str, str, str, str]]:
    return {
        (r.outcome, r.what, r.original, r.other, r.position)
        for r in comparison.behaviours
        if r.outcome in outcomes
    }


def work(comparison: PartComparison, mark: str) -> tuple[str, ...]:
    """What is to be done at a terminal of the original, or at one that only the other has."""
    return next(line.work for line in comparison.terminals if mark in (line.original, line.other))


def says(comparison: PartComparison, text: str) -> bool:
    return any(text in reason for reason in comparison.reasons)


LAMP = '{terminals: {"58": "58", "31": "31"}, inside: [{lamp: {between: ["58", "31"], watts: 21, does: x}}]}'
