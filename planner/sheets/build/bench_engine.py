"""Starting and charging: what the engine is tried with once everything else has passed.

Common practice, no source.
"""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet, Charging, CrankTrial, EngineTrial, Interlock
from planner.model.vehicle_kind import having
from planner.model.wording import address_words, body_words
from planner.sheets.build.bench_power import post_words
from planner.sheets.sheet import NOTHING, Block, Cell, Item, Listing, say


def engine_tests(bench: BenchSheet) -> tuple[Block, ...]:
    """What must not crank, how the engine runs, what the battery gets; nothing if not asked for."""
    items = [_must_not_crank(bench, one) for one in bench.interlocks]
    if bench.engine is not None:
        items += (_cranks(bench, one) for one in bench.engine.cranked)
    engine = bench.engine
    if bench.charging is not None or (engine and (engine.sparks or engine.oiled or engine.oil_shown)):
        items.append(Item(NOTHING, Cell(_start_words(bench))))
    if engine is not None:
        items += _oil(engine)
    if bench.engine is not None and bench.engine.sparks:
        items += _running(bench.engine)
    if bench.charging is not None:
        items.append(_charging(bench, bench.charging))
    if not items:
        return ()
    # What passes a limit as soon as the engine turns is settled before it does.
    blind = [*map(blind_words, engine.oil_blind)] if engine is not None else []
    items = [*map(_not_yet, (*(line.text for line in bench.plan.remarks if line.is_open), *blind)), *items]
    begin = tr("After everything above has passed, all fuses in, the battery on.")
    numbered = (_ticked(item, n) for n, item in enumerate(items, 1))
    return (say(begin), Listing(tuple(numbered)))


def _not_yet(text: str) -> Item:
    return Item(NOTHING, Cell(tr("Not before this is settled: {text}", text=text), "bad"))


def blind_words(gauge: str) -> str:
    """What is said of an oil gauge that hangs on a mere switch."""
    return tr(
        "the {gauge} hangs on a switch, not on a sender: it jumps to an end of its scale and shows no oil "
        "pressure, full scale neither. It gets the sender of its range, or the warning lamp comes back; an "
        "engine that loses its oil pressure is destroyed within minutes, and nothing tells it",
        gauge=gauge,
    )


def _ticked(item: Item, number: int) -> Item:
    return Item(NOTHING, item.body, item.below, tick=f"#engine {number}", write_in=item.write_in)


def _must_not_crank(bench: BenchSheet, interlock: Interlock) -> Item:
    settings = tr(" and ").join(interlock.conditions)
    text = tr(
        "The {starter} cranks {when}, and else it must not: try every other setting of {settings}. If it "
        "cranks there, battery off, and nobody uses the vehicle before that is found",
        starter=interlock.starter,
        when=interlock.when,
        settings=settings,
    )
    return Item(NOTHING, Cell(_minded(bench, text)))


def _cranks(bench: BenchSheet, trial: CrankTrial) -> Item:
    """A starter that a key or a push works: it comes in with it, goes out with it, and else stays dead."""
    text = tr(
        "Out of gear, a few seconds at most. The {starter} cranks {when}, and stops as soon as that is let "
        "go",
        starter=trial.starter,
        when=trial.when,
    )
    each = tr(" and ").join(trial.controls)
    if len(trial.controls) == 1:
        text = tr("{text}; in every other position it stays dead", text=text)
    elif trial.is_all:
        text = tr("{text}; with only one of {controls} set so it stays dead", text=text, controls=each)
    else:
        text = tr("{text}; in every other setting of {controls} it stays dead", text=text, controls=each)
    wrong = tr(
        "- it cranks where it must not, or does not stop: battery off at once, and look at the wires of its "
        "switch; one whose contacts have welded has to go"
    )
    dead = (Cell(_stays_dead(bench, at)) for at in trial.read_at)
    return Item(NOTHING, Cell(_minded(bench, text)), (Cell(wrong), *dead))


def _stays_dead(bench: BenchSheet, at: str) -> str:
    """What is read at a new key or push if the starter stays dead; one that cranks has shown it."""
    output, body = address_words(bench.after, at), body_words(bench.after)
    red, black = (output, body) if bench.after.supply.earthed == "negative" else (body, output)
    return tr(
        "- it stays dead: volts, red tip on {red}, black tip on {black}, while a helper holds it set so. "
        "Near the battery's volts: look on from there, to the starter and its earth; nothing: this switch, "
        "or what feeds it",
        red=red,
        black=black,
    )


def _minded(bench: BenchSheet, tried: str) -> str:
    """A trial that cranks the engine, with what is minded: it turns belt and fan, and may fire."""
    if having(bench.after.kind).wheels:
        return tr(
            "In the open, wheels chocked, brake on, nobody before the vehicle; hands, hair and leads clear "
            "of belt and fan: it may fire. {tried}",
            tried=tried,
        )
    return tr(
        "Its space aired and the shaft free; hands, hair and leads clear of belts and shaft: it may fire. "
        "{tried}",
        tried=tried,
    )


