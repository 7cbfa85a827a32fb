"""Amps and volts of a plan: what is over its limit, what is near it, and what stands behind the figures."""

from collections.abc import Iterator, Sequence
from math import isfinite

from planner.model.plan import CurrentsLine, DeadTestLine, LoadLine, Plan, StrainLine
from planner.model.wording import counted
from planner.sheets.sheet import Block, Cell, Item, Listing, Meaning, Table, say

SHOWN = 8  # of those within their limits, the tightest
OPEN_FROM = 1e6  # ohms: leakage of diodes, which a meter's usual ranges show as open
NEARLY = 0.95
NEAR = 0.5  # share of a limit below which nobody needs to be told
WAYS_TOLD = ("sneak", "reversed", "not-charging")  # where the way of the current is what is wrong
_SIGNS = {  # what is neither too much nor too little
    "reversed": "WRONG WAY",
    "polarity": "WRONG WAY",
    "gauge": "READS WRONG",
    "not-charging": "DEAD",
    "unsettled": "NOT SOLVED",
}
OLD_SHOWN = 5  # of those that were over their limit before
_LOAD_HEADINGS = ("Load", "Least V", "Before V", "Most V", "Rated V", "Looks then", "Least when")


def currents(plan: Plan, *, everything: bool) -> tuple[Block, ...]:
    """What a plan answers for first, then what was so before, then the tightest margins; or everything."""
    return tuple(_blocks(plan, everything))


def _blocks(plan: Plan, everything: bool) -> Iterator[Block]:
    new = _weakest([line for line in plan.strains if line.is_new])
    told = [line for line in plan.strains if line.is_over and not line.is_new]
    old = _weakest([line for line in told if line.was_over])
    just = _weakest([line for line in told if not line.was_over])
    within = [line for line in plan.strains if not line.is_over]
    if new:
        yield Listing(tuple(_item(line, _sign(line), "bad" if line.is_dangerous else "warn") for line in new))
    else:
        clearly = "clearly " if just else ""
        yield say(f"Nothing that the work touches {clearly}passes a limit that it kept before.", "good")
    if just:
        yield say("Since the work these pass a usual limit a little, which is no sharper than that:", "note")
        yield Listing(tuple(_item(line, "JUST OVER", "note") for line in just))
    if old:
        shown = old if everything else old[:OLD_SHOWN]
        yield say("These were past a usual limit before the work, and are hardly worse for it:", "note")
        yield Listing(tuple(_item(line, "BEFORE", "note") for line in shown))
        if len(old) > len(shown):
            yield say(f"And {len(old) - len(shown)} more; --all shows them.", "quiet")
    near = within if everything else _weakest([line for line in within if _is_near(line)])[:SHOWN]
    if near:
        yield say("Within limits, the tightest first:")
        yield Table(("Used", "What", "Worst"), tuple(_row(line) for line in near))
        if len(within) > len(near):
            yield say(
                f"{len(within) - len(near)} more values are within their limits; --all shows them.", "quiet"
            )
    if everything and plan.currents is not None and plan.currents.loads:
        yield say("Volts at every load, over all positions in which it is meant to work fully:")
        yield Table(_LOAD_HEADINGS, tuple(_load_row(line) for line in plan.currents.loads))
        yield say(plan.currents.appearance, "quiet")
    if everything and plan.currents is not None and plan.currents.dead_tests:
        yield say("Dead test, battery off and everything at rest: ohms from each fuse to the body")
        yield Table(("Fuse", "Lamps in", "Lamps out"), tuple(map(_dead_row, plan.currents.dead_tests)))
        yield say("Cold filaments read a tenth of what they are alight: that is no short.", "quiet")
    yield from _behind(plan, [*new, *near])


def _sign(line: StrainLine) -> str:
    """Which way a value is wrong, in a word."""
    return _SIGNS.get(line.kind, "TOO LITTLE" if line.is_least else "TOO MUCH")


