"""Which terminal of one part takes the place of which terminal of another.

Roles come first, and an equal mark with another role is never a pair. Where a role is there more than once,
the pairs that change least are taken. What has no role, as on a part that was only measured, goes by its
contacts, then by its mark, then so that least differs. Last, a terminal with another role is taken where it
does the very same and wants the same. Where a plan has settled it for a loom, the plan goes first.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import permutations, product
from math import perm, prod
from types import MappingProxyType

from planner.model.part import Part, Terminal
from planner.model.terminal_maps import map_terminals
from planner.proof.part_bench import Bench, Pair, Pairing
from planner.proof.part_differences import ORIGINAL, OTHER, joints

MAX_CHOICES = 240


def pair_terminals(bench: Bench, settled: Mapping[str, str | None] = MappingProxyType({})) -> Pairing:
    """Pair the terminals of two parts; ``settled`` are pairs of a plan, None for what it left apart."""
    search = _Search(bench, frozenset(mark for mark, other in settled.items() if other is None))
    search.pairs += [Pair(mark, other, "the plan puts it there") for mark, other in settled.items() if other]
    search.by_role()
    search.by_contacts()
    search.by_mark()
    search.by_likeness()
    search.by_purpose()
    return search.with_neighbours()


class _Search:
    def __init__(self, bench: Bench, apart: frozenset[str]) -> None:
        self.bench, self.apart = bench, apart
        self.old, self.new = bench.original.terminals, bench.other.terminals
        self.pairs: list[Pair] = []

    def by_role(self) -> None:
        """Pair equal roles; of several ways the one that changes least, marks and places kept."""
        groups = []
        for role in dict.fromkeys(t.role for t in self.old.values() if t.role):
            ours = [mark for mark in self._left(self.old, "original") if self.old[mark].role == role]
            theirs = [mark for mark in self._left(self.new, "other") if self.new[mark].role == role]
            if ours and theirs:
                groups.append((f"same purpose ({role})", ours, theirs))
        plain = [g for g in groups if len(g[1]) == len(g[2]) == 1]
        for why, ours, theirs in plain:
            self.pairs.append(Pair(ours[0], theirs[0], why))
        several = [g for g in groups if g not in plain]
        size = prod(perm(max(len(g[1]), len(g[2])), min(len(g[1]), len(g[2]))) for g in several)
        # Role by role where there are too many ways to look at all roles together.
        for batch in [several] if size <= MAX_CHOICES else [[group] for group in several]:
            ways = product(*(list(_ways(*group)) for group in batch))
            self._take_best([[pair for way in choice for pair in way] for choice in ways])

    def by_contacts(self) -> None:
        """Pair what has no role by which terminals it is joined to in which position."""
        if all(t.role for t in (*self.old.values(), *self.new.values())):
            return
        fixed = {p.original: p.other for p in self.pairs}
        ways = []
        wired = [mark for mark, t in self.old.items() if t.by == "wire"]
        for mapping in map_terminals(self.bench.original, self.bench.other, wired):
            if all(self._is_one_node(mapping.get(ours, theirs), theirs) for ours, theirs in fixed.items()):
                free = {o: n for o, n in mapping.items() if o not in self.apart}
                more = {o: n for o, n in free.items() if o not in fixed and n not in fixed.values()}
                if len(set(more.values())) == len(more):
                    ways.append([Pair(o, n, "same contacts") for o, n in more.items()])
        self._take_best(ways)

    def _is_one_node(self, one: str, other: str) -> bool:
        return one == other or ((OTHER, one), (OTHER, other)) in self.bench.always_joined[1]

    def by_mark(self) -> None:
        """Pair equal marks where nobody knows what the other part's is for."""
        for mark in self._left(self.old, "original"):
            both_unknown = mark in self.new and not self.old[mark].role and not self.new[mark].role
            both_used = mark in self._left_unknown() and _does_something(self.bench.original, mark)
            if mark in self._left(self.new, "other") and (both_unknown or both_used):
                self.pairs.append(Pair(mark, mark, "same mark, purpose not known"))

    def by_likeness(self) -> None:
        """Pair what nobody knows the purpose of so that least differs, if there are few ways to try."""
        left = [m for m in self._left(self.old, "original") if self.old[m].by == "wire"]
        ours = [m for m in left if _does_something(self.bench.original, m)]
        theirs = self._left_unknown()
        if perm(max(len(ours), len(theirs)), min(len(ours), len(theirs))) > MAX_CHOICES:
            return
        ways = list(_ways("least differs so; its purpose is not known", ours, theirs))
        self._take_best([way for way in ways if self._cost([*self.pairs, *way]) < self._cost(self.pairs)])

    def by_purpose(self) -> None:
        """Pair unlike roles where nothing differs and the same is wanted; never equal marks, never earth."""
        taken = True
        while taken:
            taken = False
            now = self._cost(self.pairs)
            tries = []
            for ours, theirs in product(self._left(self.old, "original"), self._left(self.new, "other")):
                if self._may_stand_for(ours, theirs):
                    more = [*self.pairs, Pair(ours, theirs, "does the same; its purpose is called otherwise")]
                    if self._touching(more, ours) == 0:
                        tries.append((self._cost(more), more))
            if tries and min(tries, key=lambda t: t[0])[0] < now:
                self.pairs = min(tries, key=lambda t: t[0])[1]
                taken = True

    def with_neighbours(self) -> Pairing:
        """Add terminals that are one node with a paired one of their own part."""
        joined = [{(a[1], b[1]) for a, b in self.bench.always_joined[which]} for which in (0, 1)]
        partners = {p.original: p.other for p in self.pairs}
        pairs = list(self.pairs)
        for mark in self._left(self.old, "original"):
            near = next((m for m in self.old if m in partners and (mark, m) in joined[0]), None)
            if near is not None:
                pairs.append(Pair(mark, partners[near], f"always joined to {near} in the original"))
        spare = {}
        for mark in self._left(self.new, "other"):
            near = next((m for m in self.new if m in partners.values() and (mark, m) in joined[1]), None)
            if near is not None:
                spare[mark] = near
        order = list(self.old)
        ordered = tuple(sorted(pairs, key=lambda p: order.index(p.original)))
        return self._bridge(Pairing(ordered, spare, apart=self.apart))

    def _bridge(self, pairing: Pairing) -> Pairing:
        """Link terminals of one purpose where the original had one for all, if that settles a difference."""
        for mark, terminal in self.new.items():
            like = next(
                (m for m in self.new if m in pairing.taken and self.new[m].role == terminal.role), None
            )
            if terminal.role and like and mark not in pairing.taken and mark not in pairing.spare:
                linked = replace(pairing, bridged={**pairing.bridged, mark: like})
                if self._count(linked) < self._count(pairing):
                    pairing = linked
        return pairing

    def _may_stand_for(self, ours: str, theirs: str) -> bool:
        old, new = self.old[ours], self.new[theirs]
        return (
            ours != theirs
            and bool(old.role and new.role)
            and old.by == new.by == "wire"
            and self.bench.wants_of(old) == self.bench.wants_of(new) != "earth"
        )

    def _left_unknown(self) -> list[str]:
        """Terminals of the other part without a role or partner, but with something inside to go by."""
        left = [mark for mark in self._left(self.new, "other") if not self.new[mark].role]
        return [mark for mark in left if _does_something(self.bench.other, mark)]

    def _left(self, terminals: Mapping[str, Terminal], side: str) -> list[str]:
        used = {getattr(pair, side) for pair in self.pairs} | (self.apart if side == "original" else set())
        return [mark for mark in terminals if mark not in used]

    def _take_best(self, ways: Sequence[list[Pair]]) -> None:
        if len(ways) == 1:
            self.pairs += ways[0]
        elif ways:
            best = min(ways, key=self._order_of_merit)
            self.pairs += best

    def _order_of_merit(self, way: list[Pair]) -> tuple[int, int, int, int, list[tuple[int, int]]]:
        old, new = list(self.old), list(self.new)
        places = [(old.index(p.original), new.index(p.other)) for p in way]
        return (
            self._cost([*self.pairs, *way]),
            -sum(p.original == p.other for p in way),
            -sum(self.old[p.original].face == self.new[p.other].face for p in way),
            sum(abs(one - other) for one, other in places),
            sorted(places),
        )

    def _cost(self, pairs: Sequence[Pair]) -> int:
        return self._count(Pairing(tuple(pairs)))

    def _touching(self, pairs: Sequence[Pair], mark: str) -> int:
        """How many differences there are about one terminal of the original."""
        naming = self.bench.naming(Pairing(tuple(pairs)))
        node = naming.nodes[ORIGINAL, mark]
        count = 0
        for position in self.bench.compared:
            for ours, theirs in product(position.original, position.other):
                snapshots = (
                    self.bench.facts[0].at(ours).renamed(naming.nodes),
                    self.bench.facts[1].at(theirs).renamed(naming.nodes),
                )
                ends = [{f.what for f in s.loads if any(node in end for end in f.ends)} for s in snapshots]
                pairs_there = [
                    {
                        pair
                        for pair in joints(s, naming)
                        if node in pair and "both" == pair[0][0] == pair[1][0]
                    }
                    for s in snapshots
                ]
                count += len(ends[0] ^ ends[1]) + len(pairs_there[0] ^ pairs_there[1])
        return count

    def _count(self, pairing: Pairing) -> int:
        """How much differs, position by position."""
        naming = self.bench.naming(pairing)
        return sum(
            difference.outcome != "kept"
            for position in self.bench.compared
            for found in self.bench.compare(position, naming)
            for difference in found
        )


def _does_something(part: Part, mark: str) -> bool:
    """Whether anything inside is on a terminal: a contact of a socket that is not allotted has nothing."""
    nodes = [getattr(e, "join", None) or getattr(e, "between", None) or () for e in part.inside]
    return any(mark in on for on in nodes)


def _ways(why: str, ours: Sequence[str], theirs: Sequence[str]) -> Iterator[list[Pair]]:
    """Yield every way to pair two lists as far as the shorter one goes."""
    if len(ours) <= len(theirs):
        for chosen in permutations(theirs, len(ours)):
            yield [Pair(o, n, why) for o, n in zip(ours, chosen, strict=True)]
    else:
        for chosen in permutations(ours, len(theirs)):
            yield [Pair(o, n, why) for o, n in zip(chosen, theirs, strict=True)]
