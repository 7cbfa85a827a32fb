"""What holds for the circuits drawn for shipped jobs of every kind, as they stand in the SVG."""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import combinations, pairwise

import pytest
from planned import catalogue, worked
from seen import Seen, seen

from planner.model.loom import Loom, split_address
from planner.model.picture import Picture
from planner.pictures.changes import changed_wires, leg_notes
from planner.pictures.circuit import PAGE_MM
from planner.pictures.direction import flow, gathered
from planner.pictures.graph import WHENS, When
from planner.pictures.pictures import draw_pictures
from planner.pictures.union import Looms, union_of
from planner.pictures.untangle import crossings

JOBS = (
    "two-speed-wipers",
    "fuse-box-mirrored",
    "hazard-flasher-insulated-panel",
    "trailer-socket-13",
    "changeover-relay-layout",
    "electric-fan",
    "led-indicators",
    "dynamo-to-alternator",
    "door-warning-lamp",
    "gauge-stabiliser-lost",
    "car-to-negative-earth",
    "launch-fuse-box",
    "launch-bilge-pump",
    "minibus-courtesy-delay",
    "two-ends-trade",
)


@lru_cache
def pictures(job: str) -> tuple[Picture, ...]:
    """The pictures of a job, drawn once."""
    names = worked(job).names
    swapped = tuple(card.at for card in worked(job).cards(()))
    return draw_pictures(names.before, names.after, catalogue(), swapped, names.shown)


def circuits(job: str) -> Iterator[tuple[Picture, Loom, Seen]]:
    """Each picture of a circuit, the loom that it shows, and what is seen in it."""
    names = worked(job).names
    for picture in pictures(job):
        if picture.kind == "circuit":
            yield picture, names.before if picture.when == "before" else names.after, seen(picture.svg)


@pytest.mark.parametrize("job", JOBS)
class TestCircuits:
    def test_every_wire_end_lies_on_its_terminal(self, job: str) -> None:
        ends = 0
        for picture, loom, found in circuits(job):
            for wire, leg, points in found.wires:
                for end, point in ((leg, points[0]), (leg + 1, points[-1])):
                    at = loom.find(wire).ends[end].at
                    if at in found.terminals:
                        assert found.terminals[at].has(point), (picture.name, wire, at)
                    else:
                        here = [address for address, area in found.outlines if area.has(point)]
                        assert at in here, (picture.name, wire, at)
                    ends += 1
        assert ends > 0

    def test_every_wire_runs_at_right_angles(self, job: str) -> None:
        for _, _, found in circuits(job):
            for wire, _, points in found.wires:
                assert all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise(points)), wire

    def test_every_wire_at_a_swapped_place_and_every_changed_wire_is_drawn(self, job: str) -> None:
        names = worked(job).names
        swapped = {card.at for card in worked(job).cards(())}
        for when, loom in (("before", names.before), ("after", names.after)):
            drawn = {w for p, _, s in circuits(job) if p.when in (when, "both") for w, _, _ in s.wires}
            asked = set(changed_wires(names.before, names.after)) | {
                wire for place in swapped for wire, _, _ in loom.ends_of_place(place)
            }
            assert {wire for wire in asked if wire in loom.wire_index} <= drawn

    def test_no_two_outlines_overlap(self, job: str) -> None:
        for picture, _, found in circuits(job):
            for (one, first), (other, second) in combinations(found.outlines, 2):
                assert not first.meets(second), (picture.name, one, other)

    def test_words_lie_in_the_picture_and_labels_clear_of_outlines(self, job: str) -> None:
        for picture, _, found in circuits(job):
            for text, area, in_place in found.words:
                assert area.within(found.page), (picture.name, text)
                if not in_place:
                    assert not any(area.meets(box) for _, box in found.outlines), (picture.name, text)

    def test_no_word_lies_on_another(self, job: str) -> None:
        for picture, _, found in circuits(job):
            for (one, first, _), (other, second, _) in combinations(found.words, 2):
                assert not first.meets(second), (picture.name, one, other)

    def test_a_page_takes_it(self, job: str) -> None:
        for picture, _, _ in circuits(job):
            assert picture.width_mm <= PAGE_MM[0], picture.name
            assert picture.height_mm <= PAGE_MM[1], picture.name

    def test_both_pictures_of_a_circuit_lie_alike_but_for_empty_room_above(self, job: str) -> None:
        changed = changed_wires(worked(job).names.before, worked(job).names.after)
        by_name = {p.name: found for p, _, found in circuits(job)}
        for name, before in by_name.items():
            after = by_name[name.replace("-before", "-after")]
            areas = {at: area for at, area in after.outlines if ":" not in at}
            ways = {(wire, leg): way for wire, leg, way in after.wires}
            moves = [
                (areas[at].x - area.x, areas[at].y - area.y, areas[at].width - area.width)
                for at, area in before.outlines
                if at in areas
            ]
            moves += [
                (x - was_x, y - was_y, 0.0)
                for wire, leg, way in before.wires
                if wire not in changed
                for (was_x, was_y), (x, y) in zip(way, ways[wire, leg], strict=True)
            ]
            for across, down, wider in moves:
                assert across == pytest.approx(0, abs=0.02) and wider == pytest.approx(0, abs=0.02), name
                assert down == pytest.approx(moves[0][1], abs=0.02), name

    def test_nothing_but_a_title_stands_above_what_is_drawn(self, job: str) -> None:
        for picture, _, found in circuits(job):
            title = max(area.y + area.height for text, area, _ in found.words if text in picture.title)
            tops = [area.y for _, area in found.outlines]
            tops += [area.y for text, area, _ in found.words if text not in picture.title]
            assert min(tops) - title < 8.0, picture.name

    def test_a_wire_carries_its_name_and_what_happens_to_it(self, job: str) -> None:
        names = worked(job).names
        for picture, _, found in circuits(job):
            said = [text for text, _, _ in found.words]
            when: When = "before" if picture.when == "before" else "after"
            for wire, leg, _ in found.wires:
                assert any(text.startswith(f"{names.shown(wire)} ") for text in said), wire
                for note in leg_notes(names.before, names.after, wire, leg):
                    begins = " ".join(note.words(when).split()[:2])
                    assert any(text.startswith(begins) for text in said), (picture.name, note)


