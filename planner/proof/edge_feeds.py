"""When a conductor is live, as a feed at the edge of a partial loom can say it: each variable by itself."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from itertools import product
from math import prod

from planner.circuit.network import EARTH, HIDDEN_KINDS, Variable, node_of
from planner.circuit.tree import Function
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.proof.facts import MOST_SETTINGS_IN_WORDS, Joints


@dataclass(frozen=True, slots=True)
class LiveWhen:
    """The controls and conditions that make a conductor live, each with the labels at which it may stand.

    ``is_exact`` is false where no such list says it: an "or" between two variables, or a relay's state.
    """

    variables: tuple[Variable, ...]
    labels: tuple[tuple[str, ...], ...]
    is_exact: bool = True


def live_when(loom: Loom, catalogue: Catalogue, addresses: Collection[str]) -> Mapping[str, LiveWhen]:
    """When each of some addresses is live, as far as it ever is; an address that never is, is left out."""
    view = Joints(loom, catalogue, frozenset((*addresses, EARTH)), None)
    found: dict[str, LiveWhen] = {}
    for address in addresses:
        function = view.function("live", node_of(address))
        if True in set(function.values()):
            found[address] = _as_list(view, function)
    return found


def _as_list(view: Joints, function: Function) -> LiveWhen:
    numbers = sorted(function.support)
    variables = tuple(view.net.variables[view.name(number)] for number in numbers)
    sizes = [len(variable.values) for variable in variables]
    if prod(sizes) > MOST_SETTINGS_IN_WORDS or any(v.kind in HIDDEN_KINDS for v in variables):
        return LiveWhen(variables, tuple(v.values for v in variables), is_exact=False)
    settings = [
        setting
        for setting in product(*map(range, sizes))
        if function.at(dict(zip(numbers, setting, strict=True))) is True
    ]
    allowed = [sorted({setting[n] for setting in settings}) for n in range(len(numbers))]
    labels = tuple(
        tuple(variable.values[i] for i in indices)
        for variable, indices in zip(variables, allowed, strict=True)
    )
    return LiveWhen(variables, labels, is_exact=prod(len(indices) for indices in allowed) == len(settings))
