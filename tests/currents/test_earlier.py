"""What is taken over from a loom that differs a little is what solving it anew gives."""

import random

import pytest
from generated_looms import catalogue
from random_looms import draw
from small_looms import Bench

from planner.circuit.store import Store
from planner.circuit.tree import Projector
from planner.currents import batch
from planner.currents.at_work import AtWork
from planner.currents.found import Found
from planner.currents.grid import compile_grid
from planner.currents.positions import Positions
from planner.currents.survey import survey
from planner.currents.surveyed import Survey
from planner.currents.tracing import SAME_SHARE, Flow
from planner.proof.behaviour import View

TABLES = catalogue().standards


def surveyed(bench: Bench, like: Survey | None = None) -> Survey:
    return survey(compile_grid(bench.loom, bench.catalogue, TABLES), Positions(bench.view), like)


def agree(taken: Survey, anew: Survey) -> None:
    assert [s.assignment for s in taken.samples] == [s.assignment for s in anew.samples]
    for one, other in zip(taken.samples, anew.samples, strict=True):
        assert one.amps == pytest.approx(other.amps, abs=1e-4)
        assert one.point.volts == pytest.approx(other.point.volts, abs=1e-5)
        fresh = Flow(one.grid.bare, one.point, one.grid.ends)  # one may follow what was followed before
        for _, load, _ in one.live_loads:
            assert one.flow.shares(load) == pytest.approx(fresh.shares(load), abs=5 * SAME_SHARE)
            assert one.flow.path(load) == fresh.path(load)
    at_work = AtWork(taken.samples)  # patched from loom to loom in what is taken over
    for key in {key for sample in taken.samples for key in sample.at_work}:
        assert list(taken.at_work.at(key)) == list(at_work.at(key))
        for engine in (False, True):
            assert list(taken.at_work.volts(key, engine=engine)) == list(at_work.volts(key, engine=engine))


def traded(wires: list[str], chance: random.Random) -> list[str]:
    """The wires with the feeds of two loads exchanged."""
    loads = [n for n, wire in enumerate(wires) if wire.split(" > ")[1].startswith("l")]
    one, other = chance.sample(loads, 2)
    ends = [wires[n].split(" > ") for n in (one, other)]
    found = list(wires)
    found[one], found[other] = f"{ends[1][0]} > {ends[0][1]}", f"{ends[0][0]} > {ends[1][1]}"
    return found


def edited(bench: Bench, chance: random.Random) -> Bench:
    """A bench with one thing other: two ends traded, a load more, another load, or a switch turned round."""
    places, wires = dict(bench.places), list(bench.wires)
    kind = chance.choice(["trade", "more", "other load", "other switch"])
    if kind == "trade":
        wires = traded(wires, chance)
    elif kind == "more":
        name = f"more{len(places)}"
        places[name] = chance.choice(["lamp", "headlamp", "motor"])
        feed = chance.choice([wire.split(" > ")[0] for wire in wires if wire.startswith("s")])
        wires += [f"{feed} > {name}:A", f"{name}:E > earth:z"]
    elif kind == "other load":
        name = chance.choice([name for name in places if name.startswith("l")])
        places[name] = chance.choice(["lamp", "headlamp", "motor"])
    else:
        name = chance.choice([name for name in places if name.startswith("s")])
        places[name] = "changeover" if places[name] == "switch" else "switch"
    return bench.changed(places=places, wires=wires)


