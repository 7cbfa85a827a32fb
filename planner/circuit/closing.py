"""Closing what is decided: nodes that are joined become one, and what lies between poles is settled.

Nodes above 0 are free, 0 is the earthed pole, and below 0 is a live label (``items``). A closed tie makes
its two nodes one; a feed, or a fuse beyond a node that is held, gives a free node a label. So a tie between
two labels is two feeds tied, and one between a label and 0 a short; this goes on until nothing is closed any
more.
"""

from planner.circuit.items import FEED, OHMS, PASS, TIE, WATCH, Item
from planner.circuit.store import Store


class Closing:
    """Items with every joint closed that hangs on no variable: ``values`` are settled, ``rest`` is to solve.

    Shorts, feeds tied to one another and bridged fuses are found here.
    """

    def __init__(self, items: list[Item], store: Store) -> None:
        self.store = store
        self.values: dict[int, float] = {}
        self._parent: dict[int, int] = {}
        self.rest = self._substituted(self._merged(items))

    def _merged(self, items: list[Item]) -> list[Item]:
        store, parent, values = self.store, self._parent, self.values

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
                self._tied(node, label)

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
                        self._tied(a, label)
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
                        self._tied(a, b)
                elif a < 0 or b < 0:
                    if a < 0 and b < 0:
                        self._tied(a, b)
                    else:
                        hold(max(a, b), store.beyond(min(a, b), label))
                else:
                    rest.append(item)  # a fuse that nothing holds yet
                    continue
                changed = True
            items = rest
        return items

    def _tied(self, a: int, b: int) -> None:
        names = sorted((self.store.label_names[a], self.store.label_names[b]))
        self.values[self.store.key("tie", *names)] = 1.0

    def _substituted(self, items: list[Item]) -> list[Item]:
        parent = self._parent
        rest: list[Item] = []
        for item in items:
            kind, a, b, guard, key, ohms, drop = item
            while a in parent:
                a = parent[a]
            while b in parent:
                b = parent[b]
            if kind == WATCH:
                if a <= 0:
                    self._watch_fixed(a, key)
                    continue
            elif kind != FEED and a == b:
                continue
            elif kind == OHMS and not guard and a <= 0 and b <= 0:
                self._direct(a, b, key, ohms, drop)
                continue
            rest.append((kind, a, b, guard, key, ohms, drop))
        return rest

    def _watch_fixed(self, node: int, key: int) -> None:
        kind, name = self.store.key_names[key]
        if kind == "bridged":
            if node < 0 and node not in self.store.hub_labels:
                self._tied(node, self.store.label(str(name)))
            return
        if node in self.store.hub_labels:
            if volts := self.store.volts_of(node):
                self.values[self.store.key("volt", name)] = volts
            return
        self.values[self.store.key("live" if node < 0 else "zero", name)] = 1.0
        if node < 0:
            self.values[self.store.key("by", name, self.store.label_names[node])] = 1.0

    def _direct(self, a: int, b: int, key: int, ohms: float, drop: float) -> None:
        """A load between two poles."""
        self.store.solved += 1
        volts = self.store.volts_of(a) - self.store.volts_of(b)
        if drop >= 0.0:
            volts -= drop
            if volts <= 0.0:
                return
        if volts == 0.0:
            return
        if ohms == 0.0:  # a diode straight across the poles
            self.values[self.store.key("short", self.store.label_names[min(a, b)])] = 1.0
            return
        self.store.count(self.values, key, volts / ohms, a, b)
