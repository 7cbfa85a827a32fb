"""How much two parts differ, position by position, if their variables are matched in some way."""

from collections import Counter
from collections.abc import Mapping
from itertools import combinations

from planner.model.contact_table import ContactTable
from planner.model.paired_positions import one_at_a_time, paired_positions
from planner.model.part import Part


def changes_nothing(new: Part, one: Mapping[str, str], other: Mapping[str, str]) -> bool:
    """Whether a part does the same at each terminal if what two ways exchange is exchanged."""
    turned = {theirs: other[name] for name, theirs in one.items() if name in other}
    ours, theirs = paired_positions(new, new, turned)
    if turned.keys() != set(turned.values()) or not ours:
        return False
    tables = ContactTable(new, ours, {}), ContactTable(new, theirs, {v: k for k, v in turned.items()})
    marks = {mark: mark for mark in new.terminals}
    return _positionwise(tables[0], marks) == _positionwise(tables[1], marks)


def differences(old: Part, new: Part, names: Mapping[str, str]) -> tuple[int, int, int]:
    """How much differs by purpose; then by what goes together, whatever it is called; then by mark."""
    ours, theirs = paired_positions(old, new, names)
    if not ours:
        ours, theirs = one_at_a_time(old, new, names)
    one = ContactTable(old, ours, {})
    two = ContactTable(new, theirs, {theirs_: ours_ for ours_, theirs_ in names.items()})
    roles = [{m: t.role for m, t in p.terminals.items() if t.role} for p in (old, new)]
    marks = [{m: f"{m} for {t.role}" for m, t in p.terminals.items()} for p in (old, new)]
    return (
        _distance(_positionwise(one, roles[0]), _positionwise(two, roles[1])),
        _distance(_together(one), _together(two)),
        _distance(_positionwise(one, marks[0]), _positionwise(two, marks[1])),
    )


def _positionwise(table: ContactTable, called: Mapping[str, str]) -> Counter[object]:
    """What is joined and reached in each position, terminals by what they are called."""
    found: Counter[object] = Counter()
    for one, other in combinations(called, 2):
        ends = frozenset((called[one], called[other]))
        found.update((number, ends) for number, is_so in enumerate(table.joined(one, other)) if is_so)
    every = table.element_ends()
    for mark, name in called.items():
        for number, reached in enumerate(table.elements_at(mark, every)):
            found.update((number, name, end) for end in reached)
    return found


def _together(table: ContactTable) -> Counter[object]:
    """In which positions any two terminals are joined or one reaches something, without their names."""
    every = table.element_ends()
    found: Counter[object] = Counter(
        joined for pair in combinations(table.part.terminals, 2) if any(joined := table.joined(*pair))
    )
    for mark in table.part.terminals:
        reached = table.elements_at(mark, every)
        found.update((end, tuple(end in ends for ends in reached)) for end in frozenset().union(*reached))
    return found


def _distance(one: Counter[object], other: Counter[object]) -> int:
    return (one - other).total() + (other - one).total()