def _lying(covered: CurrentsLine) -> str:
    """What the wires are taken to lie with and to be made of."""
    if covered.bundles:
        lie = (
            "Wires warm one another where the loom says that they lie together; what it leaves out lies alone"
        )
    else:
        lie = "The loom does not say which wires lie together: each is judged as lying alone"
    if covered.insulations:
        return f"{lie}. Insulation is as the loom says, and pvc where it says nothing."
    return f"{lie}, with insulation of pvc."


def _dead_row(line: DeadTestLine) -> tuple[Cell, ...]:
    return (Cell(line.text), Cell(_ohms(line.ohms)), Cell(_ohms(line.ohms_lamps_out)))


def _ohms(ohms: float) -> str:
    """A reading as a meter shows it."""
    return "open" if not isfinite(ohms) or ohms > OPEN_FROM else f"{ohms:.3g}"


def _load_row(line: LoadLine) -> tuple[Cell, ...]:
    before = "-" if line.before_least_volts is None else f"{line.before_least_volts:.2f}"
    return (
        Cell(f"{line.title}: {line.what}"),
        Cell(f"{line.least_volts:.2f}"),
        Cell(before),
        Cell(f"{line.most_volts:.2f}"),
        Cell(f"{line.rated_volts:g}"),
        Cell(line.looks),
        Cell(line.least_when, "quiet"),
    )


def _is_near(line: StrainLine) -> bool:
    """Whether a margin is worth a line: every lamp gets four fifths of what is too much for it."""
    return line.use >= (NEARLY if line.kind in ("over-voltage", "overheats") else NEAR)


def _weakest(lines: Sequence[StrainLine]) -> list[StrainLine]:
    """Of the wires behind one fuse that is too large for them only the weakest: it decides the fuse."""
    fuses = set()
    kept = []
    for line in lines:
        if line.kind != "fuse-over-wire" or line.path not in fuses:
            kept.append(line)
        if line.kind == "fuse-over-wire":
            fuses.add(line.path)
    return kept


def _item(line: StrainLine, sign: str, meaning: Meaning) -> Item:
    below = [Cell(f"worst {line.when}")]
    if line.before is not None:
        below.append(Cell(f"before: {line.before:.3g} {line.unit}", "quiet"))
    if line.path and line.is_new and line.kind in WAYS_TOLD:
        below.append(Cell(f"way: {' > '.join(line.path)}", "quiet"))
    below.append(Cell(f"limit: {line.source}{_from_memory(line)}", "quiet"))
    return Item(Cell(sign, meaning), Cell(line.text), tuple(below))


def _row(line: StrainLine) -> tuple[Cell, ...]:
    return (Cell(f"{100 * line.use:.0f} %"), Cell(line.text), Cell(line.when, "quiet"))


def _from_memory(line: StrainLine) -> str:
    return " (from memory)" if line.is_from_memory else ""


def _behind(plan: Plan, shown: Sequence[StrainLine]) -> Iterator[Block]:
    """Yield where the limits come from and what was computed."""
    sources = dict.fromkeys(f"{line.source}{_from_memory(line)}" for line in shown if not line.is_over)
    if sources:
        yield say(f"Limits: {'; '.join(sources)}.", "quiet")
    if plan.currents is not None:
        covered = plan.currents
        if covered.assumed:
            yield say(
                f"Assumed, since nobody has read it in this vehicle: {'; '.join(covered.assumed)}. What is "
                "said of amps and volts here is no better than that: read it, and enter it in the loom.",
                "warn",
            )
        yield say(
            f"{counted(covered.points, 'operating point')} of the whole loom solved; currents add up at "
            f"every joint within {covered.worst_residual_amps:.0e} A. The battery is taken as charged to "
            f"{covered.charge_percent:g} %, wires at {covered.wire_celsius:g} C, contacts, crimps and "
            f"earths as good ones; a worn one loses more. {_lying(covered)} The rating "
            "printed on a part or given by its maker outranks anything said here.",
            "note",
        )
