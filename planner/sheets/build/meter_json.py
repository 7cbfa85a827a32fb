"""The meter page as JSON: a reading that is open, or has no upper end, is null."""

from dataclasses import asdict
from math import isinf
from typing import Any

from planner.model.hunt_report import HuntReport
from planner.model.meter_log import MeterLog, Taken
from planner.model.meter_page import AsBuilt, MeterPage, MeterTest


def meter_json(page: MeterPage) -> dict[str, Any]:
    """The whole page."""
    return {
        "tests": [test_json(test) for test in page.tests],
        "notes": list(page.notes),
        "untested": list(page.untested),
        "ends": list(page.ends),
    }


def test_json(test: MeterTest) -> dict[str, Any]:
    """One test; what is set as ``{variable: label}``."""
    shown = {**asdict(test), "settings": dict(test.settings), "steps": list(test.steps)}
    return {key: _finite(value) for key, value in shown.items()}


def log_json(log: MeterLog, built: AsBuilt | None, hunt: HuntReport | None) -> dict[str, Any]:
    """What was read and what it comes to; ``hunt`` is for what is not good."""
    return {
        "job": log.job,
        "taken": [_taken_json(taken) for taken in log.taken],
        "wrong": len(log.wrong),
        "left": [test.n for test in log.left],
        "as_built": as_built_json(built, log) if built else None,
        "hunt": hunt.as_json() if hunt else None,
    }


def as_built_json(built: AsBuilt, log: MeterLog) -> dict[str, Any]:
    """What the fewest readings prove."""
    return {
        "proved": not log.wrong and not log.left,
        "readings": len(built.tests),
        "readings_at_least": built.at_least,
        "mistakes": built.mistakes,
        "exposed": built.exposed,
        "alike": [list(group) for group in built.alike],
        "not_shown": list(built.missed),
    }


def _taken_json(taken: Taken) -> dict[str, Any]:
    shown = {
        "n": taken.test.n,
        "id": taken.test.id,
        "typed": taken.typed,
        "read": taken.read,
        "verdict": taken.verdict,
        "suggests": [wrong.words for wrong in taken.says],
    }
    return {key: _finite(value) for key, value in shown.items()}


def _finite(value: Any) -> Any:
    """A value of JSON: what is infinite is null."""
    if isinstance(value, float) and isinf(value):
        return None
    if isinstance(value, dict):
        return {key: _finite(own) for key, own in value.items()}
    return [_finite(own) for own in value] if isinstance(value, list | tuple) else value
