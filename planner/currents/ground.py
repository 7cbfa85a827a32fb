"""What counts in a search besides what is wanted, and the laws that hold: worked out once for all alike."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from planner.currents.found import Assignment
from planner.currents.hidden import Hidden
from planner.currents.positions import Positions
from planner.currents.sums import Scope, Sums, Table, added

QUIET_SHARE = 1e-3  # how much less an ampere that is not asked for counts than one that is

Group = tuple[int, ...]  # parts of the loom that are searched together


class Ground:
    """What all searches of one loom stand on."""

    def __init__(self, positions: Positions, hidden: Hidden) -> None:
        self.positions, self.hidden = positions, hidden
        self._known: dict[object, tuple[Sums, Sequence[Table]]] = {}

    def of(
        self, group: Group, scopes: Iterable[Scope], held: Assignment, quiet: bool, lasting: bool
    ) -> tuple[Sums, Sequence[Table]]:
        """What is the same in all searches that ask the same: what else counts, and the laws."""
        kind = (group, tuple(held.items()), quiet, lasting, frozenset(scopes))
        if kind not in self._known:
            self._known[kind] = self._new(group, scopes, held, quiet, lasting)
        return self._known[kind]

    def _new(
        self, group: Group, scopes: Iterable[Scope], held: Assignment, quiet: bool, lasting: bool
    ) -> tuple[Sums, Sequence[Table]]:
        found = dict(self.hidden.only(held))
        if quiet:
            for part in group:
                add_sums(found, self._quiet.get(part, {}))
        laws = self.hidden.laws(v for scope in (*found, *scopes) for v in scope)
        if lasting:
            asked = {v for scope in (*found, *scopes, *(law.scope for law in laws)) for v in scope}
            stays = self.positions.lasting
            add_sums(found, {scope: own for scope, own in stays.items() if scope[0] in asked})
        return found, laws

    @cached_property
    def _quiet(self) -> Mapping[int, Sums]:
        """What loads take, as a small reproach, part by part: of equal positions the quietest is best."""
        parts: dict[int, dict[Scope, list[float]]] = {}
        for table in self.positions.loads.values():
            own = [-QUIET_SHARE * amps for amps in table.rows.values()]
            add_sums(parts.setdefault(self.positions.parts.of(table.scope), {}), {table.scope: own})
        return parts


def add_sums(into: dict[Scope, list[float]], sums: Sums) -> None:
    """Add sums to those of some scopes."""
    for scope, own in sums.items():
        into[scope] = added(into[scope], own) if scope in into else own
