"""Factoring: every position of a network, solved block by block.

Nodes that a pole holds cut the network into blocks that do not know of each other. One variable is decided
at a time; closed contacts merge nodes, open ones vanish, and what falls apart is solved apart. Equal blocks
are solved once, also across looms that share a ``Store``.
"""

from collections.abc import Mapping

from planner.circuit.arms import HUB_AT_SUPPLY, HUB_AT_ZERO, find_hub
from planner.circuit.blocks import components, decide, prune, restrict
from planner.circuit.closing import Closing
from planner.circuit.hub import Arm, HubSolver
from planner.circuit.itemise import items_of, register_limits
from planner.circuit.items import Item
from planner.circuit.leaf import solve_leaf
from planner.circuit.network import Network
from planner.circuit.store import Store
from planner.circuit.tree import Tree
from planner.problems import TooLargeError


class Factored:
    """A network factored over all positions: ``tree`` holds every result."""

    def __init__(self, net: Network, store: Store) -> None:
        self.net, self.store = net, store
        self.variables = {
            name: store.variable(name, v.values, v.meanings) for name, v in net.variables.items()
        }
        self._leaves = 0
        self._open: list[int] = []  # variables decided on the way to the block in hand
        if store.by_class:
            register_limits(net, store)
        self._first = items_of(net, store, self.variables)
        self.tree = self._close(self._first)

    def point(self, assignment: Mapping[int, int]) -> Tree:
        """The exact results of one position in which every variable is set."""
        items: list[Item] = [
            (*item[:3], (), *item[4:]) if item[3] else item
            for item in self._first
            if not item[3] or all(mask >> assignment[variable] & 1 for variable, mask in item[3])
        ]
        return self._close(items)

    def _close(self, items: list[Item]) -> Tree:
        """Close what is decided, and solve what remains block by block."""
        closing = Closing(items, self.store)
        children = [self.store.forest.leaf(closing.values)]
        children += [self._block(block) for block in components(prune(closing.rest))]
        return self.store.forest.split(children)

    def _block(self, items: tuple[Item, ...]) -> Tree:
        found = self.store.blocks.get(items)
        if not self._open:
            self._leaves = 0  # counted block by block: only what does not fall apart is too large
        if found is None:
            found = self._hub(items) if self.store.by_class else None
            if found is None:
                variable = decide(items)
                found = self._leaf(items) if variable is None else self._branch(items, variable)
            self.store.blocks[items] = found
        return found

    def _hub(self, items: tuple[Item, ...]) -> Tree | None:
        """The block solved from its hub, if it has one; None to go on branching."""
        store = self.store
        one, zero = store.label(HUB_AT_SUPPLY), store.label(HUB_AT_ZERO)
        found = find_hub(items, store.hub_labels, store.fuse_labels)
        if found is None:
            return None
        if isinstance(found, int):
            return self._branch(items, found)
        arms = []
        for arm in found.arms:
            fed = any(node < 0 for item in arm for node in item[1:3])
            at_zero = self._close(found.held(arm, zero)) if fed else None
            at_one = self._close(found.held(arm, one))
            if at_one is not store.forest.empty or at_zero is not None:
                arms.append(Arm(at_one, at_zero))
        # Hubs with the same arms behave alike, whatever the nodes of their blocks are called.
        identity = tuple(sorted((id(arm.at_one), id(arm.at_zero)) for arm in arms))
        tree = store.hubs.get(identity)
        if tree is None:
            keys = (store.key("amps", HUB_AT_SUPPLY), store.key("amps", HUB_AT_ZERO))
            solver = HubSolver(store.forest, store.volts, store.limits, store.key_names, keys)
            tree = store.hubs[identity] = solver.solve(arms)
            store.solved += solver.points
        return tree

    def _branch(self, items: tuple[Item, ...], variable: int) -> Tree:
        _, all_values = self.store.variable_names[variable]
        masks = sorted({mask for item in items for v, mask in item[3] if v == variable})
        done: dict[tuple[bool, ...], Tree] = {}
        children = []
        for value in range(len(all_values)):
            alike = tuple(bool(mask >> value & 1) for mask in masks)
            if alike not in done:
                self._open.append(variable)
                done[alike] = self._close(restrict(items, variable, value))
                self._open.pop()
            children.append(done[alike])
        return self.store.forest.branch(variable, tuple(children))

    def _leaf(self, items: tuple[Item, ...]) -> Tree:
        """The block as one operating point; refused if it is one too many of one block."""
        self._leaves += 1
        if self._leaves > self.store.most_leaves:
            names = sorted({self.store.variable_names[v][0] for v in self._open})
            raise TooLargeError(names, self._leaves)
        return self.store.forest.leaf(solve_leaf(items, self.store))
