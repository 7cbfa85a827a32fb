"""What is needed besides wire and terminals: piggybacks, sleeves, caps, joiners, fuses, a draw cord."""

from collections import Counter
from collections.abc import Iterator, Sequence

from planner.model.bench_sheet import Material
from planner.model.delta import ChangeFuse, Cover, Join, Piggyback, ReEnd
from planner.model.loom import split_address
from planner.workshop.made_wires import SLEEVED, Piece
from planner.workshop.names import Names
from planner.workshop.tasks import Task, is_pull

CORD_METRES = 1.0  # more than the wire behind trim, to hold on to at both ends; common practice, no source


def small_things(
    names: Names, steps: Sequence[tuple[int, Task]], made: Sequence[Piece]
) -> Iterator[Material]:
    """Yield piggybacks, sleeves, caps, joiners, fuses and cord."""
    tabs: dict[str, list[int]] = {}
    sleeves: list[int] = [piece.step for piece in made if not piece.from_stock for _ in range(piece.sleeves)]
    caps: list[int] = []
    fuses: dict[float, list[int]] = {}
    joiners: dict[int, list[int]] = {}
    cord: list[tuple[int, float]] = []
    for number, task in steps:
        operation = task.operation
        if isinstance(operation, Piggyback):
            tabs.setdefault(_blade(names, operation.at), []).append(number)
        elif isinstance(operation, ReEnd) and operation.fitting.startswith(SLEEVED):
            sleeves.append(number)
        elif isinstance(operation, Cover):
            caps.append(number)
        elif isinstance(operation, ChangeFuse):
            fuses.setdefault(operation.amps, []).append(number)
        elif is_pull(task, [other for _, other in steps]):
            cord.append((number, next(p.metres for p in made if p.step == number) + CORD_METRES))
    for joint, ways in _new_joints(names).items():
        joiners.setdefault(ways, []).extend(_steps_at(steps, joint))
    for kind, uses in sorted(tabs.items()):
        yield Material("piggyback", f"piggyback push-on terminal, {kind}", len(uses), "pieces", 0, once(uses))
    if sleeves:
        yield Material("sleeve", "insulating sleeve for a terminal", len(sleeves), "pieces", 0, once(sleeves))
    if caps:
        what = "insulating cap or sleeve, with a tie"
        yield Material("cap", what, len(caps), "pieces", 0, once(caps), "for ends and terminals covered")
    counted = Counter(ways for ways in _new_joints(names).values())
    for ways, count in sorted(counted.items()):
        yield Material(
            "joiner", f"insulated joiner for {ways} wires", count, "pieces", 0, once(joiners[ways])
        )
    splices = [piece.step for piece in made for _ in range(piece.joiners)]
    if splices:
        yield Material(
            "joiner", "insulated joiner for 2 wires, crimped", len(splices), "pieces", 0, once(splices)
        )
    for amps, uses in sorted(fuses.items()):
        yield Material("fuse", f"fuse, {amps:g} A continuous", len(uses), "pieces", 0, once(uses))
    if cord:
        metres = round(sum(m for _, m in cord), 2)
        yield Material("cord", "draw cord", metres, "m", 0, once([n for n, _ in cord]))


def once(numbers: Sequence[int]) -> tuple[int, ...]:
    """Each number once, in order."""
    return tuple(sorted(set(numbers)))


def _blade(names: Names, address: str) -> str:
    """The size of the tab that a piggyback goes on."""
    fitting = names.usual_end(address) or ""
    kind, _, size = fitting.partition("-")
    return f"{size} mm" if kind == "blade" else "to suit"


def _new_joints(names: Names) -> dict[str, int]:
    """How many ends each joiner takes that the work adds."""
    return {
        at: len(ends)
        for at, ends in names.after.ends_at.items()
        if split_address(at)[0] == "joint" and at not in names.before.ends_at
    }


def _steps_at(steps: Sequence[tuple[int, Task]], joint: str) -> list[int]:
    """The steps that put an end into a joiner."""
    found = []
    for number, task in steps:
        operation = task.operation
        addresses = (operation.joint,) if isinstance(operation, Join) else operation.addresses
        if joint in addresses:
            found.append(number)
    return found
