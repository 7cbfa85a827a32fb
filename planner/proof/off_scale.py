"""Gauges that show nothing but an end of their scale: on a switch for a warning lamp, or a sender of none.

A needle that hits its stop moves, but tells nothing: to call that a gain would be a comfort that costs an
engine.
"""

from collections.abc import Sequence

from planner.circuit.appearance import percent_read
from planner.circuit.fitted import LoadKey
from planner.proof.behaviour import is_on
from planner.proof.compare import Finding
from planner.proof.wishes import FULL_PERCENT


def only_at_their_end(findings: Sequence[Finding]) -> frozenset[LoadKey]:
    """The gauges that showed nothing before, and that now move only past the end of their scale."""
    shown: dict[LoadKey, list[Finding]] = {}
    for finding in findings:
        if finding.kind == "gauge" and (is_on(finding.after) or is_on(finding.before)):
            shown.setdefault((finding.at, finding.what), []).append(finding)
    return frozenset(key for key, found in shown.items() if all(map(_is_at_its_end, found)))


def _is_at_its_end(finding: Finding) -> bool:
    percent = percent_read(finding.after)
    return finding.outcome == "gained" and percent is not None and percent > FULL_PERCENT
