"""A gauge made for a stabilised supply gets a stabiliser, its stabiliser an earth, but never a second one.

What it looks for
A gauge that is fed with more volts than it is made for; a fitted stabiliser behind another one.

Why it matters
12 V on a gauge for 10 V kill it, slowly if it is of the bimetal kind: all gauges read a quarter too high
meanwhile. Two stabilisers one behind the other read low, and nobody looks for a second one.

Before
A gauge for 10 V on the ignition fuse.

After
A stabiliser in its feed wire, on metal, for its case has to be earthed. If there is one that has no earth, an
earth for it.

Limits
Only for gauges whose sender is seen, for from that follows which terminal is the feed. A bimetal stabiliser
pulses, so a meter shows no steady 10 V. What a gauge with a stabiliser of its own gets behind a second one
is not computed in pulses; it is only said.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_insert, draft_wire
from planner.engine.earthing import earth_near
from planner.engine.instruments import feed_side
from planner.engine.suiting import parts_of
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.elements import Gauge, Stabiliser
from planner.model.gauges import gauge_volts
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Fitted, Proposal, Remark
from planner.model.purpose import purposes
from planner.model.reach import conductor
from planner.model.wording import address_words

RULE = "gauge-without-stabiliser"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a stabiliser in the feed of a gauge, or an earth for the one that is there; say a second one."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fault | Fitted) else None
    if part is None:
        return
    if isinstance(need, Fitted):
        yield from _doubled(case, need.at)
    if not isinstance(need, Fault) or need.what != "over-voltage":
        return
    for gauge in part.inside:
        volts = gauge_volts(gauge, part) if isinstance(gauge, Gauge) else 0.0
        at = feed_side(case, need.at, gauge) if isinstance(gauge, Gauge) else None
        if not isinstance(gauge, Gauge) or at is None or volts >= case.loom.supply.volts:
            continue
        fact = f"the {gauge.does} is made for {volts:g} V; {address_words(case.loom, at)} gets more"
        before = list(_stabilisers_on(case, at))
        for address in before:
            words = f"{address_words(case.loom, address)} has no earth: it holds nothing without"
            earth = draft_wire(case, address, earth_near(case, address), "31")
            yield Proposal((earth,), Reason(RULE, (fact, words)))
        for end in case.ends_at(at)[:1] if not before else ():
            for there in parts_of(case, "gauge"):
                # One that stands in a gauge serves that gauge alone.
                for inside in there.inside if not purposes(there) else ():
                    if isinstance(inside, Stabiliser) and inside.volts == volts:
                        operation = draft_insert(case, *end, there, *inside.between, mounting="metal")
                        words = f"{case.old_end(*end)} is its feed"
                        yield Proposal((operation,), Reason(RULE, (fact, words)))


def _stabilisers_on(case: Case, at: str) -> Iterator[str]:
    """Yield the earth terminal of each stabiliser of another part whose output is on a conductor."""
    for address in conductor(case.loom, at):
        place, mark = split_address(address)
        part = case.part(place)
        for element in part.inside if part else ():
            if isinstance(element, Stabiliser) and mark == element.between[1]:
                yield f"{place}:{element.earth}"


def _doubled(case: Case, place: str) -> Iterator[Remark]:
    """Yield a warning for a fitted stabiliser that is fed from another one."""
    part = case.part(place)
    for element in part.inside if part else ():
        if isinstance(element, Stabiliser) and element.between[0] in (part.terminals if part else ()):
            for address in _stabilisers_on(case, f"{place}:{element.between[0]}"):
                first = case.loom.place_title(split_address(address)[0])
                text = tr(
                    "the {place} has its own stabiliser and is fed from the {first}: behind two of them a "
                    "gauge reads low; feed it from before the first one",
                    place=case.loom.place_title(place),
                    first=first,
                )
                yield Remark(text, Reason(RULE, ("two stabilisers are one behind the other",)))
