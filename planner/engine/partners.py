"""The outputs of a switch, and the terminals of the same role that they could serve."""

from collections.abc import Iterator, Mapping

from planner.engine.case import Case
from planner.engine.drafting import find_nearest_tap
from planner.model.loom import split_address
from planner.model.reach import conductor, joined_inside


def outputs_at(case: Case, place: str, setting: Mapping[str, str]) -> list[str]:
    """The wired terminals that a part joins to a feed with some of its controls set, the others at rest."""
    part = case.part(place)
    if part is None:
        return []
    setting = {name: values[0] for name, values in part.variables.items()} | dict(setting)
    feeds = [m for m in part.terminals if case.wants(f"{place}:{m}") in ("live", "ignition")]
    joined = [m for feed in feeds for m in joined_inside(part, feed, setting) if m not in feeds]
    return [m for m, t in part.terminals.items() if m in joined and t.by == "wire"]


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
    yield from sorted(found, key=lambda tap: (case.room(tap) < 1, *case.wire_length(at, tap)[::-1], tap))