def test_the_same_work_gives_the_same_bytes() -> None:
    names = worked("two-speed-wipers").names
    swapped = ("dash.wiper-switch", "scuttle.wiper-motor")
    again = draw_pictures(names.before, names.after, catalogue(), swapped, names.shown)
    assert again == pictures("two-speed-wipers")


def test_what_moves_says_where_to_and_where_from() -> None:
    said = {p.when: [t for t, _, _ in seen(p.svg).words] for p in pictures("two-speed-motor-only")}
    assert "moves: P to 53a" in said["before"]
    assert "moved: P to 53a" in said["after"]
    assert "new" in said["after"] and "new" not in said["before"]


def test_a_mark_beside_a_terminal_is_that_of_the_part_fitted_then() -> None:
    for picture, _, found in circuits("two-speed-motor-only"):
        marks = {split_address(at)[1] for at in found.terminals if at.startswith("scuttle")}
        assert marks == ({"M", "S", "P"} if picture.when == "before" else {"53", "53b", "53a", "31b", "31"})


def test_what_crosses_is_counted_where_an_upright_and_a_level_piece_meet() -> None:
    names = worked("launch-bilge-pump").names
    looms = Looms(names.before, names.after, catalogue(), (), str)
    graph = union_of(looms, [wire.wire for wire in names.before.wires[:2]], ())
    graph = replace(graph, legs=graph.legs[:2])
    assert crossings(graph, [[(0, 5), (10, 5)], [(5, 0), (5, 10)]]) == 2  # before and after
    assert crossings(graph, [[(0, 5), (10, 5)], [(5, 5), (5, 10)]]) == 0
    assert crossings(graph, [[(0, 5), (10, 5)], [(12, 0), (12, 10)]]) == 0


def test_a_wire_left_out_at_a_swapped_place_is_in_a_picture_that_is_named_below() -> None:
    drawn = [(p, found) for p, _, found in circuits("fuse-box-without-tap") if p.when != "before"]
    assert len(drawn) == 3
    all_wires = {
        wire for wire, _, _ in worked("fuse-box-without-tap").names.after.ends_of_place("dash.fuse-box")
    }
    for (picture, found), others in zip(drawn, ("2, 3", "1, 3", "1, 2"), strict=True):
        assert all_wires - {wire for wire, _, _ in found.wires}, picture.name
        assert f"Goes on in circuits {others}." in [text for text, _, _ in found.words], picture.name


def test_where_no_wire_changes_one_picture_stands_for_before_and_after() -> None:
    alike = [p for p, _, _ in circuits("fuse-box-without-tap") if p.when == "both"]
    assert [p.name for p in alike] == ["circuit-2-both"]
    names = worked("fuse-box-without-tap").names
    wires = {wire for wire, _, _ in seen(alike[0].svg).wires}
    assert wires and not wires & set(changed_wires(names.before, names.after))


