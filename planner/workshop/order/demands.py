"""What the order of tasks must keep: out before in, crimped before it goes on, made before a part goes in."""

from collections.abc import Collection, Iterator

from planner.model.delta import (
    Add,
    ChangeFuse,
    Cover,
    Cut,
    Extend,
    Hold,
    Insert,
    Join,
    Move,
    Piggyback,
    ReEnd,
    Renew,
)
from planner.model.loom import split_address
from planner.workshop.order.reasons import (
    AT_ONCE,
    COMES_OFF,
    CRIMP,
    END_FIRST,
    FIT_FIRST,
    FREES_PLACE,
    HELD,
    IN_LINE,
    JOINED,
    LENGTHEN,
    PULL,
    PULL_FIRST,
    TAKEN_OFF,
    TANK_SHUT,
    Constraint,
)
from planner.workshop.tasks.task import Task, is_pull
from planner.workshop.tasks.task_table import TaskTable


def tank_shut(table: TaskTable, tanks: Collection[str]) -> Iterator[Constraint]:
    """What cuts, crimps and shrinks at a fuel tank, before the tank is opened."""
    for n, task in table.tasks:
        if isinstance(task.operation, ReEnd | Extend | Join | Cut):
            for place in {split_address(address)[0] for address in table.works_at(task)} & {*tanks}:
                opens = (table.removed.get(place), table.fitted.get(place))
                yield from (Constraint(n, then, TANK_SHUT) for then in opens if then is not None)


def parts(table: TaskTable) -> Iterator[Constraint]:
    """Out before in, and in before what goes on."""
    for place, removed in table.removed.items():
        if place in table.fitted:
            yield Constraint(removed, table.fitted[place], FREES_PLACE)
    for n, task in table.tasks:
        operation = task.operation
        for place in {split_address(address)[0] for address in table.works_at(task)}:
            out, into = table.removed.get(place), table.fitted.get(place)
            if isinstance(operation, Hold):
                if out is not None:
                    yield Constraint(n, out, TAKEN_OFF)
            elif isinstance(operation, Cut) or (isinstance(operation, Cover) and operation.wire is not None):
                if out is not None:
                    yield Constraint(out, n, COMES_OFF)
                if into is not None:
                    yield Constraint(n, into, AT_ONCE)
            elif isinstance(operation, Cover | Piggyback | Insert | ChangeFuse) and into is not None:
                yield Constraint(into, n, FIT_FIRST)
                if isinstance(operation, Insert) and out is not None:
                    yield Constraint(out, n, COMES_OFF)
            elif isinstance(operation, Move | Join | ReEnd | Extend) and out is not None:
                yield Constraint(out, n, COMES_OFF)
    for n, at in table.arrivals:
        place = split_address(at)[0]
        if place in table.fitted:
            yield Constraint(table.fitted[place], n, FIT_FIRST)


def ends(table: TaskTable) -> Iterator[Constraint]:
    """Of one end: lengthened, crimped, kept aside, put on, a part put into it."""
    goes_on: dict[tuple[str, int], list[int]] = {}
    joins: dict[tuple[str, int], int] = {}
    for n, task in table.tasks:
        operation = task.operation
        if isinstance(operation, Move | Insert):
            goes_on.setdefault((operation.wire, operation.end), []).append(n)
        elif isinstance(operation, Join):
            joins |= {(wire, end): n for wire, end, _ in operation.ends}
    for end, n in joins.items():
        yield from (Constraint(n, then, END_FIRST) for then in goes_on.get(end, ()))
        goes_on.setdefault(end, []).append(n)
    for place, ends in table.work.stays.items():
        if place in table.fitted:
            for move in ends:
                goes_on.setdefault((move.wire, move.end), []).append(table.fitted[place])
    for n, task in table.tasks:
        operation = task.operation
        if isinstance(operation, ReEnd | Extend):
            ref = (operation.wire, operation.end)
            yield from (Constraint(n, then, CRIMP) for then in goes_on.get(ref, ()))
        if isinstance(operation, Extend):
            crimps = [m for m, t in table.tasks if isinstance(t.operation, ReEnd) and _same_end(task, t)]
            yield from (Constraint(n, then, LENGTHEN) for then in crimps)
        if isinstance(operation, Hold):
            yield from (
                Constraint(n, then, HELD) for then in goes_on.get((operation.wire, operation.end), ())
            )


def _same_end(one: Task, other: Task) -> bool:
    """Whether two tasks are about the same end of the same wire."""
    return all(getattr(one.operation, k, 0) == getattr(other.operation, k, 1) for k in ("wire", "end"))


def wires(table: TaskTable) -> Iterator[Constraint]:
    """Of one wire: pulled through, put on, a part put into it, joined."""
    for n, task in table.tasks:
        operation = task.operation
        if isinstance(operation, Add):
            ends = table.work.after.find(operation.wire.wire).ends
            is_pulled = is_pull(task, table.work.tasks)
            inside = [m for m, t in table.tasks if isinstance(t.operation, Insert) and t.wire == task.wire]
            for m in inside:
                if not is_pulled and _is_at_end(task, table.tasks[m][1]):
                    yield Constraint(m, n, IN_LINE)
            if is_pulled:
                own = [m for m, t in table.tasks if t.step is task.step]
                yield from (Constraint(n, m, PULL) for m in own)
                for place in {split_address(end.at)[0] for end in ends}:
                    if place in table.removed:
                        yield Constraint(table.removed[place], n, FREES_PLACE)
                    if place in table.fitted:
                        yield Constraint(n, table.fitted[place], PULL_FIRST)
        elif isinstance(operation, Renew):
            joins = [m for m, t in table.tasks if isinstance(t.operation, Join) and _joins(t, operation.wire)]
            yield from (Constraint(n, m, JOINED) for m in joins)


def _joins(task: Task, wire: str) -> bool:
    return isinstance(task.operation, Join) and any(w == wire for w, _, _ in task.operation.ends)


def _is_at_end(task: Task, inserted: Task) -> bool:
    """Whether a part goes in at the end of a new wire that a task puts on."""
    return task.end is None or getattr(inserted.operation, "end", None) == task.end
