"""Materials, the cutting plan, how new wires are made, and the labels."""

from collections.abc import Sequence

from planner.messages import tr, tr_count
from planner.model.bench_sheet import BenchSheet, CuttingPlan, MadeEnd, MadeWire, Material
from planner.model.measures import length_words
from planner.model.wording import colour_words, run_words
from planner.sheets.sheet import NOTHING, Block, Cell, Item, Listing, Table, say
from planner.workshop.materials.pieces import ALLOWANCE_METRES

# Steps that leave a new crimp, joint or cap at their place.
ENDS_MADE = {"add", "connect", "cover", "cut", "extend", "insert", "join", "make", "re-end", "renew"}


def making(bench: BenchSheet) -> tuple[Block, ...]:
    """How each new wire is made; nothing where none is."""
    if not bench.making:
        return ()
    how = tr(
        "Lengths are reckoned: measure each wire along its way before you cut it. For each end in this "
        "order: the label, what is slid on, the terminal. Cut square, strip as long as the crimp's barrel, "
        "and nick no strand (common practice, no source)."
    )
    return (say(how, "quiet"), Listing(tuple(_made(wire) for wire in bench.making)))


def _made(wire: MadeWire) -> Item:
    which = f"{colour_words(wire.colour)}, {wire.size}"
    if wire.from_stock:
        length = length_words(wire.metres)
        body = tr("{which}: the finished lead of {length} from the stock", which=which, length=length)
    else:
        lengths = {"cut": length_words(wire.cut_metres), "lies": length_words(wire.metres)}
        body = tr("{which}: cut {cut}, {lies} as it lies", which=which, **lengths)
        if wire.is_pulled:
            body = tr("{wire}; it goes behind trim: crimp it only when it is pulled through", wire=body)
    ends = tuple(Cell(_end(wire, end)) for end in wire.ends)
    return Item(Cell(wire.wire, "strong"), Cell(body), ends, tick=f"#make {wire.wire}")


def _end(wire: MadeWire, end: MadeEnd) -> str:
    """What goes on one end, in the order in which it goes on; the label says where the end goes."""
    values = {"label": end.label, "terminal": end.terminal, "sleeves": _slid_on(end.sleeves)}
    if wire.from_stock:
        said = tr("label: {label}", **values)
    elif end.is_shared:
        said = tr("label: {label}; strip it: it goes into the same terminal as the leg before", **values)
    elif not end.is_crimped and end.sleeves:
        said = tr("label: {label}; slide on {sleeves} first, then strip it, and leave it bare", **values)
    elif not end.is_crimped:
        said = tr("label: {label}; strip it, and leave it bare", **values)
    elif end.sleeves:
        said = tr("label: {label}; slide on {sleeves} first, then crimp {terminal}, and tug", **values)
    else:
        said = tr("label: {label}; crimp {terminal}, and tug", **values)
    return tr("{made} (in step {step})", made=said, step=end.step) if wire.is_pulled else said


def _slid_on(sleeves: Sequence[str]) -> str:
    """What is slid on an end, in that order."""
    return tr(" and ").join(filter(None, (", ".join(sleeves[:-1]), *sleeves[-1:])))


def materials(bench: BenchSheet) -> tuple[Block, ...]:
    """Everything that is needed, with what is to be bought."""
    if not bench.materials:
        return ()
    rows = tuple(tuple(Cell(text) for text in material_row(line)) for line in bench.materials)
    allowance = tr(
        "On hand is what the job names: the parts it swaps in, and its stock. Lengths are those on the work "
        "list and {metres:g} m a piece more, for stripping and a crimp that goes wrong (common practice, no "
        "source). AWG: the next even gauge that is not thinner.",
        metres=ALLOWANCE_METRES,
    )
    headings = (tr("What"), tr("Needed"), tr("On hand"), tr("To buy"), tr("Steps"))
    return (Table(headings, rows), *_wet(bench), say(allowance, "quiet"))


