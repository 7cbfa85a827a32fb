"""A relay that takes over from an old switch is fed without a fuse, as that was: one each is offered.

What it looks for
A new relay, the plan's or the job's, whose coil an old wire works and which a new wire feeds from what was
live before without a fuse.

Why it matters
What the factory left without a fuse went by the dash; the new wire is short, but it sits on the battery with
all that the battery gives behind it. A screw through it burns it before anybody has found the clamp.

Before
A relay for main beam, fed from the battery's post, where the lighting switch had no fuse either.

After
As planned, with a remark; beside the plan the offer of a fuse in the feed of each such relay, at the end
where it is taken. Each beam has its own, so the other beam is left when one blows.

Limits
No feed gets one behind which both beams of the headlamps are: everything would go dark at once. Nothing is
offered where no holder of the catalogue bears the loads.

Source
ISO 8820-3 for ratings of fuses, 80 % of a rating for good; the practice is common, no source
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.feeding import headlamps_beyond
from planner.engine.suiting import weakest_in_line
from planner.messages import tr
from planner.model.delta import ChangeFuse, EndRef, Operation, Reason
from planner.model.elements import Fuse
from planner.model.need import Emission, Fitted, Proposal, Remark
from planner.model.reach import consumers_beyond
from planner.model.wording import address_words

RULE = "relay-feed-without-fuse"
SOURCE = "ISO 8820-3: ratings of blade fuses, 80 % of one for good"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark on a relay that is fed without a fuse; at the first of them a fuse for each."""
    feeds = _unfused(case) if isinstance(case.need, Fitted) else {}
    if not isinstance(case.need, Fitted) or case.need.at not in feeds:
        return
    wire, taken = feeds[case.need.at]
    from_ = address_words(case.loom, case.loom.find(wire).ends[taken].at)
    title = case.loom.place_title(case.need.at)
    text = tr(
        "the {place} has no fuse before it, as the switch had none: keep that wire short, sleeved "
        "and clear of metal, and see that each side has a fuse of its own behind it",
        place=title,
    )
    yield Remark(text, Reason(RULE, (f"{from_} is live without a fuse, as the old lead was",)))
    fused = _fused(case, feeds) if case.need.at == min(feeds) else {}
    if fused:
        titles = " and ".join(f"the {case.loom.place_title(place)}" for place in fused)
        facts = (f"a fuse in the feed of {titles}, where it is taken", f"{from_} is live without a fuse")
        gives_up = tr("when one of these fuses blows, its beam is dark on both sides; the other beam is left")
        is_head = any(len(headlamps_beyond(case, f"{place}:87")) > 1 for place in fused)
        operations = tuple(operation for each in fused.values() for operation in each)
        yield Proposal(
            operations, Reason(RULE, facts, SOURCE), offer=True, gives_up=gives_up if is_head else ""
        )


def _unfused(case: Case) -> dict[str, EndRef]:
    """Each new relay that an old wire works and a new one feeds without a fuse, and where this is taken."""
    found: dict[str, EndRef] = {}
    for place in case.loom.places:
        if place in case.before.places:
            continue
        by_old = any(wire.wire in case.before.wire_index for wire, _ in case.wires_at(f"{place}:86"))
        if case.is_swapped(place) and not by_old:
            continue  # what the job fits for something else has no old switch before it
        for wire, end in case.wires_at(f"{place}:30"):
            taken = 0 if end else len(wire.ends) - 1
            fact = case.facts.at(wire.ends[taken].at)
            if wire.wire not in case.before.wire_index and fact.live == "always" and fact.fuse is None:
                found[place] = wire.wire, taken
    return found


def _fused(case: Case, feeds: Mapping[str, EndRef]) -> dict[str, tuple[Operation, ...]]:
    """What puts a fuse into the feed of each relay, but where both beams are behind it or no holder does."""
    found: dict[str, tuple[Operation, ...]] = {}
    for place, (wire, taken) in feeds.items():
        beyond = consumers_beyond(case.loom, case.catalogue, f"{place}:87")
        amps = sum(c.watts for c in beyond) / case.loom.supply.volts
        rated = case.catalogue.standards.fuse_for_load(amps) if amps else None
        holder = weakest_in_line(case, Fuse, rated.value) if rated is not None else None
        if rated is None or holder is None or len({c.does for c in beyond if c.duty == "head"}) > 1:
            continue
        part, fuse = holder
        insert = draft_insert(case, wire, taken, part, fuse.between[1], fuse.between[0])
        case = replace(case, loom=insert.apply(case.loom))
        found[place] = insert, ChangeFuse(f"{insert.at}:{fuse.between[1]}", rated.value, None)
    return found
