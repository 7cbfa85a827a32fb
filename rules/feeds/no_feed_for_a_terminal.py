"""A terminal of a new part wants a feed, and none could be brought to it.

What it looks for
A terminal of a fitted part that cannot do without a live or an ignition feed, bare when all is settled and
not covered on purpose, with no terminal beside it that feeds it inside.

Why it matters
The part stays dead, and nothing on its card says why.

Before
A trailer socket whose converter wants a feed from the battery, in a loom that ends at the lamps' wires.

After
As planned, with a remark on which terminal wants what. Of a contact that could have been fed and was covered,
such as that of a flash, it says so too.

Limits
It brings nothing: what could feed the terminal is not in the loom, or is better left alone.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import find_fed_sibling, find_feed_points, is_joined_to_an_end
from planner.engine.sizing import amps_beyond, least_mm2
from planner.messages import later, tr
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, Fitted, Remark
from planner.model.reach import consumers_beyond
from planner.model.surroundings import Surroundings, ambient_c
from planner.model.wording import address_words

ISOLATED = "isolated-live"
NATURES = {"live": "always-live", "ignition": "ignition-live"}
WORDS = {
    "live": later("a feed that is always live"),
    "ignition": later("a feed that goes off with the ignition"),
}


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark for each terminal that stays without the feed that it wants."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted):
        return
    for mark in part.terminals:
        at, wants = f"{need.at}:{mark}", case.wants(f"{need.at}:{mark}")
        if wants not in NATURES or case.ends_at(at):
            continue
        if is_joined_to_an_end(case, at) or find_fed_sibling(case, at, NATURES[wants]):
            continue
        said = f"{address_words(case.loom, at)} wants {WORDS[wants]}"
        if find_feed_points(case, NATURES[wants], at):
            if at in case.loom.covered and _works_something(case, at):
                text = tr(
                    "{at} wants {feed}, and this plan brings it none: nothing was worked that way before, "
                    "and without it there is less to do or to overload. If it is to work, write what under "
                    "wants in the job and plan again",
                    at=address_words(case.loom, at),
                    feed=tr(WORDS[wants]),
                )
                worked = {load.does for load in consumers_beyond(case.loom, case.catalogue, at)}
                if wished := sorted({wish.what for wish in case.job.wants if wish.is_ != "off"} & worked):
                    text = tr(
                        "{at} wants {feed}, and this plan brings it none, though the job wants what it would "
                        "work ({what}): with that feed something else is worse, as when two feeds are tied "
                        "together. Look into the part for what this contact joins, before another is bought",
                        at=address_words(case.loom, at),
                        feed=tr(WORDS[wants]),
                        what=", ".join(wished),
                    )
                yield Remark(text, Reason("no-feed-for-a-terminal", (said,)))
            continue  # it could have been fed: that it was not was chosen
        if at in case.loom.covered:
            continue
        text = tr(
            "{at} wants {feed}, and this loom has none for it: until a fused one is brought there, it does "
            "nothing",
            at=address_words(case.loom, at),
            feed=tr(WORDS[wants]),
        )
        if (takes := _what_it_takes(case, at)) is not None:
            amps, fuse_amps, mm2 = takes
            text = tr(
                "{said}. Its loads take {amps:.1f} A by their ratings, were all on at once: a fuse of "
                "{fuse:g} A, and {mm2:g} mm2 at least. Enter such a feed at the loom's edge and plan again: "
                "the wire is made with the rest",
                said=text,
                amps=amps,
                fuse=fuse_amps,
                mm2=mm2,
            )
        yield Remark(text, Reason("no-feed-for-a-terminal", (said,)))


def _works_something(case: Case, at: str) -> bool:
    """Whether a contact of a switch leads on from a terminal; of an isolator another rule speaks."""
    part = case.part(split_address(at)[0])
    isolates = part is not None and any(t.role == ISOLATED for t in part.terminals.values())
    return case.switches(at) and not isolates


def _what_it_takes(case: Case, at: str) -> tuple[float, float, float] | None:
    """The amps of all loads on a terminal, a fuse for them, the mm2 that stands it; None if unknown."""
    amps = amps_beyond(case, [at])
    fuse = case.catalogue.standards.fuse_for_load(amps) if amps else None
    wire = least_mm2(case, fuse.value, Surroundings(ambient_c(case.loom, at)), (at,)) if fuse else None
    return (amps, fuse.value, wire) if fuse is not None and wire is not None else None
