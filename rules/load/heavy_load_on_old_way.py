"""A load too heavy for its old way gets a relay near it, fed from the battery side.

What it looks for
A wire, a switch's contact or a push-on terminal that carries too much, or a load that loses too many volts,
and a wire further on in which the whole of that current flows.

Why it matters
The old switch, its wires and terminals were made for the old load. Brighter lamps burn the contact long
before a fuse notices, and lose on the way what they were to gain.

Before
Headlamps of 60 W on the switch and the wires that were made for 45 W.

After
A relay in a place of its own beside the load, or one there that the job fits and nothing is joined to yet.
The old wire works only its coil; its contact passes the current, from the battery side by a new wire with a
fuse of its own where the feed is taken. Wire and fuse are sized for the load, the relay's contact is rated
for its kind.

Limits
Of different loads on one way the heaviest is taken off it. The relay goes where the whole of its current
still flows in one wire, as near to it as can be; two places are tried. Each relay has a fuse, and one fuse
never puts out both headlamps: where all beams hang on one way there is no relay for it, only one for each
beam further on, and of its fuse it is said what is left when it blows.
There is no proposal where no relay of the catalogue is rated for the load.

Source
ISO 8820-3 for ratings of fuses, FAA AC 43.13-1B table 11-4 for contacts; the relay is common practice, no
source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.feeding import point_words
from planner.engine.headlamps import darkens_both_headlamps
from planner.engine.relaying import choose_relay, draft_relay, own_relay, passages
from planner.engine.relieving import OwnFeed
from planner.engine.sizing import far_over_on_tab, load_amps, strain_of
from planner.model.delta import Reason
from planner.model.need import Emission, Proposal
from planner.model.part import Part
from planner.model.wording import address_words, small

PLACES = 2  # where the relay could sit: the nearest to the load are looked at


def propose(case: Case) -> Iterator[Emission]:
    """Yield a relay at each of the places that are nearest to the strained loads."""
    strain = strain_of(case, "wire", "contact", "drop") or far_over_on_tab(case)
    loads = [load for load in strain.loads if load_amps(case, *load)] if strain else []
    loads = [load for load in loads if load[0] == loads[0][0] or load[1] == loads[0][1]]
    if strain is None or not loads:
        return
    alone = strain.kind == "drop" or len(loads) < len(strain.loads)
    for passage in passages(case, replace(strain, loads=tuple(loads)), alone=alone)[:PLACES]:
        if darkens_both_headlamps(case, passage.at):
            continue
        own = own_relay(case, passage.at, loads)
        relay = case.part(own) if own else choose_relay(case, loads)
        drafted = draft_relay(case, passage, loads, relay, own) if relay else None
        if drafted is not None and relay is not None:
            operations, feed = drafted
            facts = _facts(case, passage.at, loads, relay, feed)
            yield Proposal(operations, Reason("heavy-load-on-old-way", facts, strain.source))


def _facts(case: Case, at: str, loads: list[tuple[str, str]], relay: Part, feed: OwnFeed) -> tuple[str, ...]:
    amps = sum(load_amps(case, *load) for load in loads)
    named = " and ".join(f"{does} of the {case.loom.place_title(place)}" for place, does in loads)
    where = point_words(case, feed.point)
    fuse = f"{where} feeds it; a {feed.rated_amps:g} A fuse carries that with a fifth to spare"
    return (
        f"{named}: {amps:.1f} A together, too much for the way by which they are switched",
        f"the {small(relay.title)} takes over at {address_words(case.loom, at)}; the old wire works its coil",
        fuse,
        f"{feed.mm2:g} mm2 stands the fuse, and its terminals the load",
    )
