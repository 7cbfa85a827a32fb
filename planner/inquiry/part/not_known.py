"""Sentences that say what is not known of a part that was made of readings."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.assign import find_ways
from planner.inquiry.part.bench_view import bench_view
from planner.inquiry.part.explanation import Explanation
from planner.inquiry.part.identify import Identification
from planner.inquiry.part.joints import never_joined, unread
from planner.inquiry.part.worked_by import WorkedBy
from planner.model.elements import Coil
from planner.model.part import Part


def not_known(
    found: Identification,
    match: Explanation | None,
    part: Part,
    works: WorkedBy | None,
    kin: Sequence[Part],
) -> Iterator[str]:
    """Yield a sentence for each thing that is not known of a measured part; ``kin`` are parts of its kind."""
    asked = found.asked
    if match is None:
        yield f"The readings fit {_fits(found)}, so nothing is known of what it is for."
        yield f"No meter reads volts: {part.volts:g} V is assumed until somebody looks at the part."
        yield "Its ends are written as 6.3 mm push-on terminals, which nobody looked at either."
        if works is not None:
            rest = next(name for name, value in works.values.items() if value != works.value)
            yield (
                f"The {works.condition} works it, as it does the others of its family. A loom has to call "
                f"its two states as you do: {works.condition}: [{rest}, {works.value}]."
            )
        elif len(asked.bench.positions) > 1:
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
    alone = never_joined(asked)
    if alone:
        yield f"Never seen joined to anything, so it may be for anything: {', '.join(alone)}."
    for position, pairs in unread(asked).items():
        if pairs:
            said = ", ".join(f"{one}-{other}" for one, other in pairs)
            yield f"Not read in {position}, and taken as not joined: {said}."
    yield from _roles(part, kin)
    if not _explains(part, asked):
        why = "some contradict the others" if found.contradictions else "it is more involved than contacts"
        yield f"It does not explain all of its readings: {why}."


def _fits(found: Identification) -> str:
    if not found.kinds:
        return "no part of the catalogue"
    return "several kinds of part" if len(found.kinds) > 1 else "only a part that works the other way round"


def _roles(part: Part, kin: Sequence[Part]) -> Iterator[str]:
    """Yield which terminals have no role, and how to give them one."""
    without = [name for name, terminal in part.terminals.items() if terminal.role is None]
    if not without:
        return
    yield f"What {', '.join(without)} {'is' if len(without) == 1 else 'are'} for is not known."
    roles = dict.fromkeys(t.role for other in kin for t in other.terminals.values() if t.role)
    usual = f"; parts of its kind have {', '.join(roles)}" if roles else ""
    example = f'"{without[0]}": {{role: "{next(iter(roles), "30")}"}}'
    yield (
        "A plan pairs such terminals by what they do. Where that does not decide, or the part is for a new "
        f"place, say what they are for here, as {example}{usual}."
    )


def _explains(part: Part, asked: Asked) -> bool:
    """Whether a part gives the readings that it was made from, each terminal under its own name."""
    if not any(isinstance(element, Coil) for element in part.inside):  # what a coil does is a position there
        asked = Asked(replace(asked.bench, powered=frozenset()), asked.leads_ohms)
    ways = find_ways(bench_view(part), asked)
    return not ways.is_complete or bool(ways.found)
