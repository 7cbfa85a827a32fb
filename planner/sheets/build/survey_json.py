"""A survey as a JSON document: the swaps, the lines that are asked, or what was understood with the plan."""

from collections.abc import Mapping
from typing import Any

from planner.cautions import cautions_for
from planner.inquiry.survey.prepare import Survey
from planner.inquiry.survey.taking import Surveyed
from planner.model.plan import Plan
from planner.model.survey_lines import Asked
from planner.model.vehicle_kind import having


def swaps_json(titles: Mapping[str, str]) -> dict[str, Any]:
    """The swaps that can be asked for."""
    return {"swaps": [{"name": name, "title": title} for name, title in sorted(titles.items())]}


def survey_json(survey: Survey) -> dict[str, Any]:
    """What to find out, line by line."""
    whole = survey.template.whole
    return {
        "swap": survey.name,
        "title": survey.job.title or survey.name,
        "pattern": whole.title or whole.loom,
        "cautions": list(cautions_for(is_boat=not having(whole.kind).wheels)),
        "parts": [
            {"at": swap.at, "title": survey.titles[swap.at], "old": _old(survey, swap.at), "new": swap.fit}
            for swap in survey.job.swaps
        ],
        "lines": [_line(survey, line) for line in survey.asked],
        "not_seen": list(survey.loom.not_seen),
    }


def surveyed_json(surveyed: Surveyed, plan: Plan, folder: str) -> dict[str, Any]:
    """The plan's document, with what was understood before it."""
    survey, supply = surveyed.survey, surveyed.loom.supply
    return {
        "survey": {
            "swap": survey.name,
            "into": folder,
            "supply": {
                "volts": supply.volts,
                "earthed": supply.earthed,
                "is_said": None not in (surveyed.answers.volts, surveyed.answers.earthed),
            },
            "lines": [
                {
                    "at": f"{line.asked.place}:{line.asked.mark}",
                    "number": line.asked.number,
                    "wire": line.tag or None,
                    "colour": line.answer.colour,
                    "says": line.says,
                    "known": line.known,
                }
                for line in surveyed.lines
            ],
            "overruled": list(surveyed.overruled),
            "doubts": [cause.doubt.about for cause in surveyed.doubts],
            "open": surveyed.open,
        },
        **plan.as_json(),
    }


def _old(survey: Survey, at: str) -> str | None:
    fitted = survey.loom.places.get(at)
    return fitted.part if fitted else None


def _line(survey: Survey, line: Asked) -> dict[str, Any]:
    how = survey.measurings[line.key]
    return {
        "at": f"{line.place}:{line.mark}",
        "kind": line.kind if line.is_swapped else "feed",
        "number": line.number,
        "of": line.count,
        "role": line.role,
        "fitting": line.fitting or None,
        "leads": how.leads,
        "method": how.method,
        "settings": how.settings,
        "expected": how.expected,
        "means": dict(how.means),
    }