def _start_words(bench: BenchSheet) -> str:
    if having(bench.after.kind).wheels:
        return tr(
            "Start the engine in the open, out of gear, brake on; hands, hair and leads clear of belt and fan"
        )
    return tr(
        "Start the engine with its space aired and the shaft free; hands, hair and leads clear of belts"
    )


def _oil(engine: EngineTrial) -> Iterator[Item]:
    """Yield what is looked at for oil first of all: an engine that runs without pressure seizes."""
    for shown in engine.oil_shown:
        text = tr(
            "Oil pressure at the {shown}: within some seconds of the start a gauge rises, and moves with "
            "the engine's speed; a warning lamp that was lit with the key on goes out (common practice, no "
            "source)",
            shown=shown,
        )
        wrong = tr(
            "- it shows none, or a gauge jumps to an end of its scale and stays there (a wire that touches "
            "earth, or is off): stop the engine at once; the oil level, then its sender or switch and the "
            "wire between, before it runs again"
        )
        yield Item(NOTHING, Cell(text), (Cell(wrong),))
    for oiled in engine.oiled:
        text = tr(
            "Oil at the {oiled}: dry all round, looked at while the engine idles for a minute, and again "
            "when it has run warm and stands still (common practice, no source)",
            oiled=oiled,
        )
        wrong = tr(
            "- a drop or a wet edge: stop the engine, let it cool, seal its thread anew or tighten it as its "
            "maker says, wipe it dry, and look again; then the oil level"
        )
        yield Item(NOTHING, Cell(text), (Cell(wrong),))


def _running(engine: EngineTrial) -> Iterator[Item]:
    """Yield what an engine does whose ignition was worked on, and what is set while it runs."""
    fires = tr(
        "It fires, idles evenly and takes the throttle, no fingers on coil, distributor or plug leads "
        "meanwhile; with the key off it stops at once"
    )
    below = [
        tr(
            "- it turns over and does not fire: key off; then the feed of coil and module, and the wire "
            "between coil and distributor"
        ),
        tr("- it fires only while the starter turns: the coil has no feed with the key at on"),
        tr(
            "- it runs on with the key off: something else feeds the ignition; stop it by its fuel, battery "
            "off, and look for it"
        ),
    ]
    if engine.timed:
        below.append(tr("- it spits back, or pulls badly: the timing, or two plug leads are traded"))
    yield Item(NOTHING, Cell(fires), tuple(Cell(text) for text in below))
    for distributor in engine.timed:
        set_by = tr(
            "Set the ignition timing at the {distributor} by the engine's manual, the leads of a timing lamp "
            "clear of belt and fan; tighten its clamp, and look at the timing once more (common practice, no "
            "source)",
            distributor=distributor,
        )
        yield Item(NOTHING, Cell(set_by))


def _charging(bench: BenchSheet, charging: Charging) -> Item:
    live = post_words("plus" if bench.earthed_post_after == "minus" else "minus")
    earthed = post_words(bench.earthed_post_after)
    plus, minus = (live, earthed) if bench.earthed_post_after == "minus" else (earthed, live)
    where = tr(
        "Volts at a fast idle, red tip on the {plus} of the battery, black tip on the {minus}, lamps off",
        plus=plus,
        minus=minus,
    )
    good = tr(
        "good: {low:.1f} to {high:.1f} V once it has run for some minutes, and no more when it runs faster "
        "(common practice, no source; the manual of {generators} or regulator outranks this)",
        low=charging.low_volts,
        high=charging.high_volts,
        generators=tr(" and ").join(charging.generators),
    )
    below = [
        Cell(good, "good"),
        Cell(tr("- no more than with the engine off: it does not charge")),
        Cell(
            tr(
                "- more than that, and less than {low:g} V: let it run fast for some minutes with all loads "
                "off, and read again; if it does not come to {low:g} V then, it charges too little",
                low=charging.low_volts,
            )
        ),
        Cell(
            tr(
                "- the charge warning lamp, if any: lit with the key on before the start, out as the "
                "engine speeds up; one that stays lit says that it does not charge"
            )
        ),
        Cell(tr("- more: stop the engine, before the battery boils and lamps burn out")),
    ]
    if charging.ammeters:
        shows = tr(" and ").join(charging.ammeters)
        below.append(
            Cell(
                tr(
                    "- the {ammeters} shows that the battery is discharged: it does not charge, or the leads "
                    "of the ammeter are traded",
                    ammeters=shows,
                )
            )
        )
    return Item(NOTHING, Cell(where), tuple(below), write_in=tr("reads"))
