"""What lies on a conductor and beyond it, by looking at wires and contacts; no current is computed."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from planner.model.catalogue import Catalogue
from planner.model.elements import Contact, EndUser, Fuse, Source
from planner.model.fitted_fuse import fuse_as_fitted
from planner.model.fuses import Marked
from planner.model.loom import Loom, split_address
from planner.model.part import Part

NOWHERE = ("loose", "unknown")  # ends there share a word, not a conductor


@dataclass(frozen=True, slots=True)
class Consumer:
    """A load that a conductor can reach."""

    place: str
    does: str
    duty: str
    watts: float


@dataclass(frozen=True, slots=True)
class FuseWay:
    """One fuse of a part: the terminals on its fed and its fused side, its amps and what they mean."""

    sides: tuple[str, str]
    amps: float
    marked: Marked


def conductor(loom: Loom, address: str) -> tuple[str, ...]:
    """Every address that wires join to one, itself first; the body and parts are not crossed."""
    known = loom.conductors.get(address)
    if known is None:
        known = loom.conductors[address] = _walk(loom, address)
    return known


def is_fed(loom: Loom, wire: str) -> bool:
    """Whether a wire leads to a terminal or a feed at all; one whose ends are all tied back does not."""
    ends = [end.at for end in loom.find(wire).ends if end.at != "loose"]
    on = {address for at in ends for address in conductor(loom, at)}
    return any(split_address(at)[0] not in ("loose", "joint", "earth") for at in on)


def _walk(loom: Loom, address: str) -> tuple[str, ...]:
    found = {address: None}
    queue = [address]
    while queue:
        here = queue.pop()
        if here in NOWHERE or split_address(here)[0] == "earth":
            continue
        for wire, _ in loom.ends_at.get(here, ()):
            for end in loom.find(wire).ends:
                if end.at not in found:
                    found[end.at] = None
                    queue.append(end.at)
    return tuple(found)


def joined_inside(part: Part, mark: str, setting: Mapping[str, str] | None = None) -> frozenset[str]:
    """Terminals and inner nodes that the part's contacts join to one, itself among them.

    A contact counts if every variable in its ``when`` has its value in ``setting``; without a setting only
    contacts that are always closed count.
    """
    at = setting or {}
    group = {mark}
    grown = True
    while grown:
        grown = False
        for element in part.inside:
            if not isinstance(element, Contact) or not group & set(element.join):
                continue
            if all(at.get(name) in labels for name, labels in element.when.items()):
                grown |= not set(element.join) <= group
                group |= set(element.join)
    return frozenset(group)


def consumers_beyond(
    loom: Loom, catalogue: Catalogue, address: str, without: Collection[str] = (), *, lasting: bool = False
) -> frozenset[Consumer]:
    """Every load that a feed put on an address could reach in some position, not by way of ``without``.

    Contacts are crossed whatever their position, but never from a role nearer to earth back to one nearer
    to the live pole; loads, sources and the body are not crossed. ``lasting`` crosses none that closes only
    while a hand holds its lever or a ratchet steps; a plain relay that a push works counts as lasting.
    """
    known = loom.reached.setdefault(id(catalogue), (catalogue, {}))[1]  # it is kept, so its id stays its own
    key = (address, frozenset(without), lasting)
    if key not in known:
        known[key] = _consumers_beyond(loom, catalogue, address, without, known, lasting)
    found: frozenset[Consumer] = known[key]
    return found


def _consumers_beyond(
    loom: Loom,
    catalogue: Catalogue,
    address: str,
    without: Collection[str],
    known: dict[object, Any],
    lasting: bool,
) -> frozenset[Consumer]:
    found: set[Consumer] = set()
    seen: dict[str, int] = {}  # address: the rank that a contact crossed from there must have at least
    queue = [(address, 0)]
    while queue:
        here, floor = queue.pop()
        if here in without or seen.get(here, floor + 1) <= floor:
            continue
        seen[here] = floor
        step = (here, floor, lasting)
        if step not in known:  # many ways come by the same places
            known[step] = _step(loom, catalogue, here, floor, lasting)
        consumers, further = known[step]
        found.update(consumers)
        queue += further
    return frozenset(found)


def _step(
    loom: Loom, catalogue: Catalogue, here: str, floor: int, lasting: bool
) -> tuple[Sequence[Consumer], Sequence[tuple[str, int]]]:
    """The loads at an address, and where it goes on from there, each with the least rank from there on."""
    place, mark = split_address(here)
    if here in NOWHERE or place == "earth":
        return (), ()
    fitted = loom.places.get(place)
    part = catalogue.parts.get(fitted.part) if fitted else None
    wires = [(other, 0) for other in conductor(loom, here)[1:]]
    if part is None:
        return (), wires
    own = _ranks(part, catalogue)(mark)
    joints = part.lasting_joints if lasting else part.joints
    crossing = _crossed(part, catalogue, joints.get(mark, ()), mark, max(floor, own or 0))
    crossed = [(f"{place}:{m}", f) for m, f in crossing]
    return list(_consumers(part, place, mark)), [*crossed, *wires]


def hanging_on(loom: Loom, catalogue: Catalogue, address: str, duty: str) -> frozenset[Consumer]:
    """The loads of a duty beyond an address that no feed or source reaches for long in another way.

    So a flash hangs on no fuse of its own, and lamps with a flash beside it still hang on theirs. Looked at
    only where there are loads of more than one place; else every load beyond counts.
    """
    found = {c for c in consumers_beyond(loom, catalogue, address) if c.duty == duty}
    for root in _roots(loom, catalogue):
        if len({consumer.place for consumer in found}) > 1:
            found -= consumers_beyond(loom, catalogue, root, (address,), lasting=True)
    return frozenset(found)


def fed_past(loom: Loom, catalogue: Catalogue, address: str) -> frozenset[Consumer]:
    """Every load that some feed or source reaches for long in some position, not by way of an address."""
    roots = _roots(loom, catalogue)
    reached = [consumers_beyond(loom, catalogue, root, (address,), lasting=True) for root in roots]
    return frozenset().union(*reached)


def _roots(loom: Loom, catalogue: Catalogue) -> Iterator[str]:
    """Yield where current comes from: the feeds at the edge and the live pole of each source."""
    yield from loom.feeds
    for place, fitted in loom.places.items():
        part = catalogue.parts.get(fitted.part)
        for element in part.inside if part else ():
            if isinstance(element, Source):
                yield f"{place}:{element.between[0]}"


def return_nodes(part: Part, catalogue: Catalogue, does: str, setting: Mapping[str, str]) -> frozenset[str]:
    """The wired terminals that carry a load's return in a setting of its part.

    Of the load's two ends the one joined to a terminal nearer to the live pole is its feed.
    """
    rank = _ranks(part, catalogue)
    for element in part.inside:
        if not isinstance(element, EndUser) or element.does != does:
            continue
        groups = [joined_inside(part, end, setting) for end in element.between]
        ranks = [min((r for m in group if (r := rank(m)) is not None), default=100) for group in groups]
        back = groups[0] if ranks[0] > ranks[1] else groups[1]
        return frozenset(m for m in back if m in part.terminals and part.terminals[m].by == "wire")
    return frozenset()


def fuse_ways(loom: Loom, catalogue: Catalogue, place: str) -> tuple[FuseWay, ...]:
    """The fuses at a place in order; the fed side is the one whose role is nearer to the live pole."""
    fitted = loom.places.get(place)
    part = catalogue.parts.get(fitted.part) if fitted else None
    if part is None:
        return ()
    rank = _ranks(part, catalogue)
    ways = []
    for element in part.inside:
        if isinstance(element, Fuse):
            first, second = element.between
            one, other = rank(first), rank(second)
            turned = one is not None and other is not None and other < one
            fuse = fuse_as_fitted(loom, place, element)
            ways.append(FuseWay((second, first) if turned else (first, second), fuse.amps, fuse.marked))
    return tuple(ways)


def gives_current(part: Part, catalogue: Catalogue, mark: str) -> bool:
    """Whether a part passes current on to this terminal: a source's live pole, or an output.

    An output is met by a contact, fuse, flasher, diode or stabiliser from a terminal nearer to the live pole.
    """
    rank = _ranks(part, catalogue)
    here = rank(mark)
    if any(isinstance(element, Source) and mark == element.between[0] for element in part.inside):
        return True
    others = (rank(other) for nodes in part.joints.get(mark, ()) for other in nodes if other != mark)
    return here is not None and any(there is not None and there < here for there in others)


def _consumers(part: Part, place: str, mark: str) -> Iterator[Consumer]:
    for element in part.users.get(mark, ()):
        watts = getattr(element, "watts", None) or 0.0
        yield Consumer(place, element.does or "", element.duty, watts)


def _crossed(
    part: Part, catalogue: Catalogue, joints: Sequence[Sequence[str]], mark: str, floor: int
) -> Iterator[tuple[str, int]]:
    """Nodes one contact, fuse, flasher, diode or stabiliser further from the live pole, each with its rank.

    An inner node has the rank of the terminal it was reached from, so that no way leads back through it.
    """
    rank = _ranks(part, catalogue)
    for nodes in joints:
        for other in nodes:
            there = rank(other)
            terminal = part.terminals.get(other)
            if other == mark or (terminal is not None and terminal.by == "mounting"):
                continue
            if there is None or there >= floor:
                yield other, floor if there is None else there


def _ranks(part: Part, catalogue: Catalogue) -> Callable[[str], int | None]:
    def rank(mark: str) -> int | None:
        terminal = part.terminals.get(mark)
        role = catalogue.roles.get(terminal.role) if terminal and terminal.role else None
        return role.rank if role else None

    return rank
