"""Decision trees: what a block of the circuit does in every position, no position enumerated.

A ``Branch`` asks one variable, a ``Split`` stands for blocks side by side, a ``Leaf`` holds results.
Equal trees are one object, so equality is identity.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

Values = Mapping[int, float]


@dataclass(frozen=True, slots=True, eq=False)
class Leaf:
    """Results of one operating point: result key -> number; a key not named is 0."""

    values: Values
    keys: frozenset[int]


@dataclass(frozen=True, slots=True, eq=False)
class Branch:
    """One child for each value of a variable."""

    variable: int
    children: tuple["Tree", ...]
    keys: frozenset[int]


@dataclass(frozen=True, slots=True, eq=False)
class Split:
    """Independent blocks; a key's result is the sum over them."""

    children: tuple["Tree", ...]
    keys: frozenset[int]


Tree = Leaf | Branch | Split


class Forest:
    """Makes trees so that equal ones are the same object."""

    def __init__(self) -> None:
        self._known: dict[object, Tree] = {}
        self.empty = self.leaf({})

    def leaf(self, values: dict[int, float]) -> Tree:
        """A leaf with these results."""
        identity = ("leaf", *sorted(values.items()))
        found = self._known.get(identity)
        if found is None:
            found = self._known[identity] = Leaf(values, frozenset(values))
        return found

    def branch(self, variable: int, children: tuple[Tree, ...]) -> Tree:
        """A branch, or its child if all children are the same."""
        first = children[0]
        if all(child is first for child in children):
            return first
        identity = ("branch", variable, *map(id, children))
        found = self._known.get(identity)
        if found is None:
            keys = frozenset().union(*(child.keys for child in children))
            found = self._known[identity] = Branch(variable, children, keys)
        return found

    def split(self, children: list[Tree]) -> Tree:
        """Blocks side by side; empty ones vanish."""
        kept = [child for child in children if child is not self.empty]
        if not kept:
            return self.empty
        if len(kept) == 1:
            return kept[0]
        identity = ("split", *map(id, kept))
        found = self._known.get(identity)
        if found is None:
            keys = frozenset().union(*(child.keys for child in kept))
            found = self._known[identity] = Split(tuple(kept), keys)
        return found


def evaluate(tree: Tree, key: int, assignment: Mapping[int, int]) -> float:
    """Result of one key in one position (variable -> index of its value)."""
    if key not in tree.keys:
        return 0.0
    while isinstance(tree, Branch):
        tree = tree.children[assignment[tree.variable]]
    if isinstance(tree, Leaf):
        return tree.values.get(key, 0.0)
    return sum(evaluate(child, key, assignment) for child in tree.children)


@dataclass(frozen=True, slots=True, eq=False)
class Function:
    """A function of variables reduced to what it depends on: a branch of functions, or a value."""

    variable: int  # -1 for a value
    children: tuple["Function", ...]
    value: object
    support: frozenset[int]

    def at(self, assignment: Mapping[int, int]) -> object:
        """The value in one position."""
        node = self
        while node.variable >= 0:
            node = node.children[assignment[node.variable]]
        return node.value

    def values(self) -> Iterator[object]:
        """Yield every value it can take, each once."""
        seen: set[int] = set()
        stack = [self]
        while stack:
            node = stack.pop()
            if id(node) in seen:
                continue
            seen.add(id(node))
            if node.variable < 0:
                yield node.value
            stack.extend(node.children)


