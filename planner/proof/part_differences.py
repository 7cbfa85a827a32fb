"""Two parts in one position under one pairing of their terminals: what is kept, lost, changed or new.

Joints are compared by conductor: of the terminals on one, each is joined to the one nearest to the live pole.
Which joints differ follows from that alone, since what is joined to the same terminal is joined together.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from planner.proof.part_facts import SUPPLY, End, LoadFact, Node, Snapshot, is_named

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
class OverAll:
    """What the other part does in every position, and in any: joints both ways, loads with their ends."""

    always_joined: frozenset[tuple[Node, Node]] = frozenset()
    ever_joined: frozenset[tuple[Node, Node]] = frozenset()
    always_loads: frozenset[tuple[str, tuple[End, End]]] = frozenset()
    ever_loads: frozenset[tuple[str, tuple[End, End]]] = frozenset()


@dataclass(frozen=True)
class Naming:
    """A pairing of terminals as names: a paired terminal of the other part goes by the original's mark.

    ``nodes`` renames the terminals of both parts, ``marks`` gives the other part's mark of a node,
    ``rank`` the place of a node on the way from the live pole to earth, ``is_fed`` whether a terminal
    that only the other part has is always live once it has its feed; ``over_all`` is what the
    other part does over all positions.
    """

    nodes: Mapping[Node, Node]
    marks: Mapping[Node, str]
    rank: Callable[[Node], int]
    is_fed: Callable[[Node], bool]
    is_earth: Callable[[Node], bool]
    over_all: OverAll = OverAll()

    def anchor(self, group: End) -> Node:
        """The node of a conductor that is nearest to the live pole."""
        return min(group, key=lambda node: (self.rank(node), node))

    def place(self, fact: LoadFact, in_other: bool) -> str:
        """Where a load sits, in the marks of its part."""
        said = [self._said(end, home, in_other) for end, home in zip(fact.ends, fact.homes, strict=True)]
        joint = "from {} to {}" if fact.is_polarised else "between {} and {}"
        return (f"{fact.value} " if fact.value else "") + joint.format(*said)

    def _said(self, end: End, home: Node | None, in_other: bool) -> str:
        if not end:
            return "nothing"
        node = home or self.anchor(end)
        if node[0] == "inner":
            return f"the {node[1]} inside"
        return self.marks.get(node, node[1]) if in_other else node[1]


def differences(original: Snapshot, other: Snapshot, naming: Naming) -> list[Difference]:
    """Compare two snapshots that already go by the names of the pairing."""
    return [*_joints(original, other, naming), *_loads(original, other, naming)]


def joints(snapshot: Snapshot, naming: Naming) -> set[tuple[Node, Node]]:
    """Each terminal with the one of its conductor that is nearest to the live pole."""
    found = set()
    for group in snapshot.groups:
        anchor = naming.anchor(group)
        found |= {(anchor, node) for node in group if node != anchor}
    return found


def _joints(original: Snapshot, other: Snapshot, naming: Naming) -> Iterator[Difference]:
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
            and instead not in naming.over_all.always_joined
            and (from_, to) in naming.over_all.ever_joined
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
        where = naming.place(fact, False), naming.place(same, True)
        is_same_value = fact.value == same.value
        yield Difference(
            fact.what, *where, "kept" if is_same_value else "changed", (fact.element, same.element)
        )
    for fact in waiting:
        moved = next((f for f in left if f.what == fact.what and _may_be(fact, f)), None)
        if moved is None:
            # To need no supply of its own is no loss.
            if not fact.what.startswith(SUPPLY):
                yield Difference(fact.what, naming.place(fact, False), NOT_THERE, "lost")
            continue
        left.remove(moved)
        where = naming.place(fact, False), naming.place(moved, True)
        if _runs_by_itself(fact, moved, naming):
            where = where[0], f"{where[1]}, so it works as long as it is fed"
        outcome: Outcome = "changed"
        better = _what_is_better(fact, moved, naming)
        if better:
            outcome, where = "gained", (where[0], f"{where[1]}, {better}")
        yield Difference(fact.what, *where, outcome, (fact.element, moved.element))
    for fact in left:
        is_paired = all(node[0] == "both" for end in fact.ends for node in end)
        yield Difference(
            fact.what,
            NOT_THERE,
            naming.place(fact, True),
            "unintended" if is_paired else "gained",
        )


def _alike(one: LoadFact, other: LoadFact) -> bool:
    """Whether a load sits between the same conductors in both parts."""
    return any(all(map(_same_end, pairs)) for pairs in _ways(one, other))


def _same_end(pair: "_EndPair") -> bool:
    """Whether an end is at the same terminal, or at two that are joined in both parts."""
    (old, old_home), (new, new_home) = pair
    if old_home and new_home:
        return old_home == new_home or (old_home in new and new_home in old)
    return bool(old & new) or old == new


def _may_be(one: LoadFact, other: LoadFact) -> bool:
    """Whether a load is the same one at another place; a nameless one must share an end."""
    return is_named(one.what) or any(any(map(_same_end, pairs)) for pairs in _ways(one, other))


def _what_is_better(one: LoadFact, other: LoadFact, naming: Naming) -> str:
    """Why a load works whenever it did once the other part has its own feed and earth; empty if it may not.

    One end stays; the other moves to an own feed that is always live, the return still being switched, or
    to an own earth, the old return still being used in another position.
    """
    for pairs in _ways(one, other):
        for stays, moves in (pairs, pairs[::-1]):
            old, new = moves[0][0], moves[1][0]
            if not _same_end(stays) or not old or not new:
                continue
            before, now = naming.anchor(old), naming.anchor(new)
            is_fed = naming.is_fed(now) and naming.rank(now) <= naming.rank(before)
            if is_fed and not any(naming.is_earth(node) for node in stays[1][0]):
                return f"works without {before[1]} too"
            is_earthed = any(naming.is_earth(node) and node[0] == OTHER for node in new)
            still = any(w == other.what and before in a | b for w, (a, b) in naming.over_all.ever_loads)
            if is_earthed and still:
                return f"works without {before[1]} too"
    return ""


def _runs_by_itself(one: LoadFact, other: LoadFact, naming: Naming) -> bool:
    """Whether a load has lost its switched return to an earth that is always there."""
    return (
        (other.what, other.ends) in naming.over_all.always_loads
        and any(naming.is_earth(node) for end in other.ends for node in end)
        and not any(naming.is_earth(node) for end in one.ends for node in end)
    )


_EndAt = tuple[End, "Node | None"]
_EndPair = tuple[_EndAt, _EndAt]


def _ways(one: LoadFact, other: LoadFact) -> list[tuple[_EndPair, _EndPair]]:
    """The ends of two loads side by side, and turned round where neither minds its direction."""
    (a, b), (c, d) = ([*zip(fact.ends, fact.homes, strict=True)] for fact in (one, other))
    if one.is_polarised and other.is_polarised:
        return [((a, c), (b, d))]
    return [((a, c), (b, d)), ((a, d), (b, c))]
