"""Two parts in one position under one pairing of their terminals: what is kept, lost, changed or new.

Joints are compared by conductor: of the terminals on one, each is joined to the one nearest to the live pole.
Which joints differ follows from that alone, since what is joined to the same terminal is joined together.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from planner.proof.part_facts import End, LoadFact, Node, Snapshot, is_named

Outcome = Literal["kept", "lost", "changed", "unintended", "gained"]
ORIGINAL, OTHER = "original", "other"
NOT_THERE = "none"


@dataclass(frozen=True, slots=True)
class Difference:
    """What one thing does in each part; ``elements`` says where a load stands in them."""

    what: str
    original: str
    other: str
    outcome: Outcome
    elements: tuple[int, int] | None = None


@dataclass(frozen=True)
class Naming:
    """A pairing of terminals as names: a paired terminal of the other part goes by the original's mark.

    ``nodes`` renames the terminals of both parts, ``marks`` gives the other part's mark of a node,
    ``rank`` the place of a node on the way from the live pole to earth, ``is_fed`` whether a terminal
    that only the other part has is always live once it has its feed.
    """

    nodes: Mapping[Node, Node]
    marks: Mapping[Node, str]
    rank: Callable[[Node], int]
    is_fed: Callable[[Node], bool]
    is_earth: Callable[[Node], bool]

    def anchor(self, group: End) -> Node:
        """The node of a conductor that is nearest to the live pole."""
        return min(group, key=lambda node: (self.rank(node), node))

    def in_original(self, end: End) -> str:
        """An end in the original's marks."""
        return self._said(end, lambda node: node[1])

    def in_other(self, end: End) -> str:
        """An end in the other part's marks."""
        return self._said(end, lambda node: self.marks.get(node, node[1]))

    def _said(self, end: End, called: Callable[[Node], str]) -> str:
        if not end:
            return "nothing"
        node = self.anchor(end)
        return f"the {node[1]} inside" if node[0] == "inner" else called(node)


def differences(
    original: Snapshot, other: Snapshot, naming: Naming, always_fed: frozenset[tuple[Node, Node]]
) -> list[Difference]:
    """Compare two snapshots that already go by the names of the pairing.

    ``always_fed`` are joints that the other part makes in every position.
    """
    return [*_joints(original, other, naming, always_fed), *_loads(original, other, naming)]


def joints(snapshot: Snapshot, naming: Naming) -> set[tuple[Node, Node]]:
    """Each terminal with the one of its conductor that is nearest to the live pole."""
    found = set()
    for group in snapshot.groups:
        anchor = naming.anchor(group)
        found |= {(anchor, node) for node in group if node != anchor}
    return found


def _joints(
    original: Snapshot, other: Snapshot, naming: Naming, always_fed: frozenset[tuple[Node, Node]]
) -> Iterator[Difference]:
    where = [{node: group for group in s.groups for node in group} for s in (original, other)]
    ours, theirs = joints(original, naming), joints(other, naming)
    for from_, to in sorted(ours):
        if from_ in where[1].get(to, frozenset()):
            yield Difference(f"{from_[1]} with {to[1]}", "joined", "joined", "kept")
    lost = sorted((f, t) for f, t in ours if f not in where[1].get(t, frozenset()))
    new = sorted((f, t) for f, t in theirs if f not in where[0].get(t, frozenset()))
    for from_, to in lost:
        instead = next((pair for pair in new if pair[1] == to), None)
        if instead is None:
            there = "not joined" if {from_[0], to[0]} <= {"both"} else NOT_THERE
            yield Difference(f"{from_[1]} with {to[1]}", "joined", there, "lost")
            continue
        new.remove(instead)
        source = instead[0]
        is_as_good = (
            naming.is_fed(source)
            and naming.rank(source) <= naming.rank(from_)
            and not naming.is_earth(to)
            and instead not in always_fed
        )
        there = f"joined to {naming.marks.get(source, source[1])}" + (", always live" if is_as_good else "")
        yield Difference(to[1], f"joined to {from_[1]}", there, "gained" if is_as_good else "changed")
    for from_, to in new:
        is_paired = from_[0] == to[0] == "both"
        marks = [naming.marks.get(node, node[1]) for node in (from_, to)]
        what = f"{from_[1]} with {to[1]}" if is_paired else f"{marks[0]} with {marks[1]} of the other"
        here = "not joined" if is_paired else NOT_THERE
        yield Difference(what, here, "joined", "unintended" if is_paired else "gained")


def _loads(original: Snapshot, other: Snapshot, naming: Naming) -> Iterator[Difference]:
    left = list(other.loads)
    waiting = []
    for fact in original.loads:
        same = next((f for f in left if f.what == fact.what and _alike(fact, f)), None)
        if same is None:
            waiting.append(fact)
            continue
        left.remove(same)
        where = _place(fact, naming.in_original), _place(same, naming.in_other)
        is_same_value = fact.value == same.value
        yield Difference(
            fact.what, *where, "kept" if is_same_value else "changed", (fact.element, same.element)
        )
    for fact in waiting:
        moved = next((f for f in left if f.what == fact.what and _may_be(fact, f)), None)
        if moved is None:
            yield Difference(fact.what, _place(fact, naming.in_original), NOT_THERE, "lost")
            continue
        left.remove(moved)
        where = _place(fact, naming.in_original), _place(moved, naming.in_other)
        outcome: Outcome = "gained" if _is_fed_as_well(fact, moved, naming) else "changed"
        yield Difference(fact.what, *where, outcome, (fact.element, moved.element))
    for fact in left:
        is_paired = all(node[0] == "both" for end in fact.ends for node in end)
        yield Difference(
            fact.what,
            NOT_THERE,
            _place(fact, naming.in_other),
            "unintended" if is_paired else "gained",
        )


def _alike(one: LoadFact, other: LoadFact) -> bool:
    return any(all(a & b or a == b for a, b in pairs) for pairs in _ways(one, other))


def _may_be(one: LoadFact, other: LoadFact) -> bool:
    """Whether a load is the same one at another place; a nameless one must share an end."""
    return is_named(one.what) or any(a & b for pairs in _ways(one, other) for a, b in pairs)


def _is_fed_as_well(one: LoadFact, other: LoadFact, naming: Naming) -> bool:
    """Whether a load only gets a feed that is live whenever the old one was, its switched return kept."""
    for pairs in _ways(one, other):
        for (old_feed, new_feed), (old_back, new_back) in (pairs, pairs[::-1]):
            if not old_feed or not new_feed or not old_back & new_back:
                continue
            source = naming.anchor(new_feed)
            if (
                naming.is_fed(source)
                and naming.rank(source) <= naming.rank(naming.anchor(old_feed))
                and not any(naming.is_earth(node) for node in new_back)
            ):
                return True
    return False


def _ways(one: LoadFact, other: LoadFact) -> list[Sequence[tuple[End, End]]]:
    straight = list(zip(one.ends, other.ends, strict=True))
    if one.is_polarised and other.is_polarised:
        return [straight]
    return [straight, list(zip(one.ends, other.ends[::-1], strict=True))]


def _place(fact: LoadFact, said: Callable[[End], str]) -> str:
    joint = "from {} to {}" if fact.is_polarised else "between {} and {}"
    return (f"{fact.value} " if fact.value else "") + joint.format(*(said(end) for end in fact.ends))
