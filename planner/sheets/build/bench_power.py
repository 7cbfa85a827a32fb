"""What is done before the first step, and how the vehicle is made live again: common practice, no source."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from planner.messages import later, tr
from planner.model.bench_sheet import FIRST_POWER_WATTS, BenchSheet, FedLoad, FuseTest, Polarised
from planner.model.breaker_points import opened_points
from planner.model.elements import Coil, Fuse, Winding
from planner.model.fitted_fuse import fuse_words
from planner.model.part import Part
from planner.model.tank_senders import opened_tanks
from planner.model.vehicle_kind import having
from planner.model.wording import colour_words
from planner.sheets.build.listed import listed
from planner.sheets.sheet import NOTHING, Block, Cell, Item, Listing, say, ticked

_STARTER = "50"  # DIN 72552
_STARTERS = "starter"  # their family
_GAS = 2  # the number of its caution
_SHOWS: Mapping[str, str] = MappingProxyType(
    {
        "off": later("lamp dark"),
        "glows": later("lamp glows"),
        "dim": later("lamp dim"),
        "full": later("lamp lit"),
        "over": later("lamp lit"),
    }
)


def before_work(bench: BenchSheet) -> tuple[Block, ...]:
    """What is done before the first step; nothing where all steps are done."""
    if bench.done and len(bench.done) == len(bench.plan.steps):
        return ()
    post = post_words(bench.earthed_post)
    fuses_out = tr("Take every fuse out, and note which sat where")
    texts = [
        *_tanks(bench),
        tr("Ignition and all switches off; the {post}, the earthed one, off the battery", post=post),
        fuses_out,
        tr("Photograph each place as it is; tag every wire that comes off (see labels)"),
    ]
    if not _may_have_fuses(bench):
        texts = [text for text in texts if text != fuses_out]
    if bench.making or any(line.kind == "wire" for line in bench.materials):
        texts.append(
            tr(
                "Lay out the parts; measure each new wire along its way, and cut it then (see materials, "
                "wires to make)"
            )
        )
    else:
        texts.append(tr("Lay out the parts (see materials)"))
    if any(step.do == "connect" for step in bench.plan.steps):
        texts.append(tr("The other end of a new wire stays insulated until its own step"))
    return (ticked(texts, "before"),)


def _tanks(bench: BenchSheet) -> Iterator[str]:
    """Yield what has to be so before a vehicle is brought in whose tank the work opens."""
    for place in opened_tanks(bench.before, bench.after, bench.parts):
        title = (bench.after if place in bench.after.places else bench.before).place_title(place)
        yield tr(
            "The work opens the fuel tank at the {place}: run it low, or have it drained, until the fuel "
            "stands below that place, and work in the open or with everything open to the air",
            place=title,
        )


def _may_have_fuses(bench: BenchSheet) -> bool:
    """Whether there may be fuses to take out before the work: a loom need not show those of its vehicle."""
    fitted = (element for own in bench.before.places.values() for element in bench.parts[own.part].inside)
    is_part_of_it = bool(bench.before.feeds or bench.plan.not_seen)
    return is_part_of_it or any(isinstance(element, Fuse) for element in fitted)


def post_words(post: str) -> str:
    """What people call a post of the battery."""
    return tr("minus post") if post == "minus" else tr("plus post")


def first_power(bench: BenchSheet) -> tuple[Block, ...]:
    """From the last step to a vehicle that is live again."""
    earthed = post_words(bench.earthed_post_after)
    live = post_words("plus" if bench.earthed_post_after == "minus" else "minus")
    begin = [
        tr("Tug at every new crimp; nothing bare, nothing pinched; every end on or tied back"),
        *_old_wires_off(bench),
        *_kept_off(bench),
        tr("All fuses out, new ones too; ignition off, every switch off{doors}", doors=doors_shut(bench)),
        *bench.leads,
        tr(
            "Put a lamp of {watts} W, made for the battery's volts, in series: {live} on, then the lamp "
            "between the {earthed} and all its leads. It stays dark; if it lights, something is live that "
            "must not be: off again, and look for it. A clock or a memory lets it glimmer",
            watts=FIRST_POWER_WATTS,
            live=live,
            earthed=earthed,
        ),
        *bench.polarity,
        tr(
            "The lamp stays in series. One fuse at a time: put it in, look at the lamp with every switch "
            "off, work its loads one by one as below, the key on for those that need it, and take it out "
            "again before the next. A lamp that is lit with every switch off means a short behind that fuse; "
            "one that is brighter than said with a load on, a short on its way or another load; a darker "
            "one, a way that is open. Where no lamp is named, a flasher or the engine decides, and full "
            "power has to tell. Behind the lamp a relay may pull in, chatter or stay as it is, and none of "
            "that is a fault: where one has to pull in, what is said holds while it does; for a relay put "
            "the fuse of its coil in as well, so that what it switches is behind the lamp first"
        ),
        tr(
            "With the lamp in series things only glow or run slowly. When every fuse has passed: battery "
            "off, the lamp out, {live} on, {earthed} on last",
            live=live,
            earthed=earthed,
        ),
        *_at_full_power(bench),
        *_arms_on(bench),
    ]
    blocks: list[Block] = [ticked(begin, "power")]
    if bench.fuses:
        has_fuses = any(fuse.at for fuse in bench.fuses)
        one_by_one = tr("The fuses, one at a time, and what has to answer:")
        blocks.append(say(one_by_one if has_fuses else tr("What has to answer:")))
        if any(fuse.marked == "blowing" for fuse in bench.fuses):
            blows = tr(
                "Blowing: what is printed on an old glass or ceramic fuse is where it blows; it carries "
                "about half of that for good, and a blade fuse in its place has about half its figure "
                "(common practice, no source)."
            )
            blocks.append(say(blows, "quiet"))
        if opened_points(bench.after, bench.parts):
            closed = tr(
                "While the key is on, the ignition coil takes current too as long as breaker points are "
                "closed or a module lets it, and lights the lamp: that is no short. What is said "
                "of the other loads holds without it: with the battery off take the feed off the coil and "
                "insulate it until they have passed; with breaker points it is as good to turn the engine "
                "by hand, key off, until they are open."
            )
            blocks.append(say(closed, "warn"))
        blocks += [say(words, "warn") for words in _running_home(bench)]
        blocks.append(Listing(tuple(_tests(bench))))
    if bench.plan.not_seen:
        blocks.append(say(tr("This loom is not the whole vehicle: a fuse may feed more than this."), "warn"))
    return tuple(blocks)


def _running_home(bench: BenchSheet) -> Iterator[str]:
    """Yield what lights the lamp for a while and is no short: a new motor that parks by itself, a delay."""
    fitted = _new_parts(bench)
    motors = [place for place, part in fitted.items() if part.parks]
    if motors:
        yield tr(
            "The {motor} may not be at its park place yet: then it runs home as soon as it has a feed, with "
            "its switch off too, and takes current for so long: that is no short.",
            motor=tr(" and ").join(bench.after.place_title(place) for place in motors),
        )
    for place in (place for place, part in fitted.items() if part.runs_out):
        yield tr(
            "The {delay} may run at first, and then lets the lamp light until it has run out: that is no "
            "short. Wait for that{doors}, before the lamp is looked at.",
            delay=bench.after.place_title(place),
            doors=doors_shut(bench),
        )


def _arms_on(bench: BenchSheet) -> Iterator[str]:
    """Yield when the arms go on a motor that the work fitted: it parks where it was made to, not they."""
    for place in (place for place, part in _new_parts(bench).items() if part.parks):
        yield tr(
            "The {motor}: run it with its arms off, switch it off, let it run to its park place; then "
            "battery off, and the arms on as they lie at rest",
            motor=bench.after.place_title(place),
        )


def _new_parts(bench: BenchSheet) -> Mapping[str, Part]:
    """The parts that the work fitted, by their places."""
    before = bench.before.places
    return {
        place: bench.parts[fitted.part]
        for place, fitted in bench.after.places.items()
        if place not in before or before[place].part != fitted.part
    }


def _at_full_power(bench: BenchSheet) -> Iterator[str]:
    """Yield what is done once the lamp is out: a dynamo is polarised before anything can turn it."""
    for dynamo in bench.charging.polarised if bench.charging else ():
        yield polarise_words(bench, dynamo)
    if bench.interlocks:
        yield tr(
            "Try everything again at full power, but do not crank yet: that waits until the meter page and "
            "what comes after it say so"
        )
    elif not _has_starter(bench):
        yield tr("Try everything again at full power")
    elif having(bench.after.kind).wheels:
        yield tr(
            "Try everything again at full power; crank only out of gear, brake on, wheels chocked, nobody "
            "before the vehicle, hands, hair and leads clear of belt and fan: it may fire"
        )
    else:
        yield tr(
            "Try everything again at full power; crank only out of gear, hands, hair and leads clear of "
            "belts and shaft: it may fire"
        )


def _has_starter(bench: BenchSheet) -> bool:
    """Whether a starter or its solenoid stands in the loom."""
    parts = [bench.parts[place.part] for place in bench.after.places.values()]
    return any(
        part.terminals[node].role == _STARTER
        for part in parts
        for element in part.inside
        if isinstance(element, Coil | Winding)
        for node in element.between
        if node in part.terminals
    )


def polarise_words(bench: BenchSheet, dynamo: Polarised) -> str:
    """How a dynamo is told which way it charges: it sparks, so not on a post, beside the battery's gas."""
    return tr(
        "Before the engine turns, polarise the {dynamo}: {how}. It sparks: never at a post of the battery. "
        "Caution {n}: {caution} Its maker's manual outranks this",
        dynamo=dynamo.title,
        how=dynamo.how,
        n=_GAS,
        caution=tr(bench.plan.cautions[_GAS - 1]),
    )