def test_the_amps_of_a_fuse_stand_beside_its_terminal() -> None:
    for picture, loom, found in circuits("fuse-box-without-tap"):
        amps = {"before": "15 A blowing", "after": "7.5 A", "both": "7.5 A"}[picture.when]
        for mark in {"5", "6", "7", "8", "9", "10"} & {split_address(at)[1] for at in found.terminals}:
            tab = found.terminals[f"dash.fuse-box:{mark}"]
            level = [
                text
                for text, area, _ in found.words
                if tab.y <= area.y + area.height / 2 <= tab.y + tab.height
            ]
            assert mark in level and f"fuse {amps}" in level, (picture.name, loom.loom, mark)


def test_legs_between_two_parts_go_one_way() -> None:
    names = worked("dip-relay-five-to-four").names
    looms = Looms(names.before, names.after, catalogue(), ("bay.dip-relay",), str)
    graph = union_of(looms, ("W19", "W71", "W72", "W73"), ("bay.dip-relay",))
    pairs = [
        (leg.ends[turned].outline, leg.ends[not turned].outline)
        for leg, turned in zip(graph.legs, gathered(graph), strict=True)
    ]
    assert ("dash.fuse-box", "bay.dip-relay") in pairs or ("bay.dip-relay", "dash.fuse-box") in pairs
    assert not {(last, first) for first, last in pairs} & set(pairs)
    own = [
        (leg.ends[turned].outline, leg.ends[not turned].outline)
        for leg, turned in zip(graph.legs, flow(graph), strict=True)
    ]
    assert {(last, first) for first, last in own} & set(own), "the current itself goes to and fro"


def test_wires_go_through_a_joiner_from_side_to_side() -> None:
    for picture, _, found in circuits("hazard-flasher-insulated-panel"):
        area = next(area for address, area in found.outlines if address == "joint:column-flasher")
        ends = {wire: points for wire, _, points in found.wires if wire in ("W47", "W48")}
        at = {round(point[0], 3) for points in ends.values() for point in points if area.has(point)}
        assert at == {round(area.x, 3), round(area.x + area.width, 3)}, picture.name


def test_of_a_wire_that_is_laid_anew_nobody_says_that_it_gets_an_end() -> None:
    names = worked("dynamo-to-alternator").names
    notes = {wire: leg_notes(names.before, names.after, wire, 0) for wire in ("C2", "C6")}
    said = {wire: [note.words("before") for note in found] for wire, found in notes.items()}
    assert "laid anew, 10 mm²" in said["C2"] and "gets a new end" not in said["C2"]
    assert "gets a new end" in said["C6"]


def starts(job: str, wires: tuple[str, ...], swapped: tuple[str, ...]) -> dict[tuple[str, str], str]:
    """From which outline each leg of some wires is drawn, by the wire and the loom that it is in."""
    names = worked(job).names
    graph = union_of(Looms(names.before, names.after, catalogue(), swapped, str), wires, swapped)
    return {
        (leg.wire, when): leg.ends[turned].outline
        for leg, turned in zip(graph.legs, gathered(graph), strict=True)
        for when in WHENS
        if leg.look(when) and leg.leg == 0
    }


def test_what_two_wires_that_trade_terminals_do_later_does_not_turn_them_round() -> None:
    found = starts("two-ends-trade", ("S3", "S4"), ("column.turn-switch",))
    assert found == {(wire, when): "column.turn-switch" for wire in ("S3", "S4") for when in WHENS}


def test_every_wire_of_a_battery_begins_there() -> None:
    names = worked("launch-to-negative-earth").names
    wires = tuple(wire for wire, _, _ in names.before.ends_of_place("hull.battery"))
    found = starts("launch-to-negative-earth", wires, ("hull.battery",))
    assert len(found) >= 4 and set(found.values()) == {"hull.battery"}


def test_a_wire_that_moves_from_one_swapped_place_to_another_is_drawn_in_one_circuit() -> None:
    """All wires of the horn are on its relay afterwards: a picture of each place would show all of them."""
    shown = [
        picture.title for picture in pictures("horn-and-relay") if 'data-wire="W19"' in picture.svg
        and picture.kind == "circuit"
    ]  # fmt: skip
    assert len(shown) == 2 and {title.partition(",")[0] for title in shown} == {
        "Before the work", "After the work"
    }  # fmt: skip
