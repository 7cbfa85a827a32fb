"""Small parts and what was read on them, in few words."""

from collections.abc import Mapping, Sequence
from typing import Any

from planner.inquiry.part.asked import Asked
from planner.model.part import Part
from planner.model.readings import BenchReadings, Reading, Says
from planner.problems import FilePlace


def part(
    terminals: Sequence[str],
    inside: Sequence[Mapping[str, Any]],
    name: str = "thing",
    roles: Mapping[str, str] | None = None,
    **more: Any,
) -> Part:
    """A part with these terminals and roles; ``case`` is connected by its mounting."""
    known = roles or {}
    return Part.model_validate(
        {
            "part": name,
            "title": name,
            "family": name,
            "source": "invented",
            "terminals": {
                mark: {"by": "mounting" if mark == "case" else "wire", "role": known.get(mark)}
                for mark in terminals
            },
            "inside": list(inside),
            **more,
        }
    )


def readings(
    rows: Sequence[tuple[str, str, str, Says]], *more: str, powered: Sequence[str] = ()
) -> BenchReadings:
    """Readings by position, red, black, what the meter said; nothing was read at ``more`` terminals."""
    terminals = dict.fromkeys(name for _, red, black, _ in rows for name in (red, black))
    return BenchReadings(
        tuple(dict.fromkeys((*terminals, *more))),
        tuple(dict.fromkeys(row[0] for row in rows)),
        tuple(
            Reading(position, red, black, says, str(says), FilePlace("bench.csv", number, 1))
            for number, (position, red, black, says) in enumerate(rows, 2)
        ),
        frozenset(powered),
    )


def asked(rows: Sequence[tuple[str, str, str, Says]], *more: str, powered: Sequence[str] = ()) -> Asked:
    """The same, ready for the search."""
    return Asked(readings(rows, *more, powered=powered))
