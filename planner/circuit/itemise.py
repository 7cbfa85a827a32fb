"""From a network to the items it is factored from, and the currents at which its verdicts change."""

from collections.abc import Mapping

from planner.circuit.appearance import limits_of
from planner.circuit.fitted import Guard
from planner.circuit.items import FEED, NO_DIODE, OHMS, PASS, TIE, WATCH, Item, ItemGuard
from planner.circuit.network import Network
from planner.circuit.store import Store


def items_of(net: Network, store: Store, variables: Mapping[str, int]) -> list[Item]:
    """The items of a network. What is joined for good is one node, and what can never be is left out.

    ``variables`` are the numbers that the store gave the network's variables.
    """
    parent: dict[str, str] = {}

    def masks(guard: Guard) -> ItemGuard | None:
        """The guard as bit masks; None if it can never hold."""
        out = []
        for name, values in guard:
            variable = variables[name]
            mask = store.mask(variable, values)
            if not mask:
                return None
            if mask != (1 << len(net.variables[name].values)) - 1:
                out.append((variable, mask))
        return tuple(sorted(out))

    def find(name: str) -> str:
        while (up := parent.get(name)) is not None:
            name = up
        return name

    # The name that sorts first stands for its node, so that equal blocks of two looms look equal.
    for tie in net.ties:
        if not tie.guard:
            a, b = find(tie.a), find(tie.b)
            if a != b:
                parent[max(a, b)] = min(a, b)
    zero = find(net.zero)
    numbers: dict[str, int] = {}

    def number(name: str) -> int:
        found = numbers.get(name)
        if found is None:
            root = find(name)
            found = numbers[name] = 0 if root == zero else store.node(root)
        return found

    items: list[Item] = [
        (TIE, number(tie.a), number(tie.b), guard, 0, 0.0, 0.0)
        for tie in net.ties
        if tie.guard and (guard := masks(tie.guard)) is not None
    ]
    for joint in net.passes:
        if (guard := masks(joint.guard)) is not None:
            label = store.label(joint.label)
            items.append((PASS, number(joint.a), number(joint.b), guard, label, 0.0, 0.0))
    for load in net.conductances:
        if (guard := masks(load.guard)) is not None:
            drop = NO_DIODE if load.drop_v is None else load.drop_v
            key = store.key("load", *load.key)
            items.append((OHMS, number(load.a), number(load.b), guard, key, load.ohms, drop))
    items += [
        (FEED, number(supply.node), 0, guard, store.label(supply.label), 0.0, 0.0)
        for supply in net.supplies
        if (guard := masks(supply.guard)) is not None
    ]
    for name in sorted(net.watched):
        node = number(name)
        items.append((WATCH, node, node, (), store.key("node", name), 0.0, 0.0))
    return items


def register_limits(net: Network, store: Store) -> None:
    """Tell the store the currents between which every judgement of a result stays the same."""
    limits: dict[int, tuple[float, ...]] = {}
    for key, load in net.loads.items():
        limits[store.key("load", *key)] = limits_of(load.kind, load.rated_amps)
    for coil in net.armatures.values():
        limits[store.key("load", *coil.load)] += (
            coil.drops_out_v / coil.ohms,
            coil.pulls_in_v / coil.ohms,
        )
    for beat in net.beats.values():
        for kind in ("amps", "through"):
            limits[store.key(kind, beat.label)] = (beat.needs_amps,)
    for number, currents in limits.items():
        store.judge(number, currents)
