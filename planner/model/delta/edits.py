"""Copies of a loom with something changed, quickly: nothing is validated again, tables are carried over."""

from collections.abc import Callable, Sequence

from planner.model.delta.operation import EndRef
from planner.model.loom import End, Loom, Wire


def with_wire(loom: Loom, wire: str, change: Callable[[Wire], Wire]) -> Loom:
    """A loom with one wire changed."""
    index = loom.wire_index[wire]
    wires = (*loom.wires[:index], change(loom.wires[index]), *loom.wires[index + 1 :])
    return copy_loom(loom, wires=wires)


# Cached properties of a loom that follow from which wires there are and where their ends are.
_TABLES = ("wire_index", "ends_at", "ends_by_place", "conductors", "bundles")


def copy_loom(loom: Loom, /, **changes: object) -> Loom:
    """A loom with some fields replaced; nothing is validated again.

    The look-up tables of wires are carried over unless the wires change.
    """
    changed = loom.model_copy(update=changes)
    changed.__dict__.pop("reached", None)  # it depends on wires, places and fuses
    if "wires" in changes:
        for name in _TABLES:
            changed.__dict__.pop(name, None)
    return changed


def with_end(wire: Wire, number: int, **changes: object) -> Wire:
    """A wire with one end changed."""
    end = wire.ends[number].model_copy(update=changes)
    return wire.model_copy(update={"ends": (*wire.ends[:number], end, *wire.ends[number + 1 :])})


def replace_ends(loom: Loom, ends: Sequence[tuple[EndRef, dict[str, object]]]) -> Loom:
    """A loom with some ends changed; its look-up tables are carried over, since only a few entries differ."""
    wires, index, at = list(loom.wires), loom.wire_index, dict(loom.ends_at)
    is_moved = False
    for (wire, number), changes in ends:
        place = index[wire]
        old = wires[place].ends[number].at
        wires[place] = with_end(wires[place], number, **changes)
        new = wires[place].ends[number].at
        if new != old:
            is_moved = True
            left = tuple(end for end in at[old] if end != (wire, number))
            at[old] = left
            if not left:
                del at[old]
            at[new] = tuple(
                sorted((*at.get(new, ()), (wire, number)), key=lambda end: (index[end[0]], end[1]))
            )
    changed = copy_loom(loom, wires=tuple(wires))
    kept = () if is_moved else _TABLES
    changed.__dict__.update({name: loom.__dict__[name] for name in kept if name in loom.__dict__})
    changed.__dict__.update(wire_index=index, ends_at=at)
    return changed


def new_end(at: str, fitting: str | None) -> End:
    """An end of a wire that is made for the job: measured, because the restorer makes it."""
    return End.model_construct(at=at, fitting=fitting, known="measured", spare_metres=0.1, covered=False)