def doors_shut(bench: BenchSheet) -> str:
    """What is added to "all switches off": a door switch is one nobody thinks of."""
    return tr(", doors shut") if having(bench.after.kind).doors else ""


def _old_wires_off(bench: BenchSheet) -> Iterator[str]:
    """Yield what no reading tells: that the thin wire is off where a thicker one was laid in its place."""
    for step in bench.plan.steps:
        if step.do == "renew":
            yield tr(
                "Step {n}: the old wire is off at both ends, drawn out, or tied back and capped; what is on "
                "there now is the thicker one",
                n=step.n,
            )


def _kept_off(bench: BenchSheet) -> Iterator[str]:
    """Yield what must be done before the battery goes on though no step of the plan does it."""
    for one in bench.left_off:
        if one.ends:
            yield tr(
                "Before the battery goes on: take {ends}, insulate it and leave it off, until what the first "
                "page calls unsafe is settled",
                ends=tr(" and ").join(one.ends),
            )
        else:
            yield tr(
                "Before the battery goes on: take out the {place}, until what the first page calls unsafe is "
                "settled",
                place=bench.after.place_title(one.place),
            )
    if bench.settled_first:
        yield tr("Do not put the battery on before what the first page calls unsafe is settled")


def _tests(bench: BenchSheet) -> Iterator[Item]:
    """Yield the fuses, each after what is read before it stays in."""
    for number, fuse in enumerate(bench.fuses, 1):
        for n, read in enumerate(fuse.read_first, 1):
            yield Item(NOTHING, Cell(read, "warn"), tick=f"#polarity {number}.{n}")
        yield _test(bench, fuse, number)


