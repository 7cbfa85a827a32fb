"""Several push-on terminals on one terminal of a part: how the one that is put on finds room."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Add, Move
from planner.model.loom import split_address
from planner.model.wording import mark_words
from planner.workshop.names import Names
from planner.workshop.task import Task, is_pull


def room_words(names: Names, task: Task) -> Iterator[str]:
    """Yield how an end goes on a terminal with blades on which others are as well."""
    for at in dict.fromkeys(_put_on(names, task)):
        place, mark = split_address(at)
        fitted = names.after.places.get(place)
        terminal = names.catalogue.parts[fitted.part].terminals.get(mark) if fitted else None
        ends = len(names.after.ends_at.get(at, ()))
        if terminal is None or not terminal.fitting.startswith("blade") or ends < 2:
            continue
        tabs = names.after.piggybacks.count(at)
        if tabs:
            yield tr(
                "{ends} push-ons are on {mark} then: those that find no blade of its own go on its piggyback",
                ends=ends,
                mark=mark_words(mark),
            )
        else:
            yield tr(
                "{mark} has {blades} blades: this one on a free one, {ends} are on it then",
                mark=mark_words(mark),
                blades=terminal.holds,
                ends=ends,
            )


def _put_on(names: Names, task: Task) -> Iterator[str]:
    operation = task.operation
    if isinstance(operation, Move):
        yield operation.to
    elif isinstance(operation, Add) and not is_pull(task, names.ordered):
        ends = names.wire(operation.wire.wire).ends
        yield from (end.at for number, end in enumerate(ends) if task.end in (None, number))
