"""What a rule is shown: one need, the loom before and now, the parts, and what each conductor is.

A case is looked at, never changed, and computes no circuit. The modules beside this one say more of it:
``feeding`` and ``earthing`` what feeds and earths a terminal, ``making`` how a new wire could be made,
``drafting`` the operations a rule can propose, ``suiting`` which parts of the catalogue suit.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.model.catalogue import Catalogue
from planner.model.delta import EndRef, Move
from planner.model.elements import Contact
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.joiners import length_with_joiners, zone_with_joiners
from planner.model.loom import Loom, Place, Wire, split_address
from planner.model.need import Need
from planner.model.old_names import exchanged
from planner.model.part import Part, Role, Terminal, Wants
from planner.model.reach import gives_current
from planner.model.wording import wire_words

UNKNOWN_RANK = 50
_FIRST_CLAUSE_ENDS = re.compile(r" \(|; |\. ")


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
        """A role with its meaning's first clause, ``53 (wiper motor, run)``; of our own words that alone."""
        entry = self.role_of(role)
        if entry is None:
            return role
        clause = _FIRST_CLAUSE_ENDS.split(entry.meaning)[0]
        return clause if entry.source == "ours" else f"{role} ({clause})"

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

    def parts_without_role(self, was: str) -> tuple[Part, Part] | None:
        """The old part and the new one at an old terminal, if the new one has no terminal of its role."""
        place, mark = split_address(was)
        old, new = self.old_part(place), self.part(place)
        if old is None or new is None or mark not in old.terminals:
            return None
        role = old.terminals[mark].role
        has_role = role is not None and any(t.role == role for t in new.terminals.values())
        return None if has_role else (old, new)

    def is_swapped(self, place: str) -> bool:
        """Whether the job puts another part at this place."""
        return any(swap.at == place and swap.changes(self.before) for swap in self.job.swaps)

    def swapped_places(self) -> Iterator[str]:
        """Every place at which the job fits a part, in the job's order."""
        for swap in self.job.swaps:
            if swap.at in self.loom.places and swap.changes(self.before):
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
        words = wire_words(loom.find(wire), end)
        return f"{words} ({wire})" if _has_double(loom, wire, end) else words

    def end_now(self, wire: str, end: int) -> str:
        """The same for an end where it is now: named too where it came to a wire of its colour."""
        words = wire_words(self.loom.find(wire), end)
        return f"{words} ({wire})" if _has_double(self.loom, wire, end) else self.old_end(wire, end)

    def is_unknown(self, was: str) -> bool:
        """Whether nobody can say what the conductor at an old address is, however dead it is drawn.

        One of its ends has not been seen; or nothing is drawn that feeds or earths it, and an end is assumed.
        """
        fact = self.facts.at(was)
        if fact.live != "never" or fact.earthed == "always":
            return False
        names = {wire for a in (was, *fact.addresses) for wire, _ in self.before.ends_at.get(a, ())}
        wires = [self.before.find(name) for name in names]
        return any(end.at == "unknown" for wire in wires for end in wire.ends) or (
            fact.nature == "dead"
            and any(wire.end_known(n) == "assumed" for wire in wires for n in range(len(wire.ends)))
        )

    def is_anybodys_guess(self, wire: str, was: str) -> bool:
        """Whether a wire leads out of sight, and nothing shown says what it brings to its old address.

        Beside another wire it may only carry on what that one brings, which is asked of both.
        """
        leads_out_of_sight = any(end.at == "unknown" for end in self.before.find(wire).ends)
        return leads_out_of_sight and len(self.before.ends_at.get(was, ())) == 1 and self.is_unknown(was)

    # -- ends and room -------------------------------------------------------------------------------------

    def is_switched_at(self, address: str) -> bool:
        """Whether the part at a terminal switches its conductor: taken off it, a wire reads nothing."""
        place, _ = split_address(address)
        return any(name.startswith(f"{place}/") for name in self.facts.at(address).depends_on)

    def is_fed_from_afar(self, wire: str, end: int) -> bool:
        """Whether a wire is fed from its other ends: taken off the terminal of this one it stays live."""
        loom, here = self.before, self.before.find(wire).ends[end].at
        seen, queue = {here}, [e.at for n, e in enumerate(loom.find(wire).ends) if n != end]
        while queue:
            at = queue.pop()
            place, mark = split_address(at)
            if at in seen or at in ("loose", "unknown"):
                continue
            seen.add(at)
            part = self.catalogue.parts[loom.places[place].part] if place in loom.places else None
            if place == "feed" or (part is not None and gives_current(part, self.catalogue, mark)):
                return True
            others = (name for name, _ in loom.ends_at.get(at, ()) if name != wire)
            queue += [e.at for name in others for e in loom.find(name).ends]
        return False

    def ends_together(self, wire: str, end: int) -> tuple[tuple[str, int], ...]:
        """The ends on an end's terminal before, itself among them; alone where it is not on a part."""
        was = self.before.find(wire).ends[end].at
        is_at_part = split_address(was)[0] in self.before.places
        return self.before.ends_at[was] if is_at_part else ((wire, end),)

    def is_unseen(self, wire: str) -> bool:
        """Whether nobody has seen where one of a wire's ends is."""
        return any(end.at == "unknown" for end in self.before.find(wire).ends)

    def reading_end(self, wire: str) -> int | None:
        """The end of an assumed wire at which one reading settles it: where the job works, else the first.

        Where the job works the end itself may be seen, and only what it leads to assumed.
        """
        record = self.before.find(wire)
        ends = [n for n, end in enumerate(record.ends) if end.at != "unknown"]
        assumed = [n for n in ends if record.end_known(n) == "assumed"]
        here = [n for n in ends if self.is_swapped(split_address(record.ends[n].at)[0])]
        return next(iter(here + assumed), None) if assumed else None

    def ends_at(self, address: str) -> tuple[tuple[str, int], ...]:
        """The ends on a terminal now."""
        return self.loom.ends_at.get(address, ())

    def is_middle(self, wire: str, end: int) -> bool:
        """Whether an end is in the middle of a chain: something lies beyond it on either side."""
        return 0 < end < len(self.loom.find(wire).ends) - 1

    def wires_at(self, address: str) -> tuple[tuple[Wire, int], ...]:
        """The wires on a terminal now, each with the number of its end there."""
        return tuple((self.loom.find(wire), number) for wire, number in self.ends_at(address))

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

    def departed_ends(self, place: str) -> Iterator[tuple[str, int, str]]:
        """The same of each end that hangs loose or went to another place."""
        for wire, number, mark in self.before.ends_of_place(place):
            if (
                wire in self.loom.wire_index
                and split_address(self.loom.find(wire).ends[number].at)[0] != place
            ):
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
        """Whether something of the part that passes current on meets a terminal, not just a load."""
        place, mark = split_address(address)
        part = self.part(place)
        return part is not None and mark in part.joints

    def with_part(self, place: str, part: Part) -> Place:
        """A place with another part in it, whose variables go by the names of the part before the job."""
        there, old = self.loom.places[place], self.old_part(place)
        changed = there.model_copy(update={"part": part.part, "known": "measured"})
        return exchanged(changed, old, part) if old else changed.calling({}, {})

    def own_variable(self, place: str, name: str) -> str:
        """What the part at a place now calls a variable that the loom knows by this name."""
        called = self.loom.places[place].called if place in self.loom.places else {}
        own = next((own for own, by_loom in called.items() if by_loom == name), name)
        return f"{name} before the job" if own in called and called[own] != name else own

    # -- paths and positions -------------------------------------------------------------------------------

    def rank_in(self, part: Part, mark: str) -> int:
        """How far a part's terminal is from the live pole, by its role; unknown is midway."""
        terminal = part.terminals.get(mark)
        role = self.role_of(terminal.role) if terminal else None
        return role.rank if role else UNKNOWN_RANK

    def crossings(self, path: tuple[str, ...]) -> Iterator[tuple[str, str, str, str]]:
        """Yield each passage of a path through a part: in, out, where the path came from, where it went."""
        for inside, came, went in self.passages(path):
            yield inside[0], inside[-1], came, went

    def passages(self, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], str, str]]:
        """Yield each passage of a path through a part: its terminals, where it came from and went."""
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
                yield tuple(nodes[start : stop + 1]), nodes[start - 1], nodes[stop + 1]
            start = stop + 1

    def end_between(self, at: str, neighbour: str, *, now: bool = False) -> EndRef | None:
        """The end on a terminal, before the job unless ``now``, whose wire leads to a neighbour."""
        loom = self.loom if now else self.before
        for wire, number in loom.ends_at.get(at, ()):
            leads = any(end.at == neighbour for n, end in enumerate(loom.find(wire).ends) if n != number)
            if leads and wire in self.loom.wire_index and number < len(self.loom.find(wire).ends):
                return wire, number
        return None

    def local_setting(self, place: str, position: Mapping[str, str]) -> dict[str, str]:
        """A position as the part at a place now names its variables: its own without the place."""
        here = {n.partition("/")[2]: v for n, v in position.items() if n.startswith(f"{place}/")}
        own = {self.own_variable(place, name): value for name, value in here.items()}
        return {n: v for n, v in position.items() if "/" not in n} | own

    def zone(self, address: str) -> str | None:
        """The zone an address is in; of a joiner of the plan that which its old ends come from."""
        return zone_with_joiners(self.before, self.loom, address)

    def wire_length(self, from_: str, to: str) -> tuple[float, bool]:
        """Metres of a new wire between two addresses, slack included, and whether it goes behind trim.

        Nominal, and to be measured, where no way is drawn or nobody knows where an end is.
        """
        return length_with_joiners(self.before, self.loom, from_, to)


def _has_double(loom: Loom, wire: str, end: int) -> bool:
    """Whether another wire of the colour that an end shows is on the same terminal."""
    record = loom.find(wire)
    at = record.ends[end].at
    return split_address(at)[0] in loom.places and any(
        other != wire and loom.find(other).end_colour(number) == record.end_colour(end)
        for other, number in loom.ends_at.get(at, ())
    )
