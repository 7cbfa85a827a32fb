"""What is done before the first step, and how the vehicle is made live again: common practice, no source."""

from planner.model.bench_sheet import BenchSheet, FuseTest
from planner.sheets.build.listed import listed
from planner.sheets.sheet import NOTHING, Block, Cell, Item, Listing, say, ticked

LAMP_WATTS = 21  # a lamp that a short lights fully and that lets few amps through


def before_work(bench: BenchSheet) -> tuple[Block, ...]:
    """What is done before the first step."""
    texts = [
        f"Ignition and all switches off; the {bench.earthed_post} post, the earthed one, off the battery",
        "Take every fuse out, and note which sat where",
        "Photograph each place as it is; tag every wire that comes off (see labels)",
        "Lay out the parts and cut the wires (see materials, wires to make)",
        "The other end of a new wire stays insulated until its own step",
    ]
    if not bench.fuses or all(not fuse.at for fuse in bench.fuses):
        del texts[1]
    return (ticked(texts, "before"),)


def first_power(bench: BenchSheet) -> tuple[Block, ...]:
    """From the last step to a vehicle that is live again."""
    post = bench.earthed_post_after
    live = "plus" if post == "minus" else "minus"
    begin = [
        "Tug at every new crimp; nothing bare, nothing pinched; every end on or tied back",
        "All fuses out, new ones too; ignition off, every switch off, doors shut",
        f"Put a lamp of {LAMP_WATTS} W and the battery's volts in series: {live} post on, then the lamp "
        f"between the {post} post and its lead. It stays dark; if it lights, something is live that must not "
        "be: off again, and look for it. A clock or a memory lets it glimmer",
        "The lamp stays in series. One fuse at a time, with its test below: if it lights fully with every "
        "switch off, there is a short behind the fuse that went in last",
        "With the lamp in series things only glow or run slowly. When every fuse has passed: battery off, "
        f"the lamp out, {live} post on, {post} post on last; try everything again at full power",
    ]
    blocks: list[Block] = [ticked(begin, "power")]
    if bench.fuses:
        blocks.append(say("The fuses, one at a time, and what has to answer:"))
        blocks.append(Listing(tuple(_test(fuse, n) for n, fuse in enumerate(bench.fuses, 1))))
    if bench.plan.not_seen:
        blocks.append(say("This loom is not the whole vehicle: a fuse may feed more than this.", "warn"))
    return tuple(blocks)


def _test(fuse: FuseTest, number: int) -> Item:
    named = f"Fuse {fuse.text}, {fuse.amps:g} A printed" if fuse.at else fuse.text
    loads = "; ".join(fuse.loads) or "nothing that this loom shows"
    text, below = listed(f"{named}: {loads}", fuse.loads, "; ")
    return Item(NOTHING, Cell(text), below, tick=f"#fuse {number}")
