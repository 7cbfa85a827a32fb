"""The terminals that an output could serve, or that could serve a load: those of the same role."""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import find_nearest_tap
from planner.model.loom import split_address
from planner.model.reach import conductor
from planner.model.routes import wire_length


def partners(case: Case, at: str, role: str) -> Iterator[str]:
    """Yield where to join each conductor of a role that can drive this terminal or be driven by it.

    Those with room come first, the nearest before the others.
    """
    found: dict[str, frozenset[str]] = {}
    for place, fitted in case.loom.places.items():
        part = case.catalogue.parts.get(fitted.part)
        for mark, terminal in part.terminals.items() if part and place != split_address(at)[0] else ():
            other = f"{place}:{mark}"
            if terminal.role != role or terminal.by == "mounting" or other in case.loom.covered:
                continue
            reached = conductor(case.loom, other)
            drives = any(case.switches(a) or case.facts.at(a).live != "never" for a in reached)
            tap = find_nearest_tap(case, reached, at) if drives or case.switches(at) else None
            if tap is not None:
                found[tap] = frozenset(reached)
    yield from sorted(
        found, key=lambda tap: (case.room(tap) < 1, *wire_length(case.loom, at, tap)[::-1], tap)
    )
