"""The position in which a sum is greatest, found without trying them all: variable by variable.

A sum over loads falls apart as the circuit does: each summand asks a few variables only. One variable after
another is maximised away (its best value is noted for every setting of its neighbours), and at the end the
notes are read backwards. Exact, whatever the number of positions. Which variable goes when, and which numbers
meet then, depends on what the summands ask and not on their numbers: it is worked out once (``Sweep``).
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import prod
from typing import TYPE_CHECKING

from planner.currents.sums import Scope, Sizes, Sums, Table
from planner.currents.sweep import Sweep

if TYPE_CHECKING:  # numpy is slow to import
    from planner.currents.curves import Array
    from planner.currents.sweep_many import ManySweep


class Search:
    """Looks for heaviest settings; what it worked out for summands of some scopes is kept."""

    def __init__(self, sizes: Sizes) -> None:
        self.sizes = sizes
        self._sweeps: dict[object, list[Sweep]] = {}
        self._many: dict[int, ManySweep] = {}

    def heaviest(self, sums: Sums, laws: Sequence[Table]) -> dict[int, int] | None:
        """The setting of all variables for which the sum is greatest; None if the laws allow none.

        Of equal settings the one with the lower values is taken, so that what does not matter stays at rest.
        """
        found: dict[int, int] = {}
        for sweep in self._sweeps_of(sums, laws):
            own = sweep.heaviest(sums)
            if own is None:
                return None
            found |= own
        return found

    def heaviest_of_each(
        self, sums: Mapping[Scope, "Array"], laws: Sequence[Table], columns: int
    ) -> list[dict[int, int] | None]:
        """The same for many sums of the same scopes, a column of numbers for each. Needs numpy."""
        from planner.currents.sweep_many import ManySweep  # noqa: PLC0415 - numpy is slow to import

        found: list[dict[int, int] | None] = [{} for _ in range(columns)]
        for sweep in self._sweeps_of(sums, laws):
            if id(sweep) not in self._many:
                self._many[id(sweep)] = ManySweep(sweep, self.sizes)
            values, may_be = self._many[id(sweep)].heaviest(sums, columns)
            own = {variable: each.tolist() for variable, each in values.items()}
            for n, (known, may) in enumerate(zip(found, may_be.tolist(), strict=True)):
                if not may:
                    found[n] = None
                elif known is not None:
                    known.update({variable: each[n] for variable, each in own.items()})
        return found

    def _sweeps_of(self, scopes: Iterable[Scope], laws: Sequence[Table]) -> Sequence[Sweep]:
        """What works out sums of some scopes, planned once."""
        key = (frozenset(scopes), *map(id, laws))
        sweeps = self._sweeps.get(key)
        if sweeps is None:
            sweeps = self._sweeps[key] = list(self._apart(list(scopes), laws))
        return sweeps

    def _apart(self, scopes: Sequence[Scope], laws: Sequence[Table]) -> Iterator[Sweep]:
        """Yield the sweeps that have no variable in common."""
        near: dict[int, set[int]] = {}  # what each variable shares a summand or a law with
        for scope in (*scopes, *(law.scope for law in laws)):
            for variable in scope:
                near.setdefault(variable, set()).update(scope)
        left = dict.fromkeys(near)
        while left:
            stack = [next(iter(left))]
            own = set(stack)
            while stack:
                more = near[stack.pop()] - own
                own |= more
                stack += more
            for variable in own:
                del left[variable]
            order = _order({variable: set(near[variable]) for variable in own}, self.sizes)
            yield Sweep(
                [scope for scope in scopes if scope and scope[0] in own],
                [law for law in laws if law.scope and law.scope[0] in own],
                order,
                self.sizes,
            )


def _order(near: dict[int, set[int]], sizes: Sizes) -> list[int]:
    """Variables in the order in which taking them out joins the smallest tables."""
    weight = {variable: prod(sizes[v] for v in around) for variable, around in near.items()}
    order = []
    while near:
        variable = min(near, key=lambda v: (weight[v], v))
        order.append(variable)
        around = near.pop(variable) - {variable}
        for other in around:
            near[other] = (near[other] | around) - {variable}
            weight[other] = prod(sizes[v] for v in near[other])
    return order
