"""A part of one's own from what was measured: by its match where one was found, else by readings alone."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.assign import find_ways
from planner.inquiry.part.bench_view import bench_view
from planner.inquiry.part.explanation import Explanation
from planner.inquiry.part.identify import Identification
from planner.inquiry.part.joints import is_joint_by_itself, joined, unread
from planner.inquiry.part.matched_inside import matched_inside
from planner.inquiry.part.measured_loads import measured_loads
from planner.model.elements import Coil
from planner.model.part import MEASURED_SOURCE, UNKNOWN_FAMILY, Part

_CASE_WORDS = frozenset({"case", "body", "housing", "mounting"})
CONTROL = "position"  # what the one control is called where nobody knows it


@dataclass(frozen=True, slots=True)
class MeasuredPart:
    """The part, and sentences that say what is not known of it."""

    part: Part
    unknown: tuple[str, ...]


def measured_part(found: Identification, name: str, family: str | None = None) -> MeasuredPart:
    """Make a part of what was read; roles and loads are the match's if all matches are of one kind.

    Where there is no match it is of the family that the person says, if any.

    Contacts between terminals are as they were read and no further. A role is known if every way to explain
    the readings gives the same.
    """
    match = found.explanations[0] if len(found.kinds) == 1 else None
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
        data |= {"inside": list(_inside_by_itself(found.asked))}
    built = Part.model_validate(data)
    return MeasuredPart(built, tuple(_unknown(found, match, built)))


def _terminals(found: Identification, match: Explanation | None) -> Iterator[tuple[str, dict[str, Any]]]:
    for name in found.asked.bench.terminals:
        if match is None:
            yield name, {"by": "mounting"} if name.lower() in _CASE_WORDS else {}
            continue
        same = match.part.terminals[match.marks[name]]
        if name in _never_joined(found.asked):
            yield name, {"fitting": same.fitting, "by": same.by, "holds": same.holds}
            continue
        kept = {"fitting": same.fitting, "by": same.by, "holds": same.holds}
        roles = {
            e.part.terminals[mark].role
            for e in found.explanations
            for mark in (e.marks[name], *e.other_marks[name])
        }
        yield name, kept | ({"role": next(iter(roles))} if len(roles) == 1 else {})
    for mark in match.left_out if match else ():
        yield mark, match.part.terminals[mark].model_dump() if match else {}


def _inside_by_itself(asked: Asked) -> Iterator[dict[str, Any]]:
    """Yield what is inside by the readings alone: one control with the table's positions, joints, loads."""
    positions = asked.bench.positions
    control = CONTROL if len(positions) > 1 else None
    if control:
        yield {"element": "control", "name": control, "positions": positions}
    for group in joined(asked, is_joint_by_itself):
        when: Mapping[str, Any] = {} if group.is_always or not control else {control: group.positions}
        yield {"element": "contact", "join": group.terminals, "when": when}
    yield from measured_loads(asked, control)


def _unknown(found: Identification, match: Explanation | None, part: Part) -> Iterator[str]:
    asked = found.asked
    if match is None:
        kind = "several kinds of part" if found.kinds else "no part of the catalogue"
        yield f"The readings fit {kind}, so nothing is known of what it is for."
        yield f"No meter reads volts: {part.volts:g} V is assumed until somebody looks at the part."
        yield "Its ends are written as 6.3 mm push-on terminals, which nobody looked at either."
        if len(asked.bench.positions) > 1:
            yield "Whether it springs back from any position is not written."
            yield (
                "Its positions are those of a control of its own. If the vehicle works it (a pedal, a door), "
                "leave the control out and name the loom's condition, as when: {brake pedal: pressed}."
            )
        if asked.bench.powered:
            positions = ", ".join(sorted(asked.bench.powered))
            yield f"What its coil does is written as a position of a switch ({positions})."
        beeps = [q for q in asked.questions if q.reading.says == "closed"]
        if beeps:
            yield f"A beep is taken for a joint, {len(beeps)} times; a filament or a motor beeps as well."
    else:
        alike = list(dict.fromkeys(e.part.part for e in found.explanations))
        yield f"What is inside besides contacts, its volts and ends are those of {', '.join(alike)}."
        yield f"No meter reads volts: {part.volts:g} V is assumed until somebody looks at the part."
        for name, read, ohms in match.other_coils:
            yield (
                f"The coil of '{name}' has {read:g} ohm, not {ohms:g}: the volts at which it pulls in and "
                "drops out are those of the other coil, and it may be made for other volts."
            )
        if match.unseen:
            yield f"Not read: {'; '.join(match.unseen)}."
        if any(match.other_settings.values()):
            yield "It reads alike from both ends, so its positions may be the other way round."
    without = [name for name, terminal in part.terminals.items() if terminal.role is None]
    if without:
        yield f"What {', '.join(without)} {'is' if len(without) == 1 else 'are'} for is not known."
    alone = _never_joined(asked)
    if alone:
        yield f"Never seen joined to anything, so it may be for anything: {', '.join(alone)}."
    for position, pairs in unread(asked).items():
        if pairs:
            said = ", ".join(f"{one}-{other}" for one, other in pairs)
            yield f"Not read in {position}, and taken as not joined: {said}."
    if not _explains(part, asked):
        why = "some contradict the others" if found.contradictions else "it is more involved than contacts"
        yield f"It does not explain all of its readings: {why}."


def _never_joined(asked: Asked) -> tuple[str, ...]:
    """Terminals from which no reading leads anywhere: nothing but elimination says what they are for."""
    seen = {name for q in asked.questions if not q.found.is_open for name in q.reading.pair}
    return tuple(name for name in asked.bench.terminals if name not in seen)


def _explains(part: Part, asked: Asked) -> bool:
    """Whether a part gives the readings that it was made from, each terminal under its own name."""
    if not any(isinstance(element, Coil) for element in part.inside):  # what a coil does is a position there
        asked = Asked(replace(asked.bench, powered=frozenset()), asked.leads_ohms)
    ways = find_ways(bench_view(part), asked)
    return not ways.is_complete or bool(ways.found)
