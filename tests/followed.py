"""What a person with the list in hand would stumble over: each function yields what cannot be followed."""

import re
from collections.abc import Iterator

from planner.model.catalogue import Catalogue
from planner.model.delta import ChangeFuse, Fit, Hold, Insert, Renew
from planner.model.elements import Fuse
from planner.model.joiners import is_new_joiner, joiner_end
from planner.model.loom import Loom, split_address
from planner.workshop.papers.replay import replay
from planner.workshop.steps.worklist import WorkList
from planner.workshop.tasks.task import is_pull


def made_in(work: WorkList) -> dict[str, int]:
    """What is new in the vehicle, in the words of the steps, and the step that makes or fits it."""
    names, after, before = work.names, work.names.after, work.names.before
    made: dict[str, int] = {}
    for number, task in enumerate(work.ordered, 1):
        operation = task.operation
        if isinstance(operation, Fit | Insert) and operation.at not in before.places:
            made.setdefault(after.place_title(operation.at), number)
        if isinstance(operation, Insert):
            made.setdefault(names.shown(operation.lead.wire), number)
        elif task.wire in names.new_wires:
            made.setdefault(names.shown(str(task.wire)), number)
    return made | {names.at(at): joiner.steps[0] for at, joiner in names.joiners.items()}


def named_too_early(work: WorkList) -> Iterator[tuple[str, str]]:
    """Yield steps that name what a later one makes or fits, without saying in which step it is needed."""
    made = made_in(work)
    for step in work.steps():
        later = [int(number) for number in re.findall(r"\bstep (\d+)", step.text)]
        for thing, number in made.items():
            is_said = re.search(rf"(?<![\w-]){re.escape(thing)}(?![\w-])", step.text)
            if is_said and number > step.n and not any(n >= number for n in later):
                yield step.text, thing


def with_the_wrong_terminal(
    before: Loom, after: Loom, catalogue: Catalogue
) -> Iterator[tuple[str, int, str]]:
    """Yield ends that are led elsewhere and do not go on there as they are in the end."""
    for wire in after.wires:
        for number, end in enumerate(wire.ends):
            was = before.end_address(wire.wire, number)
            place, mark = split_address(end.at)
            if was == end.at and before.places.get(place) == after.places.get(place):
                continue
            fitting = end.fitting or (_usual(before, was, catalogue) if was else None)
            if fitting is None:
                continue
            if is_new_joiner(before, end.at):
                is_cut = len(after.ends_at[end.at]) == 1
                wrong = fitting != joiner_end(after, end.at) and not is_cut
            else:
                part = catalogue.parts[after.places[place].part] if place in after.places else None
                wrong = part is not None and not part.terminals[mark].takes(fitting)
            if wrong:
                yield wire.wire, number, end.at


def _usual(loom: Loom, at: str, catalogue: Catalogue) -> str | None:
    place, mark = split_address(at)
    if place not in loom.places:
        return None
    terminal = catalogue.parts[loom.places[place].part].terminals.get(mark)
    return terminal.usual_end if terminal else None


def bare_between_visits(work: WorkList) -> Iterator[tuple[int, str]]:
    """Yield ends that hang bare when one goes from one place to another, and of which no step said a word."""
    before, steps = work.names.before, work.steps()
    was = {(w.wire, n) for w in before.wires for n, end in enumerate(w.ends) if end.at == "loose"}
    said: set[tuple[str, int]] = set()
    done = replay(work.work, work.ordered)
    for number, one in enumerate(done, 1):
        operation = one.task.operation
        if isinstance(operation, Hold):
            said.add((operation.wire, operation.end))
        if isinstance(operation, Renew) and "stays insulated until step" in steps[number - 1].text:
            said |= {(operation.wire, operation.first), (operation.wire, operation.last)}
        _, _, off = steps[number - 1].text.partition("insulate at once what goes on later: ")
        if off:
            place = split_address(operation.addresses[0])[0]
            said |= {(w, n) for w, n, _ in before.ends_of_place(place) if f"({w})" in off}
        if number < len(done) and done[number].task.at == one.task.at:
            continue
        for wire in one.after.wires:
            for n, end in enumerate(wire.ends):
                is_old = wire.wire in before.wire_index
                if is_old and end.at == "loose" and not end.covered and (wire.wire, n) not in was | said:
                    yield number, wire.wire


def puts_a_fuse_in(work: WorkList, catalogue: Catalogue) -> Iterator[str]:
    """Yield steps that bring a fuse into the vehicle and do not say that it goes in at first power."""
    changed = {t.operation.at.split(":")[0] for t in work.ordered if isinstance(t.operation, ChangeFuse)}
    for task, step in zip(work.ordered, work.steps(), strict=True):
        operation = task.operation
        brings = isinstance(operation, ChangeFuse) or (
            isinstance(operation, Fit | Insert)
            and operation.at not in changed
            and any(isinstance(e, Fuse) for e in catalogue.parts[operation.place.part].inside)
        )
        if brings and "first power" not in step.text:
            yield step.text


def new_ends_without_a_go(work: WorkList) -> Iterator[tuple[str, int]]:
    """Yield first goes at a new wire that say of its other end another step than the one that puts it on."""
    goes: dict[str, list[int]] = {}
    for number, task in enumerate(work.ordered, 1):
        if task.wire in work.names.new_wires and not isinstance(task.operation, Insert):
            goes.setdefault(str(task.wire), []).append(number)
    for wire, numbers in goes.items():
        first = work.ordered[numbers[0] - 1]
        text = work.steps()[numbers[0] - 1].text
        words = "that is in " if is_pull(first, work.ordered) else "its other end in "
        _, _, told = text.partition(words)
        said = [int(n) for n in re.findall(r"\bstep (\d+)", told)]
        if said[: len(numbers) - 1] != numbers[1:]:
            yield wire, numbers[0]


def ends_without_a_word(work: WorkList) -> Iterator[tuple[str, int, str]]:
    """Yield ends that come off or are new, and of which no step says where they go or that they are covered.

    Where the terminal of a chain's end is gone, it is two wires, and the step has to say so.
    """
    names, steps = work.names, work.steps()
    done = replay(work.work, work.ordered)
    loom = names.before
    left: dict[tuple[str, int], int] = {}  # the last step that did something to an end
    for number, one in enumerate(done):
        for wire in one.after.wires:
            was = loom.find(wire.wire) if wire.wire in loom.wire_index else None
            for n, end in enumerate(wire.ends):
                if was is None or was.ends[n] != end:
                    left[wire.wire, n] = number
        loom = one.after
    for (wire, n), number in left.items():
        end, text = names.after.find(wire).ends[n], steps[number].text
        shown = names.shown(wire)
        is_said = re.search(rf"(?<!\w){re.escape(shown)}(?!\w)", text)
        goes = (end.at == "loose" and not end.covered) or not is_said
        in_joiner = end.at in names.joiners and 0 < n < len(names.after.find(wire).ends) - 1
        if goes or (in_joiner and "both" not in text):
            yield wire, n, text
