"""What lies in a taped bundle and is laid anew: the bundle is opened for it, and wrapped again."""

from collections.abc import Iterator, Mapping

from planner.messages import tr
from planner.model.bench_sheet import Material, Use
from planner.model.delta import Renew
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def bundle_words(names: Names, task: Task) -> Iterator[str]:
    """Yield how a step comes to a wire in a bundle, and when that is wrapped again."""
    if not isinstance(task.operation, Renew) or not (bundle := names.wire(task.operation.wire).bundle):
        return
    steps = tuple(_opened(names)[bundle])
    number = names.number(task)
    yield (
        tr(
            "it lies in the bundle {bundle!r}: open the wrapping as far as the wire goes, nick none of the "
            "others, and lay the new one where the old one lay",
            bundle=bundle,
        )
        if number == steps[0]
        else tr("it lies in the bundle {bundle!r}, open since step {step}", bundle=bundle, step=steps[0])
    )
    yield (
        tr("wrap the bundle again")
        if number == steps[-1]
        else tr("the bundle stays open until step {step}", step=steps[-1])
    )


def wrapping(names: Names) -> Iterator[Material]:
    """Yield what the bundles that are opened are wrapped with again, as long as the longest wire in each."""
    uses = tuple(Use(max(laid), max(laid.values())) for laid in _opened(names).values())
    if uses:
        what = tr("wrapping tape or sleeving for a bundle that is opened")
        note = tr("as long as what is wrapped: of tape it takes several times that")
        yield Material("wrapping", what, "m", uses, note)


def _opened(names: Names) -> Mapping[str, Mapping[int, float]]:
    """The bundles that are opened: by the steps that lay a wire of theirs anew, how long that is."""
    opened: dict[str, dict[int, float]] = {}
    for number, task in enumerate(names.ordered, 1):
        operation = task.operation
        if isinstance(operation, Renew):
            wire = names.wire(operation.wire)
            if wire.bundle:
                legs = range(operation.first, operation.last)
                metres = round(sum(wire.leg_metres(leg) for leg in legs), 2)
                opened.setdefault(wire.bundle, {})[number] = metres
    return opened
