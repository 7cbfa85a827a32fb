"""What guards a new wire or ring that is live without a fuse: sleeving over its length, a boot over its ring.

A wire that is so only while something is switched on gets its sleeving too.

Nothing blows when such a wire chafes through, or a spanner falls across such a ring: common practice,
no source.
"""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.bench_sheet import Material, Use
from planner.model.delta import Add, Extend, Insert, ReEnd, Renew
from planner.model.loom import split_address
from planner.workshop.ends.crimps import (
    RINGS,
    Crimp,
    crimp_mm2,
    fitting_like_the_old,
    re_ends,
    terminal_words,
)
from planner.workshop.ends.names import Names
from planner.workshop.materials.pieces import Piece
from planner.workshop.tasks.task import Task, is_pull


def guards(names: Names, made: Sequence[Piece], old: Sequence[Crimp]) -> Iterator[Material]:
    """Yield boots by the rings that they go over, and sleeving by the wires; ``old`` are of old wires."""
    boots: dict[tuple[str, float], list[Use]] = {}
    ends = (end for piece in made for end in piece.ends if end.at not in piece.goes_with)
    for crimp in (*ends, *old):
        if is_booted(names, crimp.at, crimp.fitting):
            size = (terminal_words(crimp.fitting or ""), crimp_mm2(names, crimp.mm2))
            boots.setdefault(size, []).append(Use(crimp.step))
    for (ring, mm2), uses in sorted(boots.items()):
        what = tr("insulating boot for a {ring}, for {size}", ring=ring, size=names.size(mm2))
        yield Material("boot", what, "pieces", tuple(uses), tr("over what is live without a fuse"))
    sleeving: dict[float, list[Use]] = {}
    for piece in made:
        if is_sleeved(names, piece):
            sleeving.setdefault(piece.mm2, []).append(Use(piece.step, piece.metres))
    for mm2, uses in sorted(sleeving.items()):
        what = tr("sleeving or conduit over a wire of {size}", size=names.size(mm2))
        yield Material("conduit", what, "m", tuple(uses), tr("over what is live without a fuse"))


def is_booted(names: Names, at: str, fitting: str | None) -> bool:
    """Whether a boot goes over an end: a ring that is live without a fuse, on no stud with its own cover."""
    is_ring = (fitting or "").startswith(RINGS)
    return is_ring and at in names.unfused and split_address(at)[0] != "joint"


def is_sleeved(names: Names, piece: Piece) -> bool:
    """Whether a length of wire is live without a fuse, always or while something is switched on."""
    at = piece.longer_at or piece.ends[0].at
    return at in names.unfused_switched


def guard_words(names: Names, task: Task) -> Iterator[str]:
    """Yield how what a step makes is guarded where it is live without a fuse."""
    wire = _made(names, task)
    at = names.wire(wire).ends[0].at if wire else ""
    if at in names.unfused_switched and isinstance(task.operation, Extend):
        yield tr(
            "no fuse is before this wire: sleeving over the new piece, and lay it clear of edges, of what "
            "moves and of what gets hot"
        )
    elif at in names.unfused_switched:
        yield tr(
            "no fuse is before this wire: sleeving over its whole length, and lay it as short as it goes, "
            "clear of edges, of what moves and of what gets hot"
        )
    if at in names.unfused and task.end is not None:
        yield tr("tape its other end until that goes on")
    if booted := boots_on(names, task):
        ends = tr(" and ").join(names.at(at) for at in booted)
        yield tr("an insulating boot over its ring on {ends}: live without a fuse", ends=ends)


def boots_on(names: Names, task: Task) -> tuple[str, ...]:
    """Where a step puts a boot over a ring that it crimps or puts on new."""
    return tuple(at for at, fitting in _rings(names, task) if is_booted(names, at, fitting))


def _made(names: Names, task: Task) -> str:
    """The wire that a step makes, whole or a piece of it; empty where it makes none."""
    operation = task.operation
    if isinstance(operation, Add):
        first = next(other for other in names.ordered if other.step is task.step)
        return operation.wire.wire if first is task else ""
    if isinstance(operation, Renew | Extend):
        return operation.wire
    return operation.lead.wire if isinstance(operation, Insert) else ""


def _rings(names: Names, task: Task) -> Iterator[tuple[str, str | None]]:
    """Yield the ends that a step crimps or puts on new, each by its address and fitting."""
    operation = task.operation
    if isinstance(operation, ReEnd):
        yield operation.at, operation.fitting
    elif isinstance(operation, Extend):
        if not re_ends(names, operation.wire, operation.end):
            yield operation.at, fitting_like_the_old(names, operation.wire, operation.end)
    elif isinstance(operation, Add | Renew | Insert) and not is_pull(task, names.ordered):
        wire = names.wire(_wire_of(operation))
        for number, end in enumerate(wire.ends):
            if _puts_on(task, operation, number):
                yield end.at, end.fitting or names.usual_end(end.at)


def _wire_of(operation: Add | Renew | Insert) -> str:
    if isinstance(operation, Add):
        return operation.wire.wire
    return operation.wire if isinstance(operation, Renew) else operation.lead.wire


def _puts_on(task: Task, operation: Add | Renew | Insert, end: int) -> bool:
    """Whether a step puts an end of its wire on: of a new one in two goes, one of them."""
    if isinstance(operation, Renew):
        return operation.first <= end <= operation.last
    return isinstance(operation, Insert) or task.end in (None, end)
