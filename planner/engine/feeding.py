"""Feeds, seen from a case: what a terminal is fed by, and from where it could be."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from planner.engine.case import Case
from planner.engine.headlamps import headlamps_beyond
from planner.model.delta import EndRef
from planner.model.elements import Contact, Fuse
from planner.model.facts import ConductorFact, Nature
from planner.model.fitted_fuse import fuse_words
from planner.model.joiners import is_new_joiner
from planner.model.loom import split_address
from planner.model.need import LooseEnd
from planner.model.part import Wants
from planner.model.reach import conductor, fuse_ways, gives_current
from planner.model.wording import address_words

# What a terminal wants that a conductor of this nature gives.
NATURE_WANTED: Mapping[Nature, Wants] = MappingProxyType(
    {"always-live": "live", "ignition-live": "ignition", "earth": "earth"}
)

# A generator's output, its field and what tells of it: joined with one another nothing regulates it.
GENERATOR_ROLES = frozenset({"B+", "D+", "51", "61", "DF"})
EXCITING_ROLES = GENERATOR_ROLES - {"B+", "51"}


@dataclass(frozen=True)
class FeedPoint:
    """A terminal from which a new feed could be taken."""

    at: str
    fact: ConductorFact
    metres: float
    behind_trim: bool
    has_room: bool
    takes_piggyback: bool = False
    is_outlet: bool = True  # a fuse, switch or source is there, not just a load


def is_fed(case: Case, address: str) -> bool:
    """Whether a wire on a terminal now comes from an address that was live before."""
    for wire, number in _wires_to(case, address):
        loom = case.before if wire in case.before.wire_index else case.loom
        others = [end.at for n, end in enumerate(loom.find(wire).ends) if n != number]
        if any(case.facts.at(other).live != "never" for other in others):
            return True
    return False


def _wires_to(case: Case, address: str) -> Iterator[EndRef]:
    """Yield the ends on a terminal, and those that a new wire joins to it from a joiner of the plan."""
    for wire, number in case.ends_at(address):
        yield wire, number
        if wire in case.before.wire_index:
            continue
        for n, end in enumerate(case.loom.find(wire).ends):
            if n != number and is_new_joiner(case.before, end.at):
                yield from (other for other in case.ends_at(end.at) if other[0] != wire)


def sits_on_conductor(case: Case, address: str, other: str) -> bool:
    """Whether two addresses were on one conductor before."""
    return address == other or other in case.facts.at(address).addresses


def find_feed_points(case: Case, nature: str, near: str) -> list[FeedPoint]:
    """Terminals on conductors of this nature, nearest first; fused and unfused alike.

    ``nature`` is ``always-live``, ``ignition-live`` or ``earth``. Each conductor appears once, at its
    cheapest terminal, and at a load's only where no outlet can be used: the wire to a load was sized for
    that load. At a swapped place only a terminal counts whose wire came from the same role there, or
    from a fuse to a fuse of a box without roles. What a
    generator's field is fed or told by feeds nothing else.
    """
    best: dict[tuple[str, ...], FeedPoint] = {}
    for address, fact in (*_untouched(case), *_landed(case)):
        terminal = case.terminal(address)
        if fact.nature != nature or (terminal is not None and terminal.by == "mounting"):
            continue
        if terminal is None and address not in case.loom.feeds:
            continue
        if any(case.role(at) in EXCITING_ROLES for at in fact.addresses):
            continue
        metres, trim = case.wire_length(near, address)
        point = FeedPoint(
            address,
            fact,
            metres,
            trim,
            case.room(address) > 0,
            case.takes_piggyback(address),
            _is_outlet(case, address, fact),
        )
        key = fact.addresses or (address,)
        if key not in best or _rank(point) < _rank(best[key]):
            best[key] = point
    return sorted(best.values(), key=_rank)


def _is_outlet(case: Case, address: str, fact: ConductorFact) -> bool:
    """Whether a feed may be taken from a terminal: its conductor begins there, or something passes it on.

    Where it begins at a fuse, what the wires beyond lead to is served by a wire of its own size, unless it
    is made to join wires.
    """
    if fact.fuse in fact.addresses:
        return address == fact.fuse or _is_fused_now(case, address) or _is_joint(case, address)
    return address in case.loom.feeds or case.switches(address) or _gives_current(case, address)


def _is_joint(case: Case, address: str) -> bool:
    """Whether a terminal is on a part that does nothing but join wires."""
    part = case.part(split_address(address)[0])
    return part is not None and all(isinstance(e, Contact) and not e.when for e in part.inside)


def _gives_current(case: Case, address: str) -> bool:
    place, mark = split_address(address)
    part = case.part(place)
    return part is not None and gives_current(part, case.catalogue, mark)


def _untouched(case: Case) -> Iterator[tuple[str, ConductorFact]]:
    for address, fact in case.facts.by_address.items():
        if not case.is_swapped(split_address(address)[0]):
            yield address, fact


def _landed(case: Case) -> Iterator[tuple[str, ConductorFact]]:
    for place in case.swapped_places():
        for wire, number, mark in case.loom.ends_of_place(place):
            if wire not in case.before.wire_index:
                continue
            was, now = case.before.find(wire).ends[number].at, f"{place}:{mark}"
            role = case.role(now)
            is_same = role is not None and role == case.old_role(was)
            is_nameless_fuse = role is None and _is_fused_now(case, now) and case.facts.at(was).fuse == was
            if split_address(was)[0] == place and (is_same or is_nameless_fuse):
                yield now, case.facts.at(was)


def _is_fused_now(case: Case, address: str) -> bool:
    """Whether a terminal of a part that the job fits is the fused side of a fuse."""
    place, _ = split_address(address)
    ways = fuse_ways(case.loom, case.catalogue, place) if case.is_swapped(place) else ()
    return any(address == f"{place}:{way.sides[1]}" for way in ways)


def natures_on(case: Case, address: str) -> frozenset[str]:
    """What the conductors on a terminal now were before the job."""
    found: set[str] = set()
    for wire, number in _wires_to(case, address):
        old = wire in case.before.wire_index
        ends = case.before.find(wire).ends if old else case.loom.find(wire).ends
        found |= {case.facts.at(end.at).nature for n, end in enumerate(ends) if old or n != number}
    return frozenset(found - {"dead"})


def find_fed_sibling(case: Case, at: str, nature: str) -> str | None:
    """Another terminal of the part with the same want, a feed of this nature and room for one more end.

    A sibling behind a fuse is passed over if sharing would put both headlamps on that fuse.
    """
    place, mark = split_address(at)
    part = case.part(place)
    for other in part.terminals if part else ():
        sibling = f"{place}:{other}"
        if other == mark or case.wants(sibling) != case.wants(at) or nature not in natures_on(case, sibling):
            continue
        fused = any(case.facts.at(a).fuse for a in conductor(case.loom, sibling))
        if fused and _joins_headlamps(case, at, sibling):
            continue
        if case.room(sibling) > 0 or case.takes_piggyback(sibling):
            return sibling
    return None


def _joins_headlamps(case: Case, at: str, sibling: str) -> bool:
    """Whether a terminal would bring headlamps onto its sibling's fuse that are not all there already."""
    lamps, beside = headlamps_beyond(case, at), headlamps_beyond(case, sibling)
    return not lamps <= beside and len(lamps | beside) > 1


