"""An identification as one JSON document."""

from collections.abc import Sequence
from math import inf
from typing import Any

from planner.inquiry.part.deciding import NextReading
from planner.inquiry.part.element_ohms import Ohms
from planner.inquiry.part.explanation import Explanation
from planner.inquiry.part.identify import Identification
from planner.inquiry.part.measured_part import MeasuredPart
from planner.model.readings import Reading


def identification_json(found: Identification, written: MeasuredPart | None = None) -> dict[str, Any]:
    """The document that ``loomwright identify --json`` prints; ohms without a bound are null."""
    document = {
        "decided": found.is_decided,
        "terminals": list(found.asked.bench.terminals),
        "positions": list(found.asked.bench.positions),
        "explanations": [_explanation(e) for e in found.explanations],
        "contradictions": [
            {"reading": _reading(c.reading), "others": _readings(c.way)} for c in found.contradictions
        ],
        "take_again": _readings(found.suspects),
        "nearly": [_explanation(e) for e in found.nearly],
        "next": None if found.next is None else _next(found.next),
        "not_looked_at_to_the_end": list(found.incomplete),
        "has_more_ways_than_kept": found.is_cut,
    }
    if written is None:
        return document
    return document | {"written": {"part": written.part.part, "not_known": list(written.unknown)}}


def _explanation(explanation: Explanation) -> dict[str, Any]:
    return {
        "part": explanation.part.part,
        "family": explanation.part.family,
        "ways": explanation.count,
        "terminals": dict(explanation.marks),
        "or": {name: list(marks) for name, marks in explanation.other_marks.items() if marks},
        "positions": {name: [dict(s) for s in all_] for name, all_ in explanation.settings.items()},
        "or_positions": {
            name: [dict(s) for all_ in others for s in all_]
            for name, others in explanation.other_settings.items()
            if others
        },
        "not_read": list(explanation.unseen),
        "without": _readings(explanation.wrong),
        "other_coils": [
            {"coil": name, "ohms": read, "catalogue_ohms": ohms}
            for name, read, ohms in explanation.other_coils
        ],
    }


def _readings(readings: Sequence[Reading]) -> list[dict[str, Any]]:
    return [_reading(reading) for reading in readings]


def _reading(reading: Reading) -> dict[str, Any]:
    place = {"row": reading.place.line, "column": reading.place.column}
    leads = {"from": reading.red, "to": reading.black}
    return {"position": reading.position, **leads, "reading": reading.said, **place}


def _next(reading: NextReading) -> dict[str, Any]:
    leads = {"from": reading.red, "to": reading.black}
    answers = [{"ohms": _ohms(ohms), "explanations": count} for ohms, count in reading.answers]
    return {"position": reading.position, **leads, "left": round(reading.left, 3), "answers": answers}


def _ohms(ohms: Ohms) -> list[float | None]:
    return [None if value == inf else round(value, 3) for value in ohms]