@pytest.mark.parametrize("is_sparse", [False, True])
@pytest.mark.parametrize("seed", range(30))
def test_edit_after_edit_the_same_positions_are_found_as_from_nothing(
    seed: int, is_sparse: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is kept from loom to loom, volts and positions alike, changes nothing that is found.

    Also where points are kept as those of a large loom are.
    """
    if is_sparse:
        monkeypatch.setattr(batch, "WORTH_NUMBERS", -1)
        monkeypatch.setattr(batch, "FEW_BRANCHES", 0)
    chance = random.Random(seed)
    bench = draw(seed)
    store, projector, found = Store(12.0), Projector(), Found()
    metres: dict[str, float] = {}
    like = None
    for _ in range(6):
        if chance.random() < 0.5:
            bench = edited(bench, chance)
        else:
            metres[chance.choice(bench.loom.wires).wire] = chance.choice([0.5, 3.0, 9.0])
        wires = [
            wire.model_copy(update={"metres": (metres.get(wire.wire, wire.metres[0]),)})
            for wire in bench.loom.wires
        ]
        loom = bench.loom.model_copy(update={"wires": tuple(wires)})
        grid = compile_grid(loom, bench.catalogue, TABLES)
        view = View(loom, bench.catalogue, store, projector)
        taken, anew = survey(grid, Positions(view, found), like), survey(grid, Positions(view))
        agree(taken, anew)
        like = taken


@pytest.mark.parametrize("seed", range(25))
def test_with_an_end_moved_only_what_it_touches_is_solved_again(seed: int) -> None:
    chance = random.Random(seed)
    bench = draw(seed)
    before = surveyed(bench)
    after = bench.changed(wires=traded(list(bench.wires), chance))
    agree(surveyed(after, before), surveyed(after))


@pytest.mark.parametrize("seed", range(25))
def test_with_a_load_more_what_was_known_without_it_still_holds(seed: int) -> None:
    bench = draw(seed)
    before = surveyed(bench)
    feed = next(wire.split(" > ")[0] for wire in bench.wires if wire.split(" > ")[0].startswith("s"))
    places = {**bench.places, "more": "lamp"}
    after = bench.changed(places=places, wires=[*bench.wires, f"{feed} > more:A", "more:E > earth:z"])
    taken = surveyed(after, before)
    agree(taken, surveyed(after))
    assert taken.solved <= len(taken.samples)


def test_the_same_loom_again_solves_nothing() -> None:
    bench = draw(3)
    assert surveyed(bench, surveyed(bench)).solved == 0


def test_another_battery_makes_everything_new() -> None:
    bench = draw(3)
    parts = dict(bench.parts)
    flat = parts["battery"].inside[0].model_copy(update={"open_v": 11.9})
    parts["battery"] = parts["battery"].model_copy(update={"inside": (flat,)})
    after = bench.changed(parts=parts)
    found = surveyed(after, surveyed(bench))
    assert found.solved == len(found.samples)
    agree(found, surveyed(after))


@pytest.mark.parametrize("seed", range(25))
def test_a_longer_wire_is_not_solved_again_where_it_would_move_no_volt(seed: int) -> None:
    """Where it is not, nothing is off by more than its current times the ohms it gained: a microvolt."""
    bench = draw(seed)
    before = surveyed(bench)
    number = random.Random(seed).randrange(len(bench.loom.wires))
    wires = list(bench.loom.wires)
    wires[number] = wires[number].model_copy(update={"metres": (4.0,)})
    grid = compile_grid(bench.loom.model_copy(update={"wires": tuple(wires)}), bench.catalogue, TABLES)
    taken = survey(grid, Positions(bench.view), before)
    agree(taken, survey(grid, Positions(bench.view)))


@pytest.mark.parametrize("seed", range(10))
def test_a_sample_that_a_longer_wire_leaves_true_is_kept_as_it_is(seed: int) -> None:
    bench = draw(seed)
    before = surveyed(bench)
    number = random.Random(seed).randrange(len(bench.loom.wires))
    wires = list(bench.loom.wires)
    wires[number] = wires[number].model_copy(update={"metres": (4.0,)})
    grid = compile_grid(bench.loom.model_copy(update={"wires": tuple(wires)}), bench.catalogue, TABLES)
    taken = survey(grid, Positions(bench.view, before.positions.found), before)
    kept = {id(sample) for sample in before.samples} & {id(sample) for sample in taken.samples}
    assert len(taken.samples) <= len(kept) + taken.solved
    assert kept or taken.solved == len(taken.samples)