def is_joined_to_an_end(case: Case, at: str) -> bool:
    """Whether the part itself joins this terminal to one that carries an end."""
    return any(case.ends_at(other) for other in case.equal_terminals(at))


def point_words(case: Case, point: FeedPoint) -> str:
    """A feed point as people say it, with what protects it and how far it is."""
    amps = point.fact.fuse_amps
    fuse = f"fused with {fuse_words(amps, point.fact.fuse_marked)}" if amps else "fused"
    where = address_words(case.loom, point.at)
    trim = ", behind trim" if point.behind_trim else ""
    return f"{where} ({fuse if point.fact.fuse else 'not fused'}, {point.metres:g} m of wire{trim})"


def is_cut_off(case: Case, address: str) -> bool:
    """Whether a terminal is bare, or nothing on its conductor gives it current as before the job."""
    others = conductor(case.loom, address)[1:]
    if not others or case.facts.at(address).live == "never":
        return not others
    return not any(other in case.loom.feeds or _gives_current(case, other) for other in others)


def live_ends_before(case: Case, place: str) -> list[tuple[str, int, str]]:
    """Each end on a feed terminal of the old part, live always or with the ignition.

    ``(wire, end number, address)``; ends on outputs of the old part are not among them.
    """
    part = case.old_part(place)
    found = []
    for wire, number, mark in case.before.ends_of_place(place):
        address = f"{place}:{mark}"
        role = case.role_of(case.old_role(address))
        wanted = role is None or role.wants in ("live", "ignition")
        if part and wanted and case.facts.at(address).nature in ("always-live", "ignition-live"):
            found.append((wire, number, address))
    return found


