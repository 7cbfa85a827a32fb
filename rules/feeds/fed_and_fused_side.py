"""An end of a fuse box goes to the same side of the same fuse, whatever is stamped beside it.

What it looks for
A loose end that sat on a fuse of the old part, and the fuse of the new part that protects the same circuit:
by the role of its fused side, else by its place among fuses of equal amps.

Why it matters
With feed and load side exchanged everything works, until the first wire chafes: then the feed itself is what
is not fused, or one blown fuse leaves its neighbours live from behind.

Before
The feed sat on 1, the load on 5; on the reproduction box 1 is the fused side.

After
The feed goes to 5, the load to 1, and it is said that the numbers mislead.

Limits
Which side of a fuse is fed is taken from the roles of its terminals, else from the order in the catalogue.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal, Remark
from planner.model.reach import fuse_ways
from planner.model.wording import address_words

SIDES = ("fed side", "fused side")


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to the same side of the matching fuse, and a remark if the marks are mirrored."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    place, mark = split_address(need.was)
    old, new = case.old_part(place), case.part(place)
    if old is None or new is None:
        return
    old_ways, new_ways = fuse_ways(old, case.catalogue), fuse_ways(new, case.catalogue)
    targets: list[str] = []
    for index, way in enumerate(old_ways):
        for side in (0, 1):
            if mark != way.sides[side]:
                continue
            roles = [old.terminals[m].role for m in way.sides if m in old.terminals]
            same_role = [
                w for w in new_ways if [new.terminals[m].role for m in w.sides if m in new.terminals] == roles
            ]
            same_place = [w for w in new_ways[index : index + 1] if w.amps == way.amps]
            match = (same_role if len(same_role) == 1 else []) or same_place or same_role
            if match and match[0].sides[side] not in targets:
                targets.append(match[0].sides[side])
                yield from _go(case, need, f"{place}:{match[0].sides[side]}", side, way.amps)
    if targets and mark not in targets and any(mark in way.sides for way in new_ways):
        side = next(s for way in new_ways for s in (0, 1) if way.sides[s] == mark)
        facts = (f"{mark} is the {SIDES[side]} of a fuse in the new part",)
        text = f"{address_words(case.loom, need.was)} is not where the wire from the old {mark} goes"
        yield Remark(text, Reason("fed-and-fused-side", facts))


def _go(case: Case, need: LooseEnd, to: str, side: int, amps: float) -> Iterator[Emission]:
    facts = (
        f"{case.old_end(need.wire, need.end)} was on the {SIDES[side]} of the {amps:g} A fuse, "
        f"{address_words(case.before, need.was)}",
        f"{address_words(case.loom, to)} is the {SIDES[side]} of that fuse now",
    )
    why = Reason("fed-and-fused-side", facts, leans_on=((need.wire, need.end),))
    yield Proposal((case.put(need.wire, need.end, to),), why)
