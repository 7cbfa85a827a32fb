"""Factoring: every position of a network, solved block by block.

Nodes that a pole holds cut the network into blocks that do not know of each other. One variable is decided
at a time; closed contacts merge nodes, open ones vanish, and what falls apart is solved apart. Equal blocks
are solved once, also across looms that share a ``Store``.
"""

from collections.abc import Mapping
from copy import copy

from planner.circuit.appearance import limits_of
from planner.circuit.arms import HUB_AT_SUPPLY, HUB_AT_ZERO, find_hub
from planner.circuit.blocks import components, decide, joined_to_zero, prune, restrict
from planner.circuit.fitted import Guard
from planner.circuit.hub import Arm, HubSolver
from planner.circuit.items import FEED, NO_DIODE, OHMS, PASS, TIE, WATCH, Item
from planner.circuit.network import Network
from planner.circuit.operating_point import Element, solve
from planner.circuit.tree import Forest, Tree
from planner.problems import TooLargeError

# Leaves one block may need before it is refused by name: 16 switched loads that nothing splits.
MOST_LEAVES = 1 << 16


class Store:
    """Names as numbers, and the blocks solved so far; shared by all candidate looms of one job.

    Free nodes are positive numbers, 0 is the earthed pole, negative numbers are live labels. With
    ``by_class`` blocks that do not split are solved by the classes of their results (see ``hub``); without
    it every current is exact. ``volts`` are those of the live pole against earth, negative where the positive
    pole is earthed. A block that needs more than ``most_leaves`` operating points is refused.
    """

    def __init__(self, volts: float, *, by_class: bool = False, most_leaves: int = MOST_LEAVES) -> None:
        self.volts, self.most_leaves = volts, most_leaves
        self.by_class = by_class
        self.limits: dict[int, tuple[float, ...]] = {}  # result key: currents at which its class changes
        self.forest = Forest()
        self.blocks: dict[tuple[Item, ...], Tree] = {}
        self.solved = 0  # operating points solved
        self._nodes: dict[str, int] = {}
        self._labels: dict[str, int] = {}
        self.label_names: dict[int, str] = {}
        self.fuse_labels: set[int] = set()
        self.hub_labels: set[int] = set()
        self.counting_labels: set[int] = set()  # flashers and what lies behind them: their current matters
        self._currents: dict[int, tuple[int, ...]] = {}
        self._keys: dict[tuple[object, ...], int] = {}
        self.key_names: list[tuple[object, ...]] = []
        self._variables: dict[tuple[str, tuple[str, ...], tuple[str, ...]], int] = {}
        self.variable_names: list[tuple[str, tuple[str, ...]]] = []

    def at_volts(self, volts: float) -> "Store":
        """A store for looms at another supply: the same names and trees, but blocks of its own.

        Because names have the same numbers in both, functions of looms at different supplies can be compared
        as if they came from one store.
        """
        other = copy(self)
        other.volts, other.blocks, other.limits, other.solved = volts, {}, {}, 0
        return other

    def node(self, name: str) -> int:
        """Number of a node."""
        return self._nodes.setdefault(name, len(self._nodes) + 1)

    def label(self, name: str) -> int:
        """Number of a live label, negative."""
        number = self._labels.get(name)
        if number is None:
            number = self._labels[name] = -len(self._labels) - 1
            self.label_names[number] = name
            self._currents[number] = (self.key("amps", name),)
            if name.startswith("fuse:"):
                self.fuse_labels.add(number)
            if name.startswith("flasher:"):
                self.counting_labels.add(number)
            if name in (HUB_AT_SUPPLY, HUB_AT_ZERO):
                self.hub_labels.add(number)
        return number

    def beyond(self, held: int, joint: int) -> int:
        """The label of a node held through a fuse or flasher.

        It is the joint's own, but behind a flasher, or a hub that is being solved, the current counts for
        that as well.
        """
        in_hub = held in self.hub_labels
        if not in_hub and held not in self.counting_labels:
            return joint
        name, above = self.label_names[joint], self.label_names[held]
        number = self.label(f"{above} through {name}" if in_hub else f"{name} behind {above}")
        (self.hub_labels if in_hub else self.counting_labels).add(number)
        self._currents[number] = (*self._currents[held], self.key("through" if in_hub else "amps", name))
        if not in_hub:
            self.label_names[number] = name  # a short or tie there is named by the nearest protection
        return number

    def currents_of(self, label: int) -> tuple[int, ...]:
        """The results that a current out of a held node counts for."""
        return self._currents[label]

    def key(self, *name: object) -> int:
        """Number of a result: ("load", ...), ("amps", label), ("short", label), ("live", node), ..."""
        number = self._keys.get(name)
        if number is None:
            number = self._keys[name] = len(self.key_names)
            self.key_names.append(name)
        return number

    def judge(self, key: int, limits: tuple[float, ...]) -> None:
        """Take in the currents at which a result changes its class.

        Another loom may have a part of the same ohms and another rating there: what was solved by the
        classes of the first is then solved anew by those of both.
        """
        known = self.limits.get(key, ())
        if not set(limits) <= set(known):
            self.limits[key] = tuple(sorted({*known, *limits}))
            if known:
                self.blocks.clear()

    def variable(self, name: str, values: tuple[str, ...], meanings: tuple[str, ...]) -> int:
        """Number of a variable; one with other values or meanings is another variable."""
        identity = (name, values, meanings)
        number = self._variables.get(identity)
        if number is None:
            number = self._variables[identity] = len(self.variable_names)
            self.variable_names.append((name, values))
        return number


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
            self._register_limits()
        self._first = self._items()
        self.tree = self._close(self._first)

    # -- compiling to items --------------------------------------------------------------------------------

    def _guard(self, guard: Guard) -> tuple[tuple[int, int], ...] | None:
        """The guard as bit masks; None if it can never hold."""
        out = []
        for name, values in guard:
            all_values = self.net.variables[name].values
            mask = sum(1 << i for i, value in enumerate(all_values) if value in values)
            if not mask:
                return None
            if mask != (1 << len(all_values)) - 1:
                out.append((self.variables[name], mask))
        return tuple(sorted(out))

    def _items(self) -> list[Item]:
        net, store = self.net, self.store
        parent: dict[str, str] = {}

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
            if tie.guard and (guard := self._guard(tie.guard)) is not None
        ]
        for joint in net.passes:
            if (guard := self._guard(joint.guard)) is not None:
                label = store.label(joint.label)
                items.append((PASS, number(joint.a), number(joint.b), guard, label, 0.0, 0.0))
        for load in net.conductances:
            if (guard := self._guard(load.guard)) is not None:
                drop = NO_DIODE if load.drop_v is None else load.drop_v
                key = store.key("load", *load.key)
                items.append((OHMS, number(load.a), number(load.b), guard, key, load.ohms, drop))
        items += [
            (FEED, number(supply.node), 0, guard, store.label(supply.label), 0.0, 0.0)
            for supply in net.supplies
            if (guard := self._guard(supply.guard)) is not None
        ]
        for name in sorted(net.watched):
            node = number(name)
            items.append((WATCH, node, node, (), store.key("node", name), 0.0, 0.0))
        return items

    def _register_limits(self) -> None:
        """The currents between which every judgement of a result stays the same."""
        limits: dict[int, tuple[float, ...]] = {}
        for key, load in self.net.loads.items():
            limits[self.store.key("load", *key)] = limits_of(load.kind, load.rated_amps)
        for coil in self.net.armatures.values():
            limits[self.store.key("load", *coil.load)] += (
                coil.drops_out_v / coil.ohms,
                coil.pulls_in_v / coil.ohms,
            )
        for beat in self.net.beats.values():
            for kind in ("amps", "through"):
                limits[self.store.key(kind, beat.label)] = (beat.needs_amps,)
        for number, currents in limits.items():
            self.store.judge(number, currents)

    def point(self, assignment: Mapping[int, int]) -> Tree:
        """The exact results of one position in which every variable is set."""
        items: list[Item] = [
            (*item[:3], (), *item[4:])
            for item in self._first
            if all(mask >> assignment[variable] & 1 for variable, mask in item[3])
        ]
        return self._close(items)

    # -- factoring -----------------------------------------------------------------------------------------

    def _close(self, items: list[Item]) -> Tree:
        """Merge what is joined, record what is settled, solve what remains block by block."""
        values: dict[int, float] = {}
        items, find = self._merge(items, values)
        rest = self._substitute(items, find, values)
        children = [self.store.forest.leaf(values)]
        children += [self._block(block) for block in components(prune(rest))]
        return self.store.forest.split(children)

    def _merge(self, items: list[Item], values: dict[int, float]) -> tuple[list[Item], dict[int, int]]:
        store = self.store
        parent: dict[int, int] = {}

        def find(node: int) -> int:
            while node in parent:
                node = parent[node]
            return node

        def hold(node: int, label: int) -> None:
            """A node reached by a live label."""
            if node > 0:
                parent[node] = label
            elif node == 0:
                values[store.key("short", store.label_names[label])] = 1.0
            elif node != label:
                self._tied(node, label, values)

        changed = True
        while changed:
            changed = False
            rest = []
            for item in items:
                kind, a, b, guard, label = item[:5]
                if guard or kind > FEED or kind == OHMS:
                    rest.append(item)
                    continue
                a, b = find(a), find(b)
                if kind == FEED:
                    hold(a, label)
                elif a == b:
                    if kind == PASS and a < 0:
                        self._tied(a, label, values)
                    elif kind == PASS and a > 0:  # a bridged fuse: told as soon as the node is held
                        key = store.key("bridged", store.label_names[label])
                        rest.append((WATCH, a, a, (), key, 0.0, 0.0))
                    continue
                elif kind == TIE:
                    if a > 0 or b > 0:
                        parent[max(a, b)] = min(a, b)
                    elif a == 0 or b == 0:
                        hold(0, min(a, b))
                    else:
                        self._tied(a, b, values)
                elif a < 0 or b < 0:
                    if a < 0 and b < 0:
                        self._tied(a, b, values)
                    else:
                        hold(max(a, b), store.beyond(min(a, b), label))
                else:
                    rest.append(item)  # a fuse that nothing holds yet
                    continue
                changed = True
            items = rest
        return items, parent

    def _tied(self, a: int, b: int, values: dict[int, float]) -> None:
        names = sorted((self.store.label_names[a], self.store.label_names[b]))
        values[self.store.key("tie", *names)] = 1.0

    def _substitute(self, items: list[Item], parent: dict[int, int], values: dict[int, float]) -> list[Item]:
        rest: list[Item] = []
        for item in items:
            kind, a, b, guard, key, ohms, drop = item
            while a in parent:
                a = parent[a]
            while b in parent:
                b = parent[b]
            if kind == WATCH:
                if a <= 0:
                    self._watch_fixed(a, key, values)
                    continue
            elif kind != FEED and a == b:
                continue
            elif kind == OHMS and not guard and a <= 0 and b <= 0:
                self._direct(a, b, key, ohms, drop, values)
                continue
            rest.append((kind, a, b, guard, key, ohms, drop))
        return rest

    def _watch_fixed(self, node: int, key: int, values: dict[int, float]) -> None:
        kind, name = self.store.key_names[key]
        if kind == "bridged":
            if node < 0 and node not in self.store.hub_labels:
                self._tied(node, self.store.label(str(name)), values)
            return
        if node in self.store.hub_labels:
            if volts := self._volts_of(node):
                values[self.store.key("volt", name)] = volts
            return
        values[self.store.key("live" if node < 0 else "zero", name)] = 1.0
        if node < 0:
            values[self.store.key("by", name, self.store.label_names[node])] = 1.0

    def _direct(self, a: int, b: int, key: int, ohms: float, drop: float, values: dict[int, float]) -> None:
        """A load between two poles."""
        self.store.solved += 1
        volts = self._volts_of(a) - self._volts_of(b)
        if drop >= 0.0:
            volts -= drop
            if volts <= 0.0:
                return
        if volts == 0.0:
            return
        if ohms == 0.0:  # a diode straight across the poles
            values[self.store.key("short", self.store.label_names[min(a, b)])] = 1.0
            return
        amps = volts / ohms
        values[key] = values.get(key, 0.0) + amps
        for node, out in ((a, amps), (b, -amps)):
            for current in self.store.currents_of(node) if node < 0 else ():
                values[current] = values.get(current, 0.0) + out

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
            arms.append(Arm(self._close(found.held(arm, one)), at_zero))
        keys = (store.key("amps", HUB_AT_SUPPLY), store.key("amps", HUB_AT_ZERO))
        solver = HubSolver(store.forest, store.volts, store.limits, store.key_names, keys)
        tree = solver.solve(arms)
        store.solved += solver.points
        return tree

    def _volts_of(self, node: int) -> float:
        """Voltage of a node that is held."""
        if node == 0 or self.store.label_names[node].startswith(HUB_AT_ZERO):
            return 0.0
        return self.store.volts

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
        store = self.store
        store.solved += 1
        self._leaves += 1
        if self._leaves > store.most_leaves:
            names = sorted({store.variable_names[v][0] for v in self._open})
            raise TooLargeError(names, self._leaves)
        elements = []
        keys = []
        fixed: dict[int, float] = {}
        for kind, a, b, _, key, ohms, drop in items:
            if kind in (OHMS, PASS):
                elements.append(Element(a, b, ohms, None if drop < 0.0 or kind == PASS else drop))
                keys.append((kind, a, b, key))
                for node in (a, b):
                    if node <= 0:
                        fixed[node] = self._volts_of(node)
        solution = solve(elements, fixed)
        values: dict[int, float] = {}
        for (kind, a, b, key), amps in zip(keys, solution.amps, strict=True):
            if amps == 0.0:
                continue
            number = store.key("through", store.label_names[key]) if kind == PASS else key
            values[number] = values.get(number, 0.0) + amps
            for node, out in ((a, amps), (b, -amps)):
                for current in store.currents_of(node) if node < 0 else ():
                    values[current] = values.get(current, 0.0) + out
        earthed = joined_to_zero(items)
        for kind, a, _, _, key, _, _ in items:
            if kind != WATCH or store.key_names[key][0] != "node":
                continue
            name = store.key_names[key][1]
            if a in earthed:
                values[store.key("zero", name)] = 1.0
            elif volts := solution.volts.get(a):
                values[store.key("volt", name)] = volts
        if not solution.settled:
            values[store.key("unsettled")] = 1.0
        return store.forest.leaf(values)