class Projector:
    """Reduces trees to functions of single keys; equal functions are the same object."""

    def __init__(self) -> None:
        self._known: dict[object, Function] = {}
        self._done: dict[tuple[int, int, object], Function] = {}
        self._alive: list[Tree] = []
        self.groups: dict[object, Any] = {}  # of hidden variables, shared by looms in which they move alike
        self._parts: dict[int, dict[int, list[Tree]]] = {}

    def constant(self, value: object) -> Function:
        """A function that is always the same."""
        identity = ("value", type(value), value)
        found = self._known.get(identity)
        if found is None:
            found = self._known[identity] = Function(-1, (), value, frozenset())
        return found

    def branch(self, variable: int, children: tuple[Function, ...]) -> Function:
        """A function that asks a variable.

        Variables are asked in the order of their numbers, whatever order the children ask them in, so that
        equal functions are the same object and name only what they depend on.
        """
        first = children[0]
        if all(child is first for child in children):
            return first
        identity = (variable, *map(id, children))
        found = self._known.get(identity)
        if found is None:
            top = min((c.variable for c in children if c.variable >= 0), default=variable + 1)
            if top > variable:
                support = frozenset((variable,)).union(*(child.support for child in children))
                found = Function(variable, children, None, support)
            elif top == variable:
                found = self.branch(
                    variable, tuple(self.restrict(c, variable, value) for value, c in enumerate(children))
                )
            else:
                size = next(len(c.children) for c in children if c.variable == top)
                found = self.branch(
                    top,
                    tuple(
                        self.branch(variable, tuple(self.restrict(c, top, value) for c in children))
                        for value in range(size)
                    ),
                )
            self._known[identity] = found
        return found

    def project(self, tree: Tree, key: int, judge: Callable[[float], object]) -> Function:
        """The function of one key, its numbers turned into classes by ``judge``.

        The numbers of independent blocks are added before they are judged. ``judge`` must be the same
        object for equal judgements: it is part of the memory's key.
        """
        return self.apply(self._number(tree, key), judge)

    def _number(self, tree: Tree, key: int) -> Function:
        if key not in tree.keys:
            return self.constant(0.0)
        if isinstance(tree, Leaf):
            return self.constant(tree.values[key])
        memory = (id(tree), key, None)
        found = self._done.get(memory)
        if found is None:
            self._alive.append(tree)  # an id is only good while its object lives
            if isinstance(tree, Branch):
                found = self.branch(tree.variable, tuple(self._number(c, key) for c in tree.children))
            else:
                parts = [self._number(c, key) for c in self._parts_of(tree)[key]]
                found = parts[0]
                for part in parts[1:]:
                    found = self.combine(found, part, _add)
            self._done[memory] = found
        return found

    def _parts_of(self, tree: Split) -> dict[int, list[Tree]]:
        """The children of a split by the keys they have: a loom's own split has many, and all keys ask."""
        found = self._parts.get(id(tree))
        if found is None:
            found = self._parts[id(tree)] = {}
            for child in tree.children:
                for key in child.keys:
                    found.setdefault(key, []).append(child)
        return found

    def apply(self, function: Function, judge: Callable[[float], object]) -> Function:
        """A function with its values turned into others."""
        memory = (id(function), -1, judge)
        found = self._done.get(memory)
        if found is None:
            if function.variable < 0:
                found = self.constant(judge(function.value))  # type: ignore[arg-type]
            else:
                children = tuple(self.apply(child, judge) for child in function.children)
                found = self.branch(function.variable, children)
            self._done[memory] = found
        return found

    def combine(
        self, first: Function, second: Function, join: Callable[[object, object], object]
    ) -> Function:
        """Value by value combination of two functions. ``join`` is part of the memory's key."""
        whole = (id(first), id(second), join)
        if whole in self._done:
            return self._done[whole]
        done: dict[tuple[int, int], Function] = {}

        def go(a: Function, b: Function) -> Function:
            pair = (id(a), id(b))
            found = done.get(pair)
            if found is not None:
                return found
            if a.variable < 0 and b.variable < 0:
                found = self.constant(join(a.value, b.value))
            else:
                top = min(f.variable for f in (a, b) if f.variable >= 0)
                size = len(a.children if a.variable == top else b.children)
                found = self.branch(
                    top,
                    tuple(
                        go(self.restrict(a, top, value), self.restrict(b, top, value))
                        for value in range(size)
                    ),
                )
            done[pair] = found
            return found

        found = self._done[whole] = go(first, second)
        return found

    def restrict(self, function: Function, variable: int, value: int) -> Function:
        """The function with one variable held."""
        if variable not in function.support:
            return function
        if function.variable == variable:
            return function.children[value]
        memory = (id(function), variable, ("held", value))
        found = self._done.get(memory)
        if found is None:
            children = tuple(self.restrict(child, variable, value) for child in function.children)
            found = self._done[memory] = self.branch(function.variable, children)
        return found


def _add(a: object, b: object) -> object:
    return a + b  # type: ignore[operator]
