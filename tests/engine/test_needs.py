"""What a swap leaves open, as far as it can be seen without computing anything."""

from small_looms import Bench, make_parts

from planner.engine.needs import NeedFinder, swap_operations
from planner.model.delta import Fit, Remove
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import BareTerminal, FullTerminal, LooseEnd

PARTS = make_parts(
    """
    old: {terminals: {A: "30", B: "58"}}
    new: {terminals: {"30": "30", "58": "58", "31": mounting, tap: {role: "58", covered: true}}}
    lamp: {terminals: {"58": "58", "31": "31"}}
    """
)
BEFORE = Bench(
    PARTS,
    {"dash": "old", "rear": "lamp", "side": "lamp"},
    ["in = feed:live > dash:A", "out = dash:B > rear:58", "also = dash:B > side:58"],
    {"live": {"role": "30"}},
    more={"piggybacks": ["dash:B"], "covered": ["dash:A"]},
)


def job(*swaps: dict[str, str]) -> Job:
    return Job.model_validate({"job": "x", "loom": "small", "swaps": list(swaps)})


def swapped(asked: Job) -> Loom:
    loom = BEFORE.loom
    for operation in swap_operations(BEFORE.loom, asked):
        loom = operation.apply(loom)
    return loom


def finder(asked: Job) -> NeedFinder:
    return NeedFinder(BEFORE.loom, BEFORE.catalogue, asked)


EXCHANGE = job({"at": "dash", "fit": "new"})


def test_swap_takes_the_old_part_out_with_its_ends_and_puts_the_new_one_in():
    remove, fit = swap_operations(BEFORE.loom, EXCHANGE)
    assert isinstance(remove, Remove)
    assert remove.ends == (("in", 1, "A"), ("out", 0, "B"), ("also", 0, "B"))
    assert (remove.piggybacks, remove.covered) == (("dash:B",), ("dash:A",))
    assert isinstance(fit, Fit)
    assert (fit.place.part, fit.place.zone, fit.place.mounting) == ("new", "z", "metal")


def test_swap_undone_in_reverse_restores_the_loom():
    operations = list(swap_operations(BEFORE.loom, EXCHANGE))
    loom = swapped(EXCHANGE)
    assert loom.places["dash"].part == "new"
    for operation in reversed(operations):
        loom = operation.undo(loom)
    assert loom == BEFORE.loom


def test_removal_fits_nothing_and_a_new_place_removes_nothing():
    assert [o.do for o in swap_operations(BEFORE.loom, job({"at": "dash", "fit": "nothing"}))] == ["remove"]
    extra = job({"at": "dash.extra", "fit": "lamp", "zone": "z", "mounting": "insulated"})
    (fit,) = swap_operations(BEFORE.loom, extra)
    assert isinstance(fit, Fit)
    assert (fit.place.zone, fit.place.mounting) == ("z", "insulated")


def test_every_end_of_the_old_part_is_loose_until_it_has_a_home():
    loom = swapped(EXCHANGE)
    needs = [LooseEnd("in", 1, "dash:A"), LooseEnd("out", 0, "dash:B"), LooseEnd("also", 0, "dash:B")]
    assert list(finder(EXCHANGE).loose_ends(loom)) == needs
    homed = BEFORE.changed(
        places={**BEFORE.places, "dash": "new"},
        wires=["in = feed:live > dash:30", *BEFORE.wires[1:]],
        more={},
    )
    housed = homed.changed(wires=[w.replace("dash:B", "loose") for w in homed.wires]).loom
    assert list(finder(EXCHANGE).loose_ends(housed)) == needs[1:]


def test_terminal_is_full_beyond_what_it_and_its_piggybacks_hold():
    asked = job({"at": "rear", "fit": "lamp"})
    assert list(finder(asked).full_terminals(BEFORE.loom)) == []
    without = BEFORE.changed(more={}).loom
    assert list(finder(asked).full_terminals(without)) == [FullTerminal("dash:B", (("out", 0), ("also", 0)))]


def test_terminal_is_bare_without_end_cover_or_housing():
    loom = swapped(EXCHANGE)
    assert list(finder(EXCHANGE).bare_terminals(loom)) == [BareTerminal("dash:30"), BareTerminal("dash:58")]


def test_mounting_that_does_not_surely_earth_is_bare_too():
    asked = job({"at": "dash", "fit": "new", "mounting": "doubtful"})
    bare = list(finder(asked).bare_terminals(swapped(asked)))
    assert BareTerminal("dash:31") in bare