def _test(bench: BenchSheet, fuse: FuseTest, number: int) -> Item:
    named, amps = fuse.text, fuse_words(fuse.amps, fuse.marked)
    if fuse.at.startswith("feed:"):
        named = tr("Fuse of {feed} ({amps}{where})", feed=fuse.text, amps=amps, where=_before(bench, fuse.at))
    elif fuse.at:
        named = tr("Fuse {place} ({amps})", place=fuse.text, amps=amps)
    if fuse.with_fuses:
        named = tr("{fuse}, with {others} in as well", fuse=named, others=", ".join(fuse.with_fuses))
    if fuse.unshown:
        named = tr(
            "{fuse}, with whatever fuse lies before {feeds} in as well (this loom does not show it)",
            fuse=named,
            feeds=tr(" and ").join(fuse.unshown),
        )
    if fuse.lamp:
        shows = tr(_SHOWS[fuse.lamp])
        named = tr("{fuse}: {lamp} with every switch off; then", fuse=named, lamp=shows)
    entries = tuple(_load(bench, load) for load in fuse.loads)
    loads = "; ".join(entries) or tr("nothing that this loom shows has to answer")
    text, below = listed(f"{named}: {loads}", entries, "; ")
    return Item(NOTHING, Cell(text), below, tick=f"#fuse {number}")


def _before(bench: BenchSheet, feed: str) -> str:
    """Where the fuse of a feed sits, of which a part of a loom only knows the wires that come from it."""
    ends = ((bench.after.find(wire), wire, end) for wire, end in bench.after.ends_at.get(feed, ()))
    wires = [
        tr(
            "the {colour} wire ({name})",
            colour=colour_words(own.end_colour(end)),
            name=bench.wire_names.get(wire, wire),
        )
        for own, wire, end in ends
    ]
    return tr("; not drawn: it lies before {wires}", wires=tr(" and ").join(wires)) if wires else ""


def _load(bench: BenchSheet, load: FedLoad) -> str:
    """A load and what the lamp in series does while it is switched on, where that is foretold."""
    if bench.parts[bench.after.places[load.key[0]].part].family == _STARTERS:
        return tr("{load}, out of gear: behind the lamp it clicks at the most", load=load.text)
    return tr("{load}, {lamp}", load=load.text, lamp=tr(_SHOWS[load.lamp])) if load.lamp else load.text