def _wet(bench: BenchSheet) -> tuple[Block, ...]:
    """Where new ends, joiners and caps get wet, and what they want there."""
    after = bench.after
    zones = [
        after.places[step.place].zone if step.place in after.places else step.place.removeprefix("earth:")
        for step in bench.plan.steps
        if step.do in ENDS_MADE
    ]
    wet = [after.zones[zone].title or zone for zone in dict.fromkeys(zones) if zone in after.zones
           and after.zones[zone].wet]  # fmt: skip
    if not wet:
        return ()
    text = tr(
        "It gets wet in: {zones}. Shrink sleeves with glue inside and sealed joiners are for what is made "
        "there; let wires come to a connector from below (common practice, no source).",
        zones=", ".join(wet),
    )
    return (say(text),)


def material_row(line: Material) -> tuple[str, ...]:
    """One line of the materials as texts; what is asked for in a shop in both systems."""
    note = line.note
    if line.kind == "wire":
        note = tr_count("{count} piece", "{count:,} pieces", len(line.uses))
    what = f"{line.what} ({note})" if note else line.what
    amounts = (line.amount, line.on_hand, line.to_buy)
    needed, on_hand, to_buy = (length_words(n) if line.unit == "m" else f"{n:g}" for n in amounts)
    steps = run_words(line.steps) if line.kind != "label" else ""
    return (what, needed, on_hand if line.on_hand else "-", to_buy if line.to_buy else "-", steps)


def cutting(bench: BenchSheet) -> tuple[Block, ...]:
    """What is cut from what; nothing if the stock has no wire to cut from."""
    plans = [plan for plan in bench.cutting if plan.cuts]
    return (Listing(tuple(item for plan in plans for item in _cut(plan))),) if plans else ()


def _cut(plan: CuttingPlan) -> Sequence[Item]:
    wire = f"{colour_words(plan.colour)}, {plan.size}"
    items = [
        Item(
            NOTHING,
            Cell(
                tr(
                    "{wire}, the length of {length}: {pieces}; {left} left",
                    wire=wire,
                    length=length_words(cut.stock_metres),
                    pieces=_pieces(cut.pieces),
                    left=length_words(cut.left_metres),
                )
            ),
            tick=f"#cut {plan.colour} {plan.mm2:g} {number}",
            is_ticked=cut.is_done,
        )
        for number, cut in enumerate(plan.cuts, 1)
    ]
    if plan.to_buy:
        pieces = _pieces(plan.to_buy)
        text = tr("{wire}: no length of the stock is left for {pieces}", wire=wire, pieces=pieces)
        items.append(Item(Cell("-"), Cell(text)))
    bound = tr(
        "{wire}: {left} left in all, at least {least} must be; {proof}",
        wire=wire,
        left=length_words(plan.left_metres),
        least=length_words(plan.left_at_least),
        proof=tr("every way to cut was looked at: none buys less, or leaves less of what it cuts into")
        if plan.is_proven
        else tr("not every way to cut was looked at"),
    )
    return [*items, Item(Cell("-"), Cell(bound, "quiet"))]


def _pieces(pieces: Sequence[tuple[str, float]]) -> str:
    return ", ".join(
        tr("{length} for {wire}", length=length_words(metres), wire=name) for name, metres in pieces
    )


def labels(bench: BenchSheet) -> tuple[Block, ...]:
    """The text of every label strip, one for each wire end that is worked on."""
    if not bench.labels:
        return ()
    rows = tuple(
        (Cell(label.wire, "strong"), Cell(label.colour), Cell(label.at), Cell(label.note))
        for label in bench.labels
    )
    headings = (tr("Wire"), tr("Colour"), tr("Place and mark"), tr("Besides"))
    how = tr("One for each end, on before the end comes off; what stands on it is where the end goes.")
    return (say(how, "quiet"), Table(headings, rows, are_strips=True))
