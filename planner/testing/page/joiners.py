"""Joiners that the work crimps or glues shut: no tip goes in, so their wires are read through them."""

from collections.abc import Collection, Iterator

from planner.currents.grid import BODY
from planner.model.loom import split_address
from planner.testing.wired import Wired


def beyond_joiner(wired: Wired, joiner: str) -> tuple[str, ...]:
    """The ends to which the wires in a closed joiner lead, also through another one."""
    found, seen, left = dict[str, None](), {joiner}, [joiner]
    while left:
        for wire, number in wired.loom.ends_at[left.pop()]:
            ends = wired.loom.find(wire).ends
            for end in (ends[n].at for n in (number - 1, number + 1) if 0 <= n < len(ends)):
                if not wired.is_closed(end):
                    found[end] = None
                elif end not in seen:
                    seen.add(end)
                    left.append(end)
    return tuple(found)


def joiner_between(wired: Wired, at: str, to: str) -> str:
    """A closed joiner whose wires lead to both tips; nothing if there is none."""
    for joiner in (name for name in wired.loom.ends_at if wired.is_closed(name)):
        heads = (BODY if split_address(end)[0] == BODY else end for end in beyond_joiner(wired, joiner))
        if {at, to} <= set(heads):
            return joiner
    return ""


def wires_through(wired: Wired, joiner: str, tips: Collection[str]) -> Iterator[str]:
    """Yield the wires in a joiner that lead straight from it to a tip; all of them where no two do."""
    wires = dict.fromkeys(wire for wire, _ in wired.loom.ends_at[joiner])
    straight = [wire for wire in wires if {end.at for end in wired.loom.find(wire).ends} & set(tips)]
    yield from map(wired.wire, straight if len(straight) > 1 else wires)
