"""Several ends on one terminal of a part: how each finds room, or a blade of its own or of a piggyback."""

from collections import Counter
from collections.abc import Iterator

from planner.messages import later, tr
from planner.model.delta import Add, Fit, Insert, Move, Piggyback
from planner.model.loom import split_address
from planner.model.part import Terminal
from planner.model.wording import mark_words
from planner.workshop.ends.batteries import is_battery
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task, is_pull

_HELD = {
    "screw": later("{ends} ends are under the screw of {mark} then, side by side"),
    "stud": later("{ends} rings are on {mark} then, the thickest at the bottom"),
}


def room_words(names: Names, task: Task) -> Iterator[str]:
    """Yield how an end goes on a terminal with blades on which others are as well."""
    if isinstance(task.operation, Fit):
        yield from _stay_together(names, task.operation)
    elif isinstance(task.operation, Piggyback) and _is_full(names, task, task.operation.at):
        yield _makes_room(names, task.operation.at)
    for at in dict.fromkeys(_put_on(names, task)):
        place, mark = split_address(at)
        terminal, ends = _terminal(names, at), len(names.after.ends_at.get(at, ()))
        if terminal is None or ends < 2 or is_battery(names, place):
            continue
        if held := _HELD.get(terminal.fitting.partition("-")[0]):
            yield tr(held).format(mark=mark_words(mark), ends=ends)
        elif blades := _blades(names, at):
            yield _room(names, at, blades, ends)


def _room(names: Names, at: str, blades: int, ends: int) -> str:
    """How an end finds room on a terminal on which there are so many in the end."""
    values = {"mark": mark_words(split_address(at)[1]), "blades": blades, "ends": ends}
    if at in names.after.piggybacks and blades == 1:
        return tr("{mark} has one blade: with its piggyback there is room for the {ends} push-ons", **values)
    sharing = _sharing(names, at)
    if sharing and len(sharing) == ends:
        pairs = (
            tr("{one} with {other}", one=names.named(*light), other=names.named(*heavy))
            for light, heavy in zip(sharing, sharing[: ends // 2 - 1 : -1], strict=False)
        )
        return tr(
            "{mark} has {blades} blades: with a piggyback on each there is room for the {ends} push-ons, "
            "{pairs}",
            pairs=tr(" and ").join(pairs),
            **values,
        )
    if sharing:
        wires = tr(" and ").join(names.named(wire, end) for wire, end in sharing)
        return tr(
            "{mark} has {blades} blades: {ends} push-ons are on it then, {wires}, which carry least, on the "
            "piggyback, each other on a blade of its own",
            wires=wires,
            **values,
        )
    return tr("{mark} has {blades} blades: this one on a free one, {ends} are on it then", **values)


def _sharing(names: Names, at: str) -> list[tuple[str, int]]:
    """The ends that share a piggyback on a terminal of several blades: those that carry least."""
    ends = names.after.ends_at.get(at, ())
    over = min(len(ends) - _blades(names, at), names.after.piggybacks.count(at))
    return sorted(ends, key=lambda end: names.carries(*end))[: 2 * max(0, over)]


def _makes_room(names: Names, at: str) -> str:
    """Which push-on comes off its blade for a piggyback."""
    before = set(names.before.ends_at.get(at, ()))
    old = [end for end in _sharing(names, at) if end in before]
    if _blades(names, at) > 1 and old:
        wire = names.named(*old[0])
        return tr("the push-on of {wire} comes off its blade for it, and goes on the piggyback", wire=wire)
    return tr("one push-on comes off its blade for it, and goes on the piggyback")


def _stay_together(names: Names, fit: Fit) -> Iterator[str]:
    """Yield which terminals of a new part have a blade for each of several ends that go on with it."""
    staying = Counter(move.to for move in names.work.stays.get(fit.at, ()))
    marks = [
        tr("{mark} has {blades}", mark=mark_words(split_address(at)[1]), blades=_blades(names, at))
        for at, ends in staying.items()
        if 1 < ends <= _blades(names, at)
    ]
    if marks:
        yield tr("each push-on has a blade of its own: {marks}", marks=", ".join(marks))


def _is_full(names: Names, task: Task, at: str) -> bool:
    """Whether each blade of a terminal has an end on it when a task is done: put on before, or staying."""
    done = names.ordered[: names.number(task) - 1]
    on = sum(_put_on_by(names, other, at) for other in done)
    if split_address(at)[0] not in names.work.swapped:
        kept = set(names.before.ends_at.get(at, ())) & set(names.after.ends_at.get(at, ()))
        on += len(kept)
    return on >= _blades(names, at) > 0


def _put_on_by(names: Names, task: Task, at: str) -> int:
    """How many ends a task puts on a terminal; with a part go the ends that stay on it."""
    if isinstance(task.operation, Fit):
        return sum(move.to == at for move in names.work.stays.get(task.operation.at, ()))
    return sum(to == at for to in _put_on(names, task))


def _blades(names: Names, at: str) -> int:
    """How many blades a terminal has; 0 if it has none."""
    terminal = _terminal(names, at)
    return terminal.holds if terminal and terminal.fitting.startswith("blade") else 0


def _terminal(names: Names, at: str) -> Terminal | None:
    place, mark = split_address(at)
    fitted = names.after.places.get(place)
    return names.catalogue.parts[fitted.part].terminals.get(mark) if fitted else None


def _put_on(names: Names, task: Task) -> Iterator[str]:
    operation = task.operation
    if isinstance(operation, Move):
        yield operation.to
    elif isinstance(operation, Insert):
        yield names.wire(operation.lead.wire).ends[-1].at
    elif isinstance(operation, Add) and not is_pull(task, names.ordered):
        ends = names.wire(operation.wire.wire).ends
        yield from (end.at for number, end in enumerate(ends) if task.end in (None, number))
