"""Current that flows back through a switch is stopped by a diode, or the switch is fed from another point.

What it looks for
Something that is on, or fed, when it should not be, or takes current by way of another load. On the way of
that current the first switch or load that it crosses from the load side back to the feed side; then the wire
that fed this one.

Why it matters
With hazard flashers on and the brake pressed a radio may play with the ignition off: every part is sound, and
nobody finds the fault.

Before
A stop switch fed from the ignition; the hazard flasher feeds the stop lamps and, through the switch,
everything else on the ignition.

After
A diode in the switch's feed wire, passing current only towards the switch; or that wire's far end on another
feed point. Where the current goes on inside the part, as from a charge lamp into the voltmeter beside it, a
diode in the wire that it comes by, passing current only out of the lamp.

Limits
The diode costs about 0.7 V, which filament lamps do not mind. It is proposed only if the catalogue has one
that bears the loads behind the switch. A wire with more than two ends is not fed from elsewhere.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.feeding import find_feed_points, point_words, sits_on_conductor
from planner.engine.lamp_diodes import draft_diode_out_of
from planner.engine.suiting import weakest_in_line
from planner.model.delta import EndRef, Reason
from planner.model.elements import Diode
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Proposal
from planner.model.reach import consumers_beyond
from planner.model.wording import address_words

RULE = "back-feed"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a diode in the feed of the switch that is crossed backwards, and other points to feed it from."""
    need = case.need
    if not isinstance(need, Fault):
        return
    if not (need.kind == "unintended" or need.hazard == "back-feed" or need.what == "sneak"):
        return
    for inside, came, went in case.passages(need.path):
        first, last = inside[:2]
        place, mark = split_address(last)
        part = case.part(place)
        if part is None or case.rank_in(part, split_address(first)[1]) <= case.rank_in(part, mark):
            continue
        end = case.end_between(last, went, now=True)
        way_in = case.end_between(first, came, now=True) if end is None else None
        facts: tuple[str, ...] = (
            f"current flows backwards through {case.loom.place_title(place)}, from "
            f"{address_words(case.loom, first)} to {address_words(case.loom, last)}",
            f"the way of that current: {' > '.join(need.path)}",
        )
        if way_in is not None:
            diode = draft_diode_out_of(case, first, way_in)
            if diode is not None:
                yield Proposal((diode,), Reason(RULE, facts, leans_on=(way_in,)))
            return
        if end is None:
            continue
        facts = (facts[0], f"{case.old_end(*end)} is its feed", facts[1])
        if need.strain is not None:
            strain, title = need.strain, case.loom.place_title(need.at)
            facts += (f"the {title} takes {strain.value:.0%} {strain.unit} that way ({strain.note})",)
        why = Reason(RULE, facts, leans_on=(end,))
        yield from _diode(case, end, last, why)
        yield from _other_points(case, end, why)
        return


def _diode(case: Case, end: EndRef, at: str, why: Reason) -> Iterator[Proposal]:
    behind = consumers_beyond(case.loom, case.catalogue, at)
    amps = sum(c.watts for c in behind) / case.loom.supply.volts
    found = weakest_in_line(case, Diode, amps)
    if found is not None:
        part, diode = found
        # The live pole of a positive-earth vehicle is minus: there current runs from the switch to its feed.
        enters, leaves = diode.between if case.loom.supply.earthed == "negative" else diode.between[::-1]
        yield Proposal((draft_insert(case, *end, part, enters, leaves),), why)


def _other_points(case: Case, end: EndRef, why: Reason) -> Iterator[Proposal]:
    wire, number = end
    ends = case.loom.find(wire).ends
    far = ends[1 - number].at if len(ends) == 2 else "loose"
    if split_address(far)[0] not in case.loom.places:
        return
    for nature in dict.fromkeys((case.facts.at(far).nature, "always-live")):
        points = [
            p
            for p in find_feed_points(case, nature, far)
            if p.has_room and not sits_on_conductor(case, far, p.at)
        ]
        for point in points[:1]:
            facts = (*why.facts, f"{point_words(case, point)} is {nature.replace('-', ' ')}")
            yield Proposal((case.put(wire, 1 - number, point.at),), Reason(why.rule, facts, leans_on=(end,)))
