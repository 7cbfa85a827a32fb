"""A block in which every variable is decided: one operating point."""

from collections.abc import Sequence

from planner.circuit.blocks import joined_to_zero
from planner.circuit.items import OHMS, PASS, WATCH, Item
from planner.circuit.operating_point import Element, solve
from planner.circuit.store import Store


def solve_leaf(items: Sequence[Item], store: Store) -> dict[int, float]:
    """The results of a block without a variable, by their numbers: amps, volts, and what did not settle."""
    store.solved += 1
    elements = []
    keys = []
    fixed: dict[int, float] = {}
    for kind, a, b, _, key, ohms, drop in items:
        if kind in (OHMS, PASS):
            elements.append(Element(a, b, ohms, None if drop < 0.0 or kind == PASS else drop))
            keys.append((kind, a, b, key))
            for node in (a, b):
                if node <= 0:
                    fixed[node] = store.volts_of(node)
    solution = solve(elements, fixed)
    values: dict[int, float] = {}
    for (kind, a, b, key), amps in zip(keys, solution.amps, strict=True):
        if amps != 0.0:
            number = store.key("through", store.label_names[key]) if kind == PASS else key
            store.count(values, number, amps, a, b)
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
    return values
