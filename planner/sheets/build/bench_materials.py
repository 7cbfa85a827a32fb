"""Materials, the cutting plan, how new wires are made, and the labels."""

from collections.abc import Sequence

from planner.model.bench_sheet import BenchSheet, CuttingPlan, MadeWire, Material
from planner.model.measures import length_words
from planner.model.wording import colour_words, counted
from planner.sheets.sheet import NOTHING, Block, Cell, Item, Listing, Table, say
from planner.workshop.made_wires import ALLOWANCE_METRES

MATERIAL_HEADINGS = ("What", "Needed", "On hand", "To buy", "Steps")


def making(bench: BenchSheet) -> tuple[Block, ...]:
    """How each new wire is made."""
    if not bench.making:
        return (say("None.", "good"),)
    return (Listing(tuple(_made(wire) for wire in bench.making)),)


def _made(wire: MadeWire) -> Item:
    size = f"{colour_words(wire.colour)}, {wire.mm2:g} mm2"
    if wire.from_stock:
        body = f"{size}: the finished lead of {length_words(wire.metres)} from the stock"
        below: tuple[Cell, ...] = ()
    else:
        body = f"{size}: cut {length_words(wire.cut_metres)}, {wire.metres:g} m as it lies"
        when = "it goes behind trim: only when it is pulled through, " if wire.is_pulled else ""
        sleeves = {0: "", 1: "; one sleeve on first", 2: "; both sleeves on first"}[min(wire.sleeves, 2)]
        below = (Cell(f"{when}crimp {' and '.join(wire.ends)}{sleeves}; tug each"),)
    labels = tuple(Cell(f"label: {text}") for text in wire.labels)
    return Item(Cell(wire.wire, "strong"), Cell(body), (*below, *labels), tick=f"#make {wire.wire}")


def materials(bench: BenchSheet) -> tuple[Block, ...]:
    """Everything that is needed, with what is to be bought."""
    if not bench.materials:
        return ()
    rows = tuple(tuple(Cell(text) for text in material_row(line)) for line in bench.materials)
    allowance = (
        "On hand is what the job names: the parts it swaps in, and its stock. "
        f"Lengths are those on the work list and {ALLOWANCE_METRES:g} m a piece more, for stripping and a "
        "crimp that goes wrong (common practice, no source). AWG: the next even gauge that is not thinner."
    )
    return (Table(MATERIAL_HEADINGS, rows), say(allowance, "quiet"))


def material_row(line: Material) -> tuple[str, ...]:
    """One line of the materials as texts; what is asked for in a shop in both systems."""
    note = counted(len(line.uses), "piece") if line.kind == "wire" else line.note
    what = f"{line.what} ({note})" if note else line.what
    needed, on_hand = (f"{n:g} m" if line.unit == "m" else f"{n:g}" for n in (line.amount, line.on_hand))
    to_buy = length_words(line.to_buy) if line.unit == "m" else f"{line.to_buy:g}"
    steps = ", ".join(str(n) for n in line.steps) if line.kind != "label" else ""
    return (what, needed, on_hand if line.on_hand else "-", to_buy if line.to_buy else "-", steps)


def cutting(bench: BenchSheet) -> tuple[Block, ...]:
    """What is cut from what; nothing if the stock has no wire to cut from."""
    plans = [plan for plan in bench.cutting if plan.cuts]
    return (Listing(tuple(item for plan in plans for item in _cut(plan))),) if plans else ()


def _cut(plan: CuttingPlan) -> Sequence[Item]:
    wire = f"{colour_words(plan.colour)}, {plan.mm2:g} mm2"
    items = [
        Item(
            NOTHING,
            Cell(
                f"{wire}, the length of {cut.stock_metres:g} m: "
                f"{', '.join(f'{metres:g} m for {name}' for name, metres in cut.pieces)}; "
                f"{cut.left_metres:g} m left"
            ),
            tick=f"#cut {plan.colour} {plan.mm2:g} {number}",
            is_ticked=cut.is_done,
        )
        for number, cut in enumerate(plan.cuts, 1)
    ]
    if plan.to_buy:
        pieces = ", ".join(f"{metres:g} m for {name}" for name, metres in plan.to_buy)
        items.append(Item(Cell("-"), Cell(f"{wire}: no length of the stock is left for {pieces}")))
    proof = (
        "every way to cut was looked at: none buys less, or leaves less of what it cuts into"
        if plan.is_proven
        else "not every way to cut was looked at"
    )
    bound = f"{wire}: {plan.left_metres:g} m left in all, at least {plan.left_at_least:g} m must be; {proof}"
    return [*items, Item(Cell("-"), Cell(bound, "quiet"))]


def labels(bench: BenchSheet) -> tuple[Block, ...]:
    """The text of every label strip, one for each wire end that is worked on."""
    if not bench.labels:
        return ()
    rows = tuple(
        (Cell(label.wire, "strong"), Cell(label.colour), Cell(label.at), Cell(label.note))
        for label in bench.labels
    )
    return (
        say(
            "One for each end, on before the end comes off; what stands on it is where the end goes.", "quiet"
        ),
        Table(("Wire", "Colour", "Place and mark", "Besides"), rows, are_strips=True),
    )
