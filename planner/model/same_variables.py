"""Which variable of a new part is which of the old one's: the one matching that everything goes by.

Controls are matched with controls, coils with coils, and so on. An equal name counts where no other variable
shares more positions. The rest go so that most positions are shared; where that leaves a choice, as between
two switches that are both off or on, so that the parts differ least in what is joined and reached, position
by position. What not even that decides is told: whoever shows or proves something has to say so.

A wrong match cannot hide a loss. It is one to one, every position of the old part is compared, and what is
proven under it is that the new part does the same under the names given; only the names could be wrong.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice, permutations, product

from planner.model.elements import Cam, Coil, Control, Flasher, Step
from planner.model.likeness import changes_nothing, differences
from planner.model.paired_positions import positions_of
from planner.model.part import Part
from planner.model.same_positions import count_shared, same_positions

MAX_WAYS = 240  # to match the variables of one kind; beyond that nothing decides
_KINDS = (Control, Coil, Step, Cam, Flasher)
_Names = dict[str, str]  # of a variable of the old part: that of the new


@dataclass(frozen=True, slots=True)
class SameVariables:
    """Each variable of an old part that the new one has too, with its name there.

    ``undecided`` are controls of the old part for which another of the new one would do as well, each with
    all that would.
    """

    names: Mapping[str, str]
    undecided: Mapping[str, tuple[str, ...]]


@lru_cache(maxsize=256)  # rules ask about the two parts of one swap again and again
def match_variables(old: Part, new: Part, *, by_name: bool = True) -> SameVariables:
    """Match the variables of two parts, kind by kind, controls first."""
    names: _Names = {}
    undecided: dict[str, tuple[str, ...]] = {}
    for kind in _KINDS:
        ours, theirs = ([e.name for e in part.inside if isinstance(e, kind)] for part in (old, new))
        shared = _shared(old, new, ours, theirs)
        fixed = [name for name in ours if name in theirs and by_name and _name_counts(name, shared)]
        names |= {name: name for name in fixed}
        left = [name for name in ours if name not in fixed], [name for name in theirs if name not in fixed]
        ways = _assignments(*left, shared)
        if len(ways) > MAX_WAYS:
            open_ = {name: tuple(o for o in left[1] if shared[name, o]) for name in left[0]}
            best = ways[:1]
        else:
            best = _best(old, new, [names | way for way in ways])
            open_ = {name: tuple(dict.fromkeys(way[name] for way in best if name in way)) for name in left[0]}
        names |= best[0]
        if kind is Control:
            undecided = {name: others for name, others in open_.items() if len(others) > 1}
    return SameVariables(names, undecided)


def crossed_names(old: Part, new: Part) -> Mapping[str, str]:
    """Controls that go by their name though another of the new part does their work: which one does."""
    named = match_variables(old, new).names
    by_work = match_variables(old, new, by_name=False).names
    crossed = {n: o for n, o in by_work.items() if n in old.controls and named.get(n) == n != o}
    if crossed and differences(old, new, by_work) < differences(old, new, named):
        return crossed
    return {}


def _shared(old: Part, new: Part, ours: Sequence[str], theirs: Sequence[str]) -> dict[tuple[str, str], int]:
    """How many positions each of some variables shares with each of the other part's."""
    return {
        (one, other): count_shared(same_positions(positions_of(old, one), positions_of(new, other)))
        for one, other in product(ours, theirs)
    }


def _name_counts(name: str, shared: Mapping[tuple[str, str], int]) -> bool:
    """Whether no other variable of either part shares more positions with one than its namesake does."""
    return all(count <= shared[name, name] for pair, count in shared.items() if name in pair)


def _assignments(
    ours: Sequence[str], theirs: Sequence[str], shared: Mapping[tuple[str, str], int]
) -> list[_Names]:
    """The ways to pair two lists of names with the most positions shared, that in their order first."""
    size = min(len(ours), len(theirs))
    ways: dict[frozenset[tuple[str, str]], int] = {}
    for chosen in islice(permutations(theirs if len(ours) == size else ours, size), MAX_WAYS + 1):
        pairs = zip(ours, chosen, strict=True) if len(ours) == size else zip(chosen, theirs, strict=True)
        kept = frozenset(pair for pair in pairs if shared[pair])
        ways[kept] = sum(shared[pair] for pair in kept)
    most = max(ways.values(), default=0)
    return [{n: dict(way)[n] for n in ours if n in dict(way)} for way, count in ways.items() if count == most]


def _best(old: Part, new: Part, ways: Sequence[_Names]) -> list[_Names]:
    """The ways in which the two parts differ least; of such as change nothing of the new part, one."""
    if len(ways) == 1:
        return [*ways]
    costs = [differences(old, new, way) for way in ways]
    best = [way for way, cost in zip(ways, costs, strict=True) if cost == min(costs)]
    first = best[0]
    return [first] + [way for way in best[1:] if not changes_nothing(new, first, way)]
