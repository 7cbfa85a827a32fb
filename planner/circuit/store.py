"""Names as numbers, and the blocks solved so far: what every candidate loom of one job shares."""

from copy import copy

from planner.circuit.arms import HUB_AT_SUPPLY, HUB_AT_ZERO
from planner.circuit.items import Item
from planner.circuit.tree import Forest, Tree

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
        self.hubs: dict[tuple[tuple[int, int], ...], Tree] = {}  # by the trees of their arms
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
        self._masks: dict[tuple[int, frozenset[str]], int] = {}

    def at_volts(self, volts: float) -> "Store":
        """A store for looms at another supply: the same names and trees, but blocks of its own.

        Because names have the same numbers in both, functions of looms at different supplies can be compared
        as if they came from one store.
        """
        other = copy(self)
        other.volts, other.limits, other.solved = volts, {}, 0
        other.blocks, other.hubs = {}, {}
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

    def volts_of(self, node: int) -> float:
        """Voltage of a node that is held."""
        if node == 0 or self.label_names[node].startswith(HUB_AT_ZERO):
            return 0.0
        return self.volts

    def count(self, values: dict[int, float], key: int, amps: float, a: int, b: int) -> None:
        """Add a current from node ``a`` to ``b`` to its result, and to those of the poles that give it."""
        values[key] = values.get(key, 0.0) + amps
        for node, out in ((a, amps), (b, -amps)):
            for current in self._currents[node] if node < 0 else ():
                values[current] = values.get(current, 0.0) + out

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
                self.hubs.clear()

    def variable(self, name: str, values: tuple[str, ...], meanings: tuple[str, ...]) -> int:
        """Number of a variable; one with other values or meanings is another variable."""
        identity = (name, values, meanings)
        number = self._variables.get(identity)
        if number is None:
            number = self._variables[identity] = len(self.variable_names)
            self.variable_names.append((name, values))
        return number

    def mask(self, variable: int, values: frozenset[str]) -> int:
        """Some values of a variable as bits."""
        mask = self._masks.get((variable, values))
        if mask is None:
            _, all_values = self.variable_names[variable]
            mask = sum(1 << i for i, value in enumerate(all_values) if value in values)
            self._masks[variable, values] = mask
        return mask
