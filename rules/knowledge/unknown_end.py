"""A wire on which the plan leans ends somewhere nobody has seen: find its other end first.

What it looks for
A wire that the settled plan moves, covers or takes a feed from, of which an end is entered as unknown.

Why it matters
Where it goes decides what it is: a feed, an output, or something added later by someone else. Until then the
proof covers only what is drawn.

Before
A purple wire on the old switch that disappears under the carpet.

After
The voltmeter, read with every switch in turn, shows that it is fed from its other end, or the ohmmeter, one
lead on it, finds that end.

Limits
It only asks, and not where another wire on the same terminal is asked about: that question is about both. The
end is treated as going nowhere in the proof. The likely terminals named are those without a wire whose role
is that of the end that is known.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LeansOn, Question
from planner.model.wording import address_words, volts_to_body


def propose(case: Case) -> Iterator[Emission]:
    """Yield a question, to be answered from an end of the wire that is known."""
    need = case.need
    if not isinstance(need, LeansOn) or need.at != "unknown" or need.wire is None:
        return
    known = [(n, e.at) for n, e in enumerate(case.before.find(need.wire).ends) if e.at != "unknown"]
    known.sort(key=lambda end: not case.is_swapped(split_address(end[1])[0]))
    if not known:
        return
    number, here = known[0]
    if any(case.reading_end(wire) == end for wire, end in case.before.ends_at[here] if wire != need.wire):
        return
    end, at = case.old_end(need.wire, number), address_words(case.before, here)
    likely = _likely(case, here)
    meters = {"wire": end, "at": at, "body": volts_to_body(case.loom), "likely": ", ".join(likely)}
    if likely:
        where = tr(
            "voltmeter from {wire}, taken off {at}, to {body}; then ohmmeter from it to the terminals it may "
            "reach, first to {likely}",
            **meters,
        )
    else:
        where = tr(
            "voltmeter from {wire}, taken off {at}, to {body}; then ohmmeter from it to the terminals it may "
            "reach",
            **meters,
        )
    yield Question(
        about=tr("where does {wire} on {at} go?", wire=end, at=at),
        where=where,
        how=tr(
            "volts with supply on, ignition off, then ignition on, every switch in turn, lamps on; ohms with "
            "the battery's earthed pole off"
        ),
        answers=(
            (
                tr("about {volts:g} V", volts=case.before.supply.volts),
                tr("it is a feed, live from its far end: insulate it, enter it so and plan again"),
            ),
            (tr("under 1 ohm to a terminal"), tr("it ends there: enter it and plan again")),
            (tr("neither"), tr("nothing was found: sleeve it, tie it back and tag it")),
        ),
        why=Reason(
            "unknown-end", (f"the other end of {end} has not been seen",), leans_on=((need.wire, number),)
        ),
    )


def _likely(case: Case, here: str) -> list[str]:
    """Terminals elsewhere without a wire whose role is that of the known end."""
    role = case.old_role(here)
    found = []
    for place, fitted in case.before.places.items():
        part = case.catalogue.parts.get(fitted.part)
        for mark, terminal in part.terminals.items() if part else ():
            address = f"{place}:{mark}"
            if (
                role
                and terminal.role == role
                and terminal.by == "wire"
                and address not in case.before.ends_at
            ):
                found.append(address_words(case.before, address))
    return found[:3]
