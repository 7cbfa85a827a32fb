"""A relay that the job fits beside a new switch and a new load is wired between the two.

What it looks for
A bare relay in a new place with the terminals 30, 85, 86 and 87, a new load that its contact bears, and a
bare output of a new switch: for the coil of a relay, or for that load itself.

Why it matters
The relay is bought so that the load's current goes neither through the switch nor through the fuse that
feeds it. Left without a wire it does nothing, and what it was bought for is dead or strains the switch.

Before
A heated rear window, its relay and its switch, each screwed on, none with a wire.

After
The switch feeds the coil, which goes to earth; the contact feeds the load, from the battery's side by a fuse
of its own, or from a fuse that is always live.

Limits
Where the switch's output is for the load itself, a relay counts only if it is called after one of the two.
Of several loads of one role the first is wired here, the others from it. Whether a fuse bears the load is for
the check of currents.

Source
DIN 72552 for the terminals of the relay; the practice itself is common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import choose_feeds, draft_wire
from planner.engine.earthing import earth_near
from planner.engine.ready_relays import ReadyRelay, ready_relays
from planner.engine.relaying import RELAY_ROLES
from planner.engine.relieving import Live, draft_own_feed
from planner.engine.sizing import load_amps
from planner.model.delta import Cover, Operation, Reason
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Proposal
from planner.model.wording import address_words

NATURE: Live = "always-live"


def propose(case: Case) -> Iterator[Emission]:
    """Yield the relay's four wires, for each way to feed its contact."""
    need = case.need
    if not isinstance(need, BareTerminal):
        return
    for ready in ready_relays(case):
        if need.at not in ready.serves and split_address(need.at)[0] != ready.place:
            continue
        facts = (
            f"{case.loom.place_title(ready.place)} has no wire yet, and its contact bears what "
            f"{address_words(case.loom, ready.load)} takes",
            f"{address_words(case.loom, ready.switch)} is the output that works it",
        )
        for operations in _wired(case, ready):
            yield Proposal(operations, Reason("relay-lies-ready", facts, case.role_source("87")))
        return


def _wired(case: Case, ready: ReadyRelay) -> Iterator[tuple[Operation, ...]]:
    """Yield the wires of a relay: fed by a fuse of its own, else from one that is there."""
    part = case.part(ready.place)
    marks = {t.role: mark for mark, t in part.terminals.items()} if part else {}
    live, coil_earth, coil_live, out = (f"{ready.place}:{marks[role]}" for role in RELAY_ROLES)
    own = draft_own_feed(case, live, sum(load_amps(case, *load) for load in ready.loads), NATURE)
    role = case.role(ready.load)
    mm2 = own.mm2 if own else 0.0
    wires = (
        draft_wire(case, ready.switch, coil_live, "86"),
        draft_wire(case, coil_earth, earth_near(case, coil_earth), "31"),
        draft_wire(case, out, ready.load, role, mm2=mm2),
        *(Cover(f"{ready.place}:{m}") for r, m in marks.items() if r not in RELAY_ROLES),
    )
    if own is not None:
        yield (*wires, *own.operations)
    for point, feed in choose_feeds(case, live, NATURE)[:1]:
        if point.fact.fuse is not None:
            yield (*wires, *feed)