def feed_terminals(case: Case, place: str) -> list[str]:
    """The terminals of the part at a place now that want a feed, one of each node."""
    part = case.part(place)
    found: list[str] = []
    for mark in part.terminals if part else ():
        address = f"{place}:{mark}"
        equal = case.equal_terminals(address)
        if case.wants(address) in ("live", "ignition") and not set(equal) & set(found):
            found.append(address)
    return found


def terminal_for_the_end(case: Case, need: LooseEnd, nature: Nature) -> str | None:
    """The bare terminal of an end's own place that wants a feed of its nature, if it has no home there.

    What the old part gave itself, such as the ignition feed of an ignition switch, is no feed for another.
    """
    place, _ = split_address(need.was)
    part = case.part(place)
    role = case.old_role(need.was)
    if (
        part is None
        or not _is_brought(case, need.was, (nature,))
        or any(t.role == role for t in part.terminals.values() if role)
    ):
        return None
    claims = case.claims(place)
    for mark, terminal in part.terminals.items():
        at = f"{place}:{mark}"
        if case.wants(at) == NATURE_WANTED[nature] and not case.ends_at(at) and terminal.role not in claims:
            return at
    return None


def another_end_feeds(case: Case, need: LooseEnd, at: str) -> bool:
    """Whether a terminal wants a feed that another end of the old part brings, and this end does not."""
    place, _ = split_address(need.was)
    natures = [nature for nature, wants in NATURE_WANTED.items() if wants == case.wants(at) != "earth"]
    if case.facts.at(need.was).nature in natures:
        return False
    part = case.part(place)
    roles = {t.role for t in part.terminals.values()} if part else set()
    came = [f"{place}:{mark}" for _, _, mark in case.before.ends_of_place(place)]
    return any(_is_brought(case, was, natures) and case.old_role(was) not in roles for was in came)


def _is_brought(case: Case, was: str, natures: Collection[Nature]) -> bool:
    """Whether a conductor of some nature came to an old terminal, and did not go out from it."""
    place, mark = split_address(was)
    old = case.old_part(place)
    is_output = old is not None and gives_current(old, case.catalogue, mark)
    return case.facts.at(was).nature in natures and not is_output


def has_own_supply(case: Case, address: str) -> bool:
    """Whether the conductor at an old terminal was fed by something else than the part that sat there."""
    place, _ = split_address(address)
    for other in case.facts.at(address).addresses:
        there, mark = split_address(other)
        part = case.old_part(there)
        if other in case.before.feeds or (
            there != place and part is not None and gives_current(part, case.catalogue, mark)
        ):
            return True
    return False


def belongs_to_regulator(case: Case, first: str, last: str) -> bool:
    """Whether two old terminals have different roles of a generator, which only a regulator may join."""
    roles = {case.old_role(first), case.old_role(last)}
    return len(roles) == 2 and roles <= GENERATOR_ROLES


def has_its_own_fuse(case: Case, address: str) -> bool:
    """Whether a terminal before the job was a side of one of several fuses of its part."""
    place, mark = split_address(address)
    part = case.old_part(place)
    sides = [e.between for e in part.inside if isinstance(e, Fuse)] if part else []
    return len(sides) > 1 and any(mark in pair for pair in sides)


def _rank(point: FeedPoint) -> tuple[bool, bool, bool, bool, bool, float, str]:
    usable = point.has_room or point.takes_piggyback
    return (
        point.fact.fuse is None,
        not usable,
        point.behind_trim,
        not point.is_outlet,
        not point.has_room,
        point.metres,
        point.at,
    )
