"""What a rule is shown: one need, the loom before and now, the parts, and what each conductor is.

A case answers questions and drafts operations; it changes nothing and computes no circuit.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from planner.engine.costs import MINUTES, MINUTES_A_METRE, MINUTES_BEHIND_TRIM
from planner.model.catalogue import Catalogue
from planner.model.delta import Add, EndRef, Insert, Move, Operation, Piggyback, new_end
from planner.model.elements import Contact, Control, Diode, Flasher, Fuse, Pair
from planner.model.facts import ConductorFact, Facts
from planner.model.job import Job
from planner.model.loom import Loom, Place, Wire, split_address
from planner.model.need import Need
from planner.model.part import Part, Role, Terminal, Wants
from planner.model.reach import END_USERS, conductor, consumers_beyond, gives_current, hanging_on
from planner.model.routes import wire_length, zone_of
from planner.model.wording import address_words, wire_words

NOMINAL_COLOUR = "BK"
UNKNOWN_RANK = 50
LEAD_METRES = 0.15  # the short lead of a part put in line; common practice, no source
_FIRST_CLAUSE_ENDS = re.compile(r" \(|; |\. ")


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


@dataclass(frozen=True)
class SwitchedReturn:
    """A load that its mounting earths now, while before a switch earthed its return."""

    screw: str  # the terminal that the mounting earths
    feed: str  # the load's other terminal
    feeds: tuple[EndRef, ...]  # the ends that feed it, on it or loose
    back: tuple[str, int, str]  # the old return: wire, end number, where it sat


@dataclass(frozen=True)
class Case:
    """A need and everything a rule may look at to settle it."""

    need: Need
    before: Loom
    loom: Loom
    catalogue: Catalogue
    job: Job
    facts: Facts
    taken: frozenset[str] = frozenset()  # wires already used up by this plan, and stock leads as "stock-N"

    # -- parts, terminals and roles ------------------------------------------------------------------------

    def part(self, place: str) -> Part | None:
        """The part at a place now."""
        there = self.loom.places.get(place)
        return self.catalogue.parts.get(there.part) if there else None

    def old_part(self, place: str) -> Part | None:
        """The part at a place before the job."""
        there = self.before.places.get(place)
        return self.catalogue.parts.get(there.part) if there else None

    def terminal(self, address: str) -> Terminal | None:
        """The terminal at an address now."""
        place, mark = split_address(address)
        part = self.part(place)
        return part.terminals.get(mark) if part else None

    def old_terminal(self, address: str) -> Terminal | None:
        """The terminal at an address before the job."""
        place, mark = split_address(address)
        part = self.old_part(place)
        return part.terminals.get(mark) if part else None

    def role(self, address: str) -> str | None:
        """The role of a terminal now; earth for the body, a feed's own role."""
        if address.partition(":")[0] == "earth":
            return "31"
        if address in self.loom.feeds:
            return self.loom.feeds[address].role
        terminal = self.terminal(address)
        return terminal.role if terminal else None

    def old_role(self, address: str) -> str | None:
        """The role of a terminal before the job."""
        if address.partition(":")[0] == "earth":
            return "31"
        if address in self.before.feeds:
            return self.before.feeds[address].role
        terminal = self.old_terminal(address)
        return terminal.role if terminal else None

    def role_of(self, role: str | None) -> Role | None:
        """The entry of roles.yaml."""
        return self.catalogue.roles.get(role) if role else None

    def role_words(self, role: str) -> str:
        """A role with the first clause of its meaning: ``53 (wiper motor, run)``."""
        entry = self.role_of(role)
        return f"{role} ({_FIRST_CLAUSE_ENDS.split(entry.meaning)[0]})" if entry else role

    def role_source(self, role: str) -> str:
        """Where the meaning of a role is published; our own words have no source but practice."""
        entry = self.role_of(role)
        return entry.source if entry and entry.source != "ours" else "common practice, no source"

    def wants(self, address: str) -> Wants:
        """What the terminal at an address cannot do without."""
        terminal = self.terminal(address)
        if terminal is None or terminal.by == "mounting":
            return "nothing"
        if terminal.wants:
            return terminal.wants
        role = self.role_of(terminal.role)
        return role.wants if role else "nothing"

    def old_wants_earth(self, address: str) -> bool:
        """Whether a terminal before the job had to be earthed by a wire."""
        terminal = self.old_terminal(address)
        return terminal is not None and terminal.by == "wire" and self._wants_earth(terminal)

    def earths_by_mounting(self, address: str) -> bool:
        """Whether a terminal is made by the part's mounting and needs earth."""
        terminal = self.terminal(address)
        return terminal is not None and terminal.by == "mounting" and self._wants_earth(terminal)

    def is_earthed_inside(self, address: str) -> bool:
        """Whether the part itself joins a terminal to one that its mounting on metal earths."""
        place, _ = split_address(address)
        return self.loom.places[place].mounting == "metal" and any(
            self.earths_by_mounting(other) for other in self.equal_terminals(address)
        )

    def _wants_earth(self, terminal: Terminal) -> bool:
        role = self.role_of(terminal.role)
        return (terminal.wants or (role.wants if role else "nothing")) == "earth"

    def is_swapped(self, place: str) -> bool:
        """Whether the job puts another part at this place."""
        return any(swap.at == place for swap in self.job.swaps)

    def swapped_places(self) -> Iterator[str]:
        """Every place at which the job fits a part, in the job's order."""
        for swap in self.job.swaps:
            if swap.at in self.loom.places:
                yield swap.at

    def old_zone(self, place: str) -> str | None:
        """The zone a place was in before the job."""
        was = self.before.places.get(place)
        return was.zone if was else None

    def claims(self, place: str) -> frozenset[str]:
        """The roles that the part before at a place had by wire: its own ends claim them first."""
        part = self.old_part(place)
        terminals = part.terminals.values() if part else ()
        return frozenset(t.role for t in terminals if t.role and t.by == "wire")

    def old_end(self, wire: str, end: int) -> str:
        """The wire with an end as people point at it, by its colour there before the job.

        Its name is added where another wire of that colour is on the same terminal.
        """
        loom = self.before if wire in self.before.wire_index else self.loom
        record = loom.find(wire)
        at, words = record.ends[end].at, wire_words(record, end)
        beside = loom.ends_at.get(at, ()) if split_address(at)[0] in loom.places else ()
        alike = any(
            other != wire and loom.find(other).end_colour(number) == record.end_colour(end)
            for other, number in beside
        )
        return f"{words} ({wire})" if alike else words

    # -- ends and room -------------------------------------------------------------------------------------

    def reading_end(self, wire: str) -> int | None:
        """The end of an assumed wire at which one reading settles it: where the job works, else the first.

        Where the job works the end itself may be seen, and only what it leads to assumed.
        """
        record = self.before.find(wire)
        ends = [n for n, end in enumerate(record.ends) if end.at != "unknown"]
        assumed = [n for n in ends if record.end_known(n) == "assumed"]
        here = [n for n in ends if self.is_swapped(split_address(record.ends[n].at)[0])]
        return next(iter(here + assumed), None) if assumed else None

    def leads_left(self, number: int) -> int:
        """How many finished leads of one entry of the stock the plan has not used."""
        lead = self.job.stock[number]
        if f"stock-{number}" not in self.taken:
            return lead.count
        alike = (lead.colour, lead.mm2, lead.metres)
        new = [w for w in self.loom.wires if w.wire not in self.before.wire_index]
        return lead.count - sum((w.colour[0], w.mm2[0], w.metres[0]) == alike for w in new)

    def ends_at(self, address: str) -> tuple[tuple[str, int], ...]:
        """The ends on a terminal now."""
        return self.loom.ends_at.get(address, ())

    def is_middle(self, wire: str, end: int) -> bool:
        """Whether an end is in the middle of a chain: something lies beyond it on either side."""
        return 0 < end < len(self.loom.find(wire).ends) - 1

    def is_fed(self, address: str) -> bool:
        """Whether a wire on a terminal now comes from an address that was live before."""
        for wire, number in self.ends_at(address):
            loom = self.before if wire in self.before.wire_index else self.loom
            others = [end.at for n, end in enumerate(loom.find(wire).ends) if n != number]
            if any(self.facts.at(other).live != "never" for other in others):
                return True
        return False

    def wires_at(self, address: str) -> tuple[tuple[Wire, int], ...]:
        """The wires on a terminal now, each with the number of its end there."""
        return tuple((self.loom.find(wire), number) for wire, number in self.ends_at(address))

    def lengthened_by(self, wire: Wire) -> tuple[tuple[Wire, int], ...]:
        """What a new wire lengthens: the wires with which it shares a joiner, with their ends there."""
        joints = [end.at for end in wire.ends if end.at.startswith("joint:")]
        return tuple(there for at in joints for there in self.wires_at(at) if there[0].wire != wire.wire)

    def colours_near(self, wire: Wire) -> frozenset[str]:
        """The colours of other wires at the places of a wire's ends."""
        places = {split_address(end.at)[0] for end in wire.ends} & set(self.loom.places)
        return frozenset(
            self.loom.find(other).end_colour(number)
            for place in places
            for other, number, _ in self.loom.ends_of_place(place)
            if other != wire.wire
        )

    def named_colour(self, role: str | None) -> str | None:
        """The colour that the loom's scheme names for a role, else the role's own; None if neither does."""
        entry = self.role_of(role)
        return self.loom.scheme.get(role or "") or (entry.colour if entry else None)

    def usual_colour(self, role: str | None) -> str:
        """The colour of a new wire of a role: the one that is named for it, else the nominal one."""
        return self.named_colour(role) or NOMINAL_COLOUR

    def is_colour_of_another(self, colour: str, role: str | None) -> bool:
        """Whether the loom's scheme gives a colour to another role."""
        return any(given == colour for other, given in self.loom.scheme.items() if other != role)

    def suits(self, colour: str, role: str | None, near: Collection[str]) -> bool:
        """Whether a wire of a role may have a colour, given those of its neighbours.

        The colour that is named for the role, if it is free; else, or where none is named, one that no other
        role has in the scheme - with the base colour of the named one.
        """
        named = self.named_colour(role)
        if colour in near:
            return False
        if named is not None and named not in near:
            return colour == named
        is_variant = named is None or colour.partition("/")[0] == named.partition("/")[0]
        return is_variant and not self.is_colour_of_another(colour, role)

    def goes_on(self, fitting: str, address: str) -> bool:
        """Whether an end with this fitting goes on at an address; the body takes rings, joiners take all."""
        terminal = self.terminal(address)
        if terminal is not None and terminal.by == "wire":
            return terminal.takes(fitting)
        if terminal is not None and terminal.usual_end.startswith("ring-"):
            return fitting == terminal.usual_end
        if terminal is not None or split_address(address)[0] == "earth":
            return fitting.startswith("ring-")
        return True

    def end_fitting(self, address: str, body_ring: str) -> str | None:
        """The fitting a new end is given at an address; None where nothing is known of it.

        Under a mounting screw goes a ring of its size, or the ring for the body if its size is not known.
        """
        terminal = self.terminal(address)
        if terminal is not None:
            usual = terminal.usual_end
            return usual if terminal.by == "wire" or usual.startswith("ring-") else body_ring
        if address.startswith("joint:"):
            beside = [w.ends[n].fitting for w, n in self.wires_at(address)]
            return next((fitting for fitting in beside if fitting), "bare")
        return body_ring if split_address(address)[0] == "earth" else None

    def room(self, address: str) -> int:
        """How many more ends a terminal takes as it is; piggybacks fitted count."""
        terminal = self.terminal(address)
        if terminal is None:
            return 99 if address.partition(":")[0] in ("earth", "feed", "joint") else 0
        return terminal.holds + self.loom.piggybacks.count(address) - len(self.ends_at(address))

    def takes_piggyback(self, address: str) -> bool:
        """Whether a piggyback push-on terminal can be fitted."""
        terminal = self.terminal(address)
        return terminal is not None and terminal.piggyback and terminal.fitting.startswith("blade")

    def put(self, wire: str, end: int, to: str) -> Move:
        """Put an end on a terminal, wherever it is now; a cover on it comes off."""
        now = self.loom.find(wire).ends[end]
        was = self.before.find(wire).ends[end].at if wire in self.before.wire_index else now.at
        return Move(wire, end, was, to, now.at, now.covered)

    def freed_ends(self, place: str) -> Iterator[tuple[str, int, str]]:
        """Yield ``(wire, end number, where it sat)`` of each end of the part before that hangs loose now."""
        for wire, number, mark in self.before.ends_of_place(place):
            if wire in self.loom.wire_index and self.loom.find(wire).ends[number].at == "loose":
                yield wire, number, f"{place}:{mark}"

    def equal_terminals(self, address: str) -> tuple[str, ...]:
        """Other terminals of the same part that are always the same node, by contacts without condition."""
        place, mark = split_address(address)
        part = self.part(place)
        if part is None:
            return ()
        group = {mark}
        grown = True
        while grown:
            grown = False
            for element in part.inside:
                if isinstance(element, Contact) and not element.when and group & set(element.join):
                    grown |= not set(element.join) <= group
                    group |= set(element.join)
        return tuple(f"{place}:{m}" for m in part.terminals if m in group and m != mark)

    def switches(self, address: str) -> bool:
        """Whether a contact, fuse, flasher or diode of the part meets a terminal, not just a load."""
        place, mark = split_address(address)
        part = self.part(place)
        for element in part.inside if part else ():
            nodes = element.join if isinstance(element, Contact) else getattr(element, "between", ())
            if mark in nodes and isinstance(element, Contact | Fuse | Flasher | Diode):
                return True
        return False

    def sits_on_conductor(self, address: str, other: str) -> bool:
        """Whether two addresses were on one conductor before."""
        return address == other or other in self.facts.at(address).addresses

    # -- feeds ---------------------------------------------------------------------------------------------

    def feed_points(self, nature: str, near: str) -> list[FeedPoint]:
        """Terminals on conductors of this nature, nearest first; fused and unfused alike.

        ``nature`` is ``always-live``, ``ignition-live`` or ``earth``. Each conductor appears once, at its
        cheapest terminal, and at a load's only where no outlet can be used: the wire to a load was sized for
        that load. At a swapped place only a terminal counts whose wire came from the same role there.
        """
        best: dict[tuple[str, ...], FeedPoint] = {}
        for address, fact in (*self._untouched(), *self._landed()):
            terminal = self.terminal(address)
            if fact.nature != nature or (terminal is not None and terminal.by == "mounting"):
                continue
            if terminal is None and address not in self.loom.feeds:
                continue
            metres, trim = wire_length(self.loom, near, address)
            point = FeedPoint(
                address,
                fact,
                metres,
                trim,
                self.room(address) > 0,
                self.takes_piggyback(address),
                address in self.loom.feeds or self.switches(address) or self._gives_current(address),
            )
            key = fact.addresses or (address,)
            if key not in best or _rank(point) < _rank(best[key]):
                best[key] = point
        return sorted(best.values(), key=_rank)

    def _gives_current(self, address: str) -> bool:
        place, mark = split_address(address)
        part = self.part(place)
        return part is not None and gives_current(part, self.catalogue, mark)

    def _untouched(self) -> Iterator[tuple[str, ConductorFact]]:
        for address, fact in self.facts.by_address.items():
            if not self.is_swapped(split_address(address)[0]):
                yield address, fact

    def _landed(self) -> Iterator[tuple[str, ConductorFact]]:
        for place in self.swapped_places():
            for wire, number, mark in self.loom.ends_of_place(place):
                if wire not in self.before.wire_index:
                    continue
                was = self.before.find(wire).ends[number].at
                role = self.role(f"{place}:{mark}")
                if split_address(was)[0] == place and role is not None and role == self.old_role(was):
                    yield f"{place}:{mark}", self.facts.at(was)

    def nature_on(self, address: str) -> frozenset[str]:
        """What the conductors on a terminal now were before the job."""
        found: set[str] = set()
        for wire, number in self.ends_at(address):
            old = wire in self.before.wire_index
            ends = self.before.find(wire).ends if old else self.loom.find(wire).ends
            found |= {self.facts.at(end.at).nature for n, end in enumerate(ends) if old or n != number}
        return frozenset(found - {"dead"})

    def fed_sibling(self, at: str, nature: str) -> str | None:
        """Another terminal of the part with the same want, a feed of this nature and room for one more end.

        A sibling behind a fuse is passed over if sharing would put both headlamps on that fuse.
        """
        place, mark = split_address(at)
        part = self.part(place)
        lamps = self.headlamps_beyond(at)
        for other in part.terminals if part else ():
            sibling = f"{place}:{other}"
            if (
                other == mark
                or self.wants(sibling) != self.wants(at)
                or nature not in self.nature_on(sibling)
            ):
                continue
            beside = self.headlamps_beyond(sibling)
            fused = any(self.facts.at(a).fuse for a in conductor(self.loom, sibling))
            if fused and not lamps <= beside and len(lamps | beside) > 1:
                continue
            if self.room(sibling) > 0 or self.takes_piggyback(sibling):
                return sibling
        return None

    def is_joined_to_an_end(self, at: str) -> bool:
        """Whether the part itself joins this terminal to one that carries an end."""
        return any(self.ends_at(other) for other in self.equal_terminals(at))

    def feed_choices(self, at: str, nature: str) -> list[tuple[FeedPoint, tuple[Operation, ...]]]:
        """The best two ways to bring a terminal a feed or an earth from an untouched conductor.

        A fused point goes before an unfused one, but no one fuse is given to both headlamps, unless they are
        fed in another way too: then it is the fuse of a flash.
        """
        points = [p for p in self.feed_points(nature, at) if p.has_room or p.takes_piggyback]
        if len({lamp.place for lamp in hanging_on(self.loom, self.catalogue, at, "head")}) > 1:
            points = [p for p in points if p.fact.fuse is None]
        elif any(p.fact.fuse for p in points):
            points = [p for p in points if p.fact.fuse]
        return [(point, self.tap(point.at, at, point.at, self.role(at))) for point in points[:2]]

    def point_words(self, point: FeedPoint) -> str:
        """A feed point as people say it, with what protects it and how far it is."""
        fuse = f"fused with {point.fact.fuse_amps:g} A" if point.fact.fuse_amps else "fused"
        where = address_words(self.loom, point.at)
        trim = ", behind trim" if point.behind_trim else ""
        return f"{where} ({fuse if point.fact.fuse else 'not fused'}, {point.metres:g} m of wire{trim})"

    def headlamps_beyond(self, at: str) -> frozenset[str]:
        """The places of the headlamps that a feed on this terminal reaches."""
        consumers = consumers_beyond(self.loom, self.catalogue, at)
        return frozenset(c.place for c in consumers if c.duty == "head")

    def is_cut_off(self, address: str) -> bool:
        """Whether a terminal is bare, or nothing on its conductor gives it current as before the job."""
        others = conductor(self.loom, address)[1:]
        if not others or self.facts.at(address).live == "never":
            return not others
        return not any(other in self.loom.feeds or self._gives_current(other) for other in others)

    def live_ends_before(self, place: str) -> list[tuple[str, int, str]]:
        """Each end on a feed terminal of the old part, live always or with the ignition.

        ``(wire, end number, address)``; ends on outputs of the old part are not among them.
        """
        part = self.old_part(place)
        found = []
        for wire, number, mark in self.before.ends_of_place(place):
            address = f"{place}:{mark}"
            role = self.role_of(self.old_role(address))
            wanted = role is None or role.wants in ("live", "ignition")
            if part and wanted and self.facts.at(address).nature in ("always-live", "ignition-live"):
                found.append((wire, number, address))
        return found

    def feed_terminals(self, place: str) -> list[str]:
        """The terminals of the part at a place now that want a feed, one of each node."""
        part = self.part(place)
        found: list[str] = []
        for mark in part.terminals if part else ():
            address = f"{place}:{mark}"
            equal = self.equal_terminals(address)
            if self.wants(address) in ("live", "ignition") and not set(equal) & set(found):
                found.append(address)
        return found

    def has_own_supply(self, address: str) -> bool:
        """Whether the conductor at an old terminal was fed by something else than the part that sat there."""
        place, _ = split_address(address)
        for other in self.facts.at(address).addresses:
            there, mark = split_address(other)
            part = self.old_part(there)
            if other in self.before.feeds or (
                there != place and part is not None and gives_current(part, self.catalogue, mark)
            ):
                return True
        return False

    def fuse_sides(self, place: str) -> Iterator[tuple[Fuse, Pair]]:
        """Yield each fuse of the part at a place, with its two terminals."""
        part = self.part(place)
        for element in part.inside if part else ():
            if isinstance(element, Fuse):
                yield element, element.between

    def has_its_own_fuse(self, address: str) -> bool:
        """Whether a terminal before the job was a side of one of several fuses of its part."""
        place, mark = split_address(address)
        part = self.old_part(place)
        sides = [e.between for e in part.inside if isinstance(e, Fuse)] if part else []
        return len(sides) > 1 and any(mark in pair for pair in sides)

    def controls(self, place: str) -> Mapping[str, Control]:
        """The controls of the part at a place now."""
        part = self.part(place)
        return part.controls if part else {}

    def switched_return(self, place: str, what: str | None = None) -> SwitchedReturn | None:
        """The load of a fitted part whose mounting earths it past the switch in its old return."""
        part = self.part(place)
        freed = list(self.freed_ends(place)) if self.is_swapped(place) else []
        returns = [end for end in freed if self.facts.at(end[2]).earthed == "sometimes"]
        live = tuple((wire, end) for wire, end, was in freed if self.facts.at(was).live != "never")
        for load in part.inside if part and returns else ():
            if isinstance(load, END_USERS) and what in (None, load.does):
                screws = [m for m in load.between if self.earths_by_mounting(f"{place}:{m}")]
                marks = [m for m in load.between if m not in screws]
                feeds = tuple(end for m in marks for end in self.ends_at(f"{place}:{m}")) or live
                if screws and marks and feeds:
                    return SwitchedReturn(f"{place}:{screws[0]}", f"{place}:{marks[0]}", feeds, returns[0])
        return None

    def return_facts(self, place: str, found: SwitchedReturn) -> tuple[str, str]:
        """What a switched return was, and what the load has in its place, in words."""
        wire, end, was = found.back
        before = f"{self.old_end(wire, end)} on {address_words(self.before, was)} went to earth only"
        return (
            f"{before} {self.facts.at(was).when}".rstrip(),
            f"{self.loom.place_title(place)} is earthed by its mounting all the time now",
        )

    # -- drafts --------------------------------------------------------------------------------------------

    def draft(self, from_: str, to: str, role: str | None = None, *, tagged: bool = False) -> Add:
        """A new wire between two addresses, its making still open (``Make`` settles it)."""
        entry = self.role_of(role)
        metres, _ = wire_length(self.loom, from_, to)
        name = "new-" + "+".join(part.replace(":", "..").replace("/", ".") for part in (from_, to))
        number = sum(1 for wire in self.loom.wires if wire.wire.startswith(name))
        wire = Wire.model_construct(
            wire=name if not number else f"{name}+{number}",
            colour=(entry.colour if entry and entry.colour else NOMINAL_COLOUR,),
            mm2=(entry.mm2 if entry else 1.5,),
            metres=(metres,),
            ends=(new_end(from_, None), new_end(to, None)),
            known="measured",
            note=None,
        )
        return Add(wire, role, tagged)

    def draft_insert(self, wire: str, end: int, part: Part, enters: str, leaves: str) -> Insert:
        """A two-terminal part put in line just before the terminal that an end is on."""
        at = self.loom.find(wire).ends[end].at
        beside, _ = split_address(at)
        number = 1
        while f"{beside}.{part.family}-{number}" in self.loom.places:
            number += 1
        name = f"{beside}.{part.family}-{number}"
        zone = self.zone(at) or ""
        title = f"{part.title.lower()} at {address_words(self.loom, at)}"
        lead = self.draft(f"{name}:{leaves}", at, self.role(at)).wire
        lead = lead.model_copy(update={"wire": f"lead-{name}", "metres": (LEAD_METRES,)})
        place = Place(part=part.part, zone=zone, mounting="insulated", title=title, known="measured")
        return Insert(wire, end, at, name, place, enters, lead)

    def parts_of(self, family: str) -> list[Part]:
        """The parts of a family that suit the loom's volts, by their names."""
        parts = (p for p in self.catalogue.parts.values() if p.family == family)
        return sorted((p for p in parts if p.volts == self.loom.supply.volts), key=lambda p: p.part)

    def rank_in(self, part: Part, mark: str) -> int:
        """How far a part's terminal is from the live pole, by its role; unknown is midway."""
        terminal = part.terminals.get(mark)
        role = self.role_of(terminal.role) if terminal else None
        return role.rank if role else UNKNOWN_RANK

    def nearest_tap(self, addresses: Iterable[str], near: str) -> str | None:
        """Where on a conductor one more end costs least: with room, or with a piggyback."""

        def cost(address: str) -> tuple[float, str]:
            metres, trim = wire_length(self.loom, near, address)
            tab = MINUTES["piggyback"] if self.room(address) < 1 else 0.0
            return tab + MINUTES_A_METRE * metres + (MINUTES_BEHIND_TRIM if trim else 0.0), address

        free = [a for a in addresses if self.room(a) > 0 or self.takes_piggyback(a)]
        return min(free, key=cost, default=None)

    def tap(self, from_: str, to: str, at: str, role: str | None) -> tuple[Operation, ...]:
        """A new wire between two terminals, with a piggyback first where ``at``, one of them, is full."""
        add = self.draft(from_, to, role)
        return (add,) if self.room(at) > 0 else (Piggyback(at), add)

    def crossings(self, path: tuple[str, ...]) -> Iterator[tuple[str, str, str, str]]:
        """Yield each passage of a path through a part: in, out, where the path came from, where it went."""
        nodes = [node for node in path if "::" not in node]
        start = 0
        while start < len(nodes):
            place = split_address(nodes[start])[0]
            stop = start
            while stop + 1 < len(nodes) and split_address(nodes[stop + 1])[0] == place:
                stop += 1
            if (
                start < stop
                and start > 0
                and stop + 1 < len(nodes)
                and place not in ("joint", "earth", "feed")
            ):
                yield nodes[start], nodes[stop], nodes[start - 1], nodes[stop + 1]
            start = stop + 1

    def end_between(self, at: str, neighbour: str, *, now: bool = False) -> EndRef | None:
        """The end on a terminal, before the job unless ``now``, whose wire leads to a neighbour."""
        loom = self.loom if now else self.before
        for wire, number in loom.ends_at.get(at, ()):
            leads = any(end.at == neighbour for n, end in enumerate(loom.find(wire).ends) if n != number)
            if leads and wire in self.loom.wire_index and number < len(self.loom.find(wire).ends):
                return wire, number
        return None

    def restorations(self, at: str, was: str) -> Iterator[tuple[tuple[Operation, ...], str]]:
        """Yield ways to give a terminal what an old one was joined to: a feed, an earth, a conductor."""
        fact = self.facts.at(was)
        if fact.nature in ("always-live", "ignition-live"):
            for point, operations in self.feed_choices(at, fact.nature):
                yield operations, f"{self.point_words(point)} is {fact.nature.replace('-', ' ')}, as that was"
        elif fact.nature == "earth":
            yield (self.draft(at, f"earth:{self.zone(at)}", "31"),), "that went to earth"
        else:
            now = conductor(self.loom, at)
            other = self.nearest_tap((a for a in fact.addresses if a not in now), at)
            if other is not None:
                words = f"{address_words(self.loom, other)} was on the same conductor"
                yield self.tap(other, at, other, self.role(at)), words

    def local_setting(self, place: str, position: Mapping[str, str]) -> dict[str, str]:
        """A position as the part at a place names its variables: its own without the place."""
        own = {n.partition("/")[2]: v for n, v in position.items() if n.startswith(f"{place}/")}
        return {n: v for n, v in position.items() if "/" not in n} | own

    def zone(self, address: str) -> str | None:
        """The zone an address is in."""
        return zone_of(self.loom, address)


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
