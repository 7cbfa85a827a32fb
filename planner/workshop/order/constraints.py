"""What must come before what, each demand with its reason in a few words.

Some demands are strict: without them a step cannot be done, or is done twice. The others - what frees a
terminal first, feeds last - give way where they would contradict those.
"""

from collections.abc import Collection, Iterator, Sequence

from planner.model.delta import Add, ChangeSupply, Cover, Cut, Hold, Move, Piggyback, Remove
from planner.model.facts import Facts
from planner.model.loom import split_address
from planner.workshop.order.demands import ends, parts, tank_shut, wires
from planner.workshop.order.reasons import (
    BATTERY_OFF,
    BATTERY_ON,
    EARTHED_LAST,
    FEEDS_LAST,
    FREES,
    ROOM,
    Constraint,
)
from planner.workshop.tasks.task import Task, is_pull
from planner.workshop.tasks.task_table import TaskTable
from planner.workshop.tasks.tasks import Work

FEED_NATURES = ("always-live", "ignition-live")


def constraints(
    work: Work,
    facts: Facts,
    batteries: frozenset[str],
    earthed: frozenset[str] = frozenset(),
    tanks: Collection[str] = (),
) -> tuple[Constraint, ...]:
    """Every demand on the order of a work; together they can always be met.

    ``batteries`` are the places where one comes out or goes in, ``earthed`` the earthed posts of all of them,
    ``tanks`` the places where a fuel tank is opened.
    """
    found: list[Constraint] = []
    before = [0] * len(work.tasks)  # as sets of bits: what has to be done before each task
    table = TaskTable(work)
    for demands in (
        _battery(table, batteries),
        tank_shut(table, tanks),
        parts(table),
        ends(table),
        wires(table),
        _freed(table),
        _earthed_post(table, earthed),
        _feeds_at_a_place(table, facts, batteries),
        _feeds_of_new_wires(table, facts, batteries),
    ):
        for one in demands:
            if one.first != one.then and not _reaches(before, one.then, one.first):
                found.append(one)
                before[one.then] |= 1 << one.first
    return tuple(dict.fromkeys(found))


def _reaches(before: Sequence[int], first: int, then: int) -> bool:
    """Whether one task has to be done before another already."""
    seen, waiting = 0, 1 << then
    while waiting:
        task = waiting.bit_length() - 1
        waiting &= ~(1 << task)
        seen |= 1 << task
        waiting |= before[task] & ~seen
    return bool(seen >> first & 1)


def _battery(table: TaskTable, batteries: frozenset[str]) -> Iterator[Constraint]:
    """Off before anything else is done, and on again when all else is done."""
    every = table.tasks
    put_on = {n for n, at in table.arrivals if split_address(at)[0] in batteries}
    supply = [n for n, t in every if isinstance(t.operation, ChangeSupply)]
    off = [n for n, t in every if t.at in batteries and _takes_off(t)]
    pulled = [n for n, t in every if is_pull(t, table.work.tasks)]  # before its ends go on, wherever
    on = [
        n
        for n, t in every
        if (t.at in batteries or n in put_on) and n not in (*supply, *off) and n not in pulled
    ]
    for n, _ in every:
        for first in supply:
            yield Constraint(first, n, BATTERY_OFF)
        if n not in (*supply, *off, *on):
            yield from (Constraint(first, n, BATTERY_OFF) for first in off)
            yield from (Constraint(n, then, BATTERY_ON) for then in on)


def _takes_off(task: Task) -> bool:
    """Whether a task takes something off, or insulates an end that came off."""
    operation = task.operation
    return isinstance(operation, Remove | Hold | Cut) or (
        isinstance(operation, Cover) and operation.wire is not None
    )


def _freed(table: TaskTable) -> Iterator[Constraint]:
    """What leaves a terminal, and what makes room on it, before what goes there."""
    room = [(n, t.operation.at) for n, t in table.tasks if isinstance(t.operation, Piggyback)]
    for then, at in table.arrivals:
        yield from (Constraint(n, then, ROOM) for n, here in room if here == at)
    for then, at in table.arrivals:
        if split_address(at)[0] not in ("earth", "joint", "feed", "loose", "unknown"):
            yield from (Constraint(n, then, FREES) for n, here in table.leavings if here == at)


def _earthed_post(table: TaskTable, earthed: frozenset[str]) -> Iterator[Constraint]:
    """What goes on the earthed post of a battery joins it to the vehicle: when everything else is done."""
    last = dict.fromkeys(n for n, at in table.arrivals if at in earthed)
    for then in last:
        yield from (Constraint(n, then, EARTHED_LAST) for n, _ in table.tasks if n not in last)


def _is_feed(facts: Facts, address: str) -> bool:
    """Whether the circuit before says of a conductor that it is live, always or with the ignition."""
    return facts.at(address).nature in FEED_NATURES


def _feeds_at_a_place(table: TaskTable, facts: Facts, batteries: frozenset[str]) -> Iterator[Constraint]:
    """At one place the ends of live conductors go on after the others."""
    live: list[int] = []
    dead: list[int] = []
    for n, _ in table.arrivals:
        task = table.work.tasks[n]
        if isinstance(task.operation, Move):
            (live if _is_feed(facts, task.operation.was) else dead).append(n)
        elif isinstance(task.operation, Add) and not _feeds(task, table, facts):
            dead.append(n)
    for then in live:
        at = table.work.tasks[then].at
        if at not in batteries:
            yield from (Constraint(n, then, FEEDS_LAST) for n in dead if table.work.tasks[n].at == at)


def _feeds(task: Task, table: TaskTable, facts: Facts) -> bool:
    """Whether a task puts a new wire on a conductor that was live before the work."""
    ends = table.work.after.find(str(task.wire)).ends
    return any(task.end in (None, n) and _is_feed(facts, end.at) for n, end in enumerate(ends))


def _feeds_of_new_wires(table: TaskTable, facts: Facts, batteries: frozenset[str]) -> Iterator[Constraint]:
    """The live end of a new wire goes on when everything else is done."""
    live = [
        n
        for n, t in table.tasks
        if isinstance(t.operation, Add) and not is_pull(t, table.work.tasks) and _feeds(t, table, facts)
    ]
    for then in live:
        others = [n for n, t in table.tasks if n not in live and t.at not in batteries]
        yield from (Constraint(n, then, FEEDS_LAST) for n in others)
