"""What a meter finds on a part: against the ohmmeter of the electrical view, and by hand."""

from functools import cache
from itertools import permutations
from math import inf
from typing import get_args

import pytest
from benches import part

from planner.currents.grid import compile_grid
from planner.currents.laws import LEAK_SIEMENS
from planner.currents.ohmmeter import cold_ohms
from planner.inquiry.part.bench_view import bench_view
from planner.inquiry.part.element_ohms import JOINT, JUNCTION, OHMS, OPEN
from planner.model.catalogue import Catalogue
from planner.model.elements import AnyElement, Flasher, Fuse, Sender, Source, Stabiliser
from planner.model.loom import Loom
from planner.pipeline import open_catalogue

LEAST_OPEN_OHMS = 0.4 / LEAK_SIEMENS  # what only leaks, with a few leaks side by side


@cache
def catalogue() -> Catalogue:
    return open_catalogue()


def comparable() -> list[str]:
    """Parts without anything that has no ohms in one of the two views, or another law."""
    parts = catalogue().parts.values()
    return [p.part for p in parts if not any(isinstance(e, Source | Stabiliser | Sender) for e in p.inside)]


@pytest.mark.parametrize("name", comparable())
def test_the_ohmmeter_of_the_electrical_view_reads_between_the_bounds(name: str) -> None:
    thing = catalogue().parts[name]
    loom = Loom.model_validate(
        {
            "loom": "bench",
            "supply": {"volts": thing.volts, "earthed": "negative"},
            "zones": {"bench": {}},
            "places": {"p": {"part": name, "zone": "bench", "mounting": "insulated"}},
            "wires": [],
        }
    )
    grid = compile_grid(loom, catalogue(), catalogue().standards)
    view = bench_view(thing)
    assert view.alike
    for alike in view.alike:
        position = {f"p/{n}" if n in thing.variables else n: value for n, value in alike.settings[0].items()}
        for one, other in list(permutations(range(len(view.marks)), 2))[:40]:
            red, black = view.marks[one], view.marks[other]
            read = cold_ohms(grid, position, f"p:{red}", f"p:{black}")
            least, most = alike.ohms[one][other]
            if read < LEAST_OPEN_OHMS:
                assert least <= read <= most, (red, black, alike.settings[0])
            elif not any(isinstance(e, Flasher) for e in thing.inside):
                assert most == inf, (red, black, alike.settings[0])


def test_every_element_between_two_nodes_has_ohms_or_is_a_joint() -> None:
    between = {e for e in get_args(AnyElement) if "between" in e.model_fields}
    assert set(OHMS) == between - {Fuse}


def ohms(thing: object, red: str, black: str, place: int = 0) -> tuple[float, float]:
    view = bench_view(thing)  # type: ignore[arg-type]
    return view.alike[place].ohms[view.marks.index(red)][view.marks.index(black)]


def test_loads_in_series_and_side_by_side_add_up_within_their_bounds() -> None:
    resistors = [
        {"resistor": {"between": ["1", "x"], "ohms": 100}},
        {"resistor": {"between": ["x", "2"], "ohms": 60}},
        {"resistor": {"between": ["x", "2"], "ohms": 60}},
    ]
    least, most = ohms(part(["1", "2"], resistors, nodes=["x"]), "1", "2")
    assert (least, most) == pytest.approx((130 * 0.85, 130 * 1.15 + JOINT[1]))


def test_a_diode_conducts_on_the_way_from_its_anode_only() -> None:
    thing = part(["1", "2", "3"], [{"diode": {"between": ["1", "2"]}}])
    assert ohms(thing, "1", "2") == JUNCTION
    assert ohms(thing, "2", "1") == OPEN
    assert ohms(thing, "1", "3") == OPEN


def test_the_diode_across_a_coil_shows_one_way_and_the_coil_the_other() -> None:
    coil = {"between": ["85", "86"], "ohms": 80, "name": "k", "pulls_in_v": 7, "drops_out_v": 3}
    thing = part(["85", "86"], [{"coil": coil}, {"diode": {"between": ["85", "86"]}}])
    assert ohms(thing, "86", "85") == pytest.approx((56, 105))
    least, most = ohms(thing, "85", "86")
    assert least == pytest.approx(10 * 56 / 66)  # the junction beside the coil
    assert most == pytest.approx(105)


def test_settings_in_which_nothing_differs_are_one_group() -> None:
    control = {"control": {"name": "knob", "positions": ["a", "b", "c"]}}
    view = bench_view(part(["1", "2"], [control, {"contact": {"join": ["1", "2"], "when": {"knob": "b"}}}]))
    assert [[s["knob"] for s in alike.settings] for alike in view.alike] == [["a", "c"], ["b"]]


def test_a_cut_out_is_open_and_a_flasher_is_at_rest() -> None:
    assert ohms(part(["1", "2"], [{"diode": {"between": ["1", "2"], "drop_v": 0}}]), "1", "2") == OPEN
    beat = {"between": ["49", "49a"], "kind": "thermal", "needs_amps": 2, "name": "beat", "heater_ohms": 30}
    thing = part(["49", "49a"], [{"flasher": beat}])
    assert len(bench_view(thing).alike) == 1
    assert ohms(thing, "49", "49a") == pytest.approx((24, 37))


def test_a_sender_reads_anywhere_on_its_range() -> None:
    sender = {"between": ["G", "case"], "follows": "fuel", "ohms": {"empty": 240, "full": 33}}
    assert ohms(part(["G", "case"], [{"sender": sender}]), "G", "case") == pytest.approx((26.4, 289))
