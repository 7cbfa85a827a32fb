"""An end of a fuse box goes to the same side of the same fuse, whatever is stamped beside it.

What it looks for
A loose end that sat on a fuse of the old part, and the fuse of the new part that protects the same circuit:
by the role of its fused side, else by its place among fuses of equal amps. Where the new box has no roles,
fuses that it feeds by one bus take over only from fuses of one feed; among those the amps decide.

Why it matters
With feed and load side exchanged everything works, until the first wire chafes: then the feed itself is what
is not fused, or one blown fuse leaves its neighbours live from behind. A bus that joins an always live feed
with that of the ignition keeps the engine running with the key out.

Before
The feed sat on 1, the load on 5; on the reproduction box 1 is the fused side.

After
The feed goes to 5, the load to 1, and it is said that the numbers mislead.

Limits
Which side of a fuse is fed is taken from the roles of its terminals, else from the order in the catalogue.
Where the new box has fewer fuses for a feed than the old one, a circuit that is left shares one.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.fuse_groups import buses, matching_fuses
from planner.messages import later, tr, tr_count
from planner.model.delta import Reason
from planner.model.fitted_fuse import fuse_words
from planner.model.loom import split_address
from planner.model.need import Emission, Fitted, LooseEnd, Proposal, Remark
from planner.model.reach import fuse_ways
from planner.model.wording import address_words, mark_words

SIDES = (later("fed side"), later("fused side"))


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to the same side of the matching fuse; for the fitted box what the marks mislead about."""
    need = case.need
    if isinstance(need, Fitted):
        yield from _mirrored(case, need.at)
        yield from _joined(case, need.at)
    if not isinstance(need, LooseEnd):
        return
    place, mark = split_address(need.was)
    old, new = case.old_part(place), case.part(place)
    if old is None or new is None:
        return
    new_ways = fuse_ways(case.loom, case.catalogue, place)
    is_nameless = all(new.terminals[m].role is None for w in new_ways for m in w.sides if m in new.terminals)
    grouped = matching_fuses(case, place) if is_nameless else {}
    targets: list[str] = []
    for index, way in enumerate(fuse_ways(case.before, case.catalogue, place)):
        if mark not in way.sides:
            continue
        roles = [old.terminals[m].role for m in way.sides if m in old.terminals]
        same_role = [
            w for w in new_ways if [new.terminals[m].role for m in w.sides if m in new.terminals] == roles
        ]
        same_place = [w for w in new_ways[index : index + 1] if w.amps == way.amps]
        if is_nameless:
            same_role, same_place = [], [new_ways[n] for n in (grouped.get(index),) if n is not None]
        match = (same_role if len(same_role) == 1 else []) or same_place or same_role
        for side in (0, 1):
            if mark == way.sides[side] and match and match[0].sides[side] not in targets:
                targets.append(match[0].sides[side])
                to = f"{place}:{match[0].sides[side]}"
                end = case.old_end(need.wire, need.end)
                was = address_words(case.before, need.was)
                fuse = fuse_words(way.amps, way.marked)
                facts = (
                    f"{end} was on the {SIDES[side]} of the fuse of {fuse}, {was}",
                    f"{address_words(case.loom, to)} is the {SIDES[side]} of that fuse now",
                )
                why = Reason("fed-and-fused-side", facts, leans_on=((need.wire, need.end),))
                yield Proposal((case.put(need.wire, need.end, to),), why)


def _mirrored(case: Case, place: str) -> Iterator[Emission]:
    """Yield one remark on the marks that were on one side of a fuse and are on the other now."""
    old, new = case.old_part(place), case.part(place)
    if old is None or new is None:
        return
    sides = [
        [{way.sides[side] for way in fuse_ways(loom, case.catalogue, place)} for side in (0, 1)]
        for loom in (case.before, case.loom)
    ]
    for side in (0, 1):
        turned = sorted(sides[0][side] & sides[1][1 - side])
        if turned:
            facts = (f"{', '.join(turned)}: {SIDES[side]} before, {SIDES[1 - side]} now",)
            text = tr_count(
                "the marks of the {place} mislead: {marks} is the {side} now",
                "the marks of the {place} mislead: {marks} are the {side} now",
                len(turned),
                place=case.loom.place_title(place),
                marks=", ".join(turned),
                side=tr(SIDES[1 - side]),
            )
            yield Remark(text, Reason("fed-and-fused-side", facts))


def _joined(case: Case, place: str) -> Iterator[Emission]:
    """Yield a remark on each bus that joins several fed terminals, as none did in the old box."""
    old, new = case.old_part(place), case.part(place)
    if old is None or new is None:
        return
    was, now = (
        [sorted({ways[n].sides[0] for n in bus}) for bus in buses(part, ways)]
        for part, ways in (
            (old, fuse_ways(case.before, case.catalogue, place)),
            (new, fuse_ways(case.loom, case.catalogue, place)),
        )
    )
    for fed in now:
        if len(fed) > 1 and not any(len(marks) > 1 for marks in was):
            text = tr(
                "{marks} on the {place} are one piece of metal inside: what is put on one feeds all of them, "
                "so never put two feeds there",
                marks=tr(" and ").join(map(mark_words, fed)),
                place=case.loom.place_title(place),
            )
            yield Remark(text, Reason("fed-and-fused-side", (f"{', '.join(fed)}: joined inside",)))
