"""A part of one's own from what was measured: by its match where one was found, else by readings alone."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.explanation import Explanation
from planner.inquiry.part.identify import Identification
from planner.inquiry.part.joints import is_joint_by_itself, joined, never_joined
from planner.inquiry.part.matched_inside import matched_inside
from planner.inquiry.part.measured_loads import measured_loads
from planner.inquiry.part.not_known import not_known
from planner.inquiry.part.worked_by import WorkedBy, worked_by
from planner.model.part import MEASURED_SOURCE, UNKNOWN_FAMILY, Part

_CASE_WORDS = frozenset({"case", "body", "housing", "mounting"})
CONTROL = "position"  # what the one control is called where nobody knows it


@dataclass(frozen=True, slots=True)
class MeasuredPart:
    """The part, and sentences that say what is not known of it."""

    part: Part
    unknown: tuple[str, ...]


def measured_part(
    found: Identification, name: str, family: str | None = None, kin: Sequence[Part] = ()
) -> MeasuredPart:
    """Make a part of what was read; roles and loads are the match's if all matches are of one kind.

    Where there is no match it is of the family that the person says, if any; ``kin`` are the parts of that,
    and what works them all works this one.

    Contacts between terminals are as they were read and no further. A role is known if every way to explain
    the readings gives the same.
    """
    match = found.explanations[0] if len(found.kinds) == 1 else None
    if match is not None and match.contrary:  # it is the other way round, or the person means something else
        match = None
    works = worked_by(kin, found.asked.bench.positions)
    data: dict[str, Any] = {
        "part": name,
        "title": f"{match.part.title}, measured" if match else f"Unmarked part {name}",
        "family": match.part.family if match else family or UNKNOWN_FAMILY,
        "source": MEASURED_SOURCE,
        "note": "Made from meter readings: ends, face, mounting and what it carries were not looked at.",
        "terminals": dict(_terminals(found, match)),
    }
    if match is not None:
        part = match.part
        like = {"volts": part.volts, "polarity": part.polarity, "nodes": part.nodes}
        data |= like | {"inside": list(matched_inside(found.asked, match))}
        data["title"] = data["title"][:100]
    else:
        data |= {"inside": list(_inside_by_itself(found.asked, works))}
    built = Part.model_validate(data)
    kin = [e.part for e in found.explanations] if match else kin
    return MeasuredPart(built, tuple(not_known(found, match, built, works, kin)))


def _terminals(found: Identification, match: Explanation | None) -> Iterator[tuple[str, dict[str, Any]]]:
    for name in found.asked.bench.terminals:
        if match is None:
            yield name, {"by": "mounting"} if name.lower() in _CASE_WORDS else {}
            continue
        same = match.part.terminals[match.marks[name]]
        if name in never_joined(found.asked):
            yield name, {"fitting": same.fitting, "by": same.by, "holds": same.holds}
            continue
        kept = {"fitting": same.fitting, "by": same.by, "holds": same.holds}
        roles = {
            e.part.terminals[mark].role
            for e in found.explanations
            for mark in (e.marks[name], *e.other_marks[name])
        }
        # What a terminal wants goes with its role: an output of a switch wants no feed.
        yield name, kept | ({"role": next(iter(roles)), "wants": same.wants} if len(roles) == 1 else {})
    for mark in match.left_out if match else ():
        yield mark, match.part.terminals[mark].model_dump() if match else {}


def _inside_by_itself(asked: Asked, works: WorkedBy | None) -> Iterator[dict[str, Any]]:
    """Yield what is inside by the readings alone: joints and loads, with the table's positions.

    These are those of a control of its own, unless it is known what of the vehicle works it.
    """
    positions = asked.bench.positions
    control = (works.condition if works else CONTROL) if len(positions) > 1 else None
    if control and works is None:
        yield {"element": "control", "name": control, "positions": positions}
    elements: list[dict[str, Any]] = []
    for group in joined(asked, is_joint_by_itself):
        when: Mapping[str, Any] = {} if group.is_always or not control else {control: group.positions}
        elements.append({"element": "contact", "join": group.terminals, "when": when})
    for element in (*elements, *measured_loads(asked, control)):
        yield works.said(element) if works else element
