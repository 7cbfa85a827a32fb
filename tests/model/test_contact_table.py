"""Contact tables: what is joined when, and how one part's terminals map onto another's."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.model.contact_table import table_of
from planner.model.part import Part
from planner.model.terminal_maps import MAX_MAPPINGS, map_terminals


def part(terminals: dict[str, Any], *inside: dict[str, Any], nodes: tuple[str, ...] = ()) -> Part:
    return Part.model_validate(
        {
            "part": "tiny",
            "title": "Tiny",
            "family": "switch",
            "source": "invented",
            "terminals": terminals,
            "nodes": nodes,
            "inside": inside,
        }
    )


def contact(*join: str, **when: Any) -> dict[str, Any]:
    return {"contact": {"join": join, "when": when}}


def control(name: str, *positions: Any) -> dict[str, Any]:
    return {"control": {"name": name, "positions": positions}}


def maps(old: Part, new: Part) -> list[dict[str, str]]:
    return map_terminals(old, new, set(old.terminals))


def test_joints_through_inner_nodes_count() -> None:
    table = table_of(
        part(
            {"a": {}, "b": {}},
            control("c", "off", "on"),
            contact("a", "x", c="on"),
            contact("x", "b"),
            nodes=("x",),
        )
    )
    assert table.joined("a", "b") == (False, True)
    assert table.is_one_node("x", "b")
    assert not table.is_one_node("a", "b")


def test_positions_are_matched_by_meaning_not_by_label() -> None:
    old = part(
        {"f": {}, "s": {}, "h": {}},
        control("c", "off", {"1": "side"}, {"2": "head"}),
        contact("f", "s", c="1"),
        contact("f", "h", c="2"),
    )
    new = part(
        {"a": {}, "b": {}, "c": {}},
        control("c", "off", {"1": "head"}, {"2": "side"}),
        contact("a", "b", c="1"),
        contact("a", "c", c="2"),
    )
    assert maps(old, new) == [{"f": "a", "s": "c", "h": "b"}]


def test_a_condition_of_the_vehicle_is_matched_by_its_name() -> None:
    old = part(
        {"f": {}, "s": {}, "h": {}}, contact("f", "s", door="open"), contact("f", "h", door=["open", "shut"])
    )
    new = part(
        {"a": {}, "b": {}, "c": {}}, contact("a", "b", door=["open", "shut"]), contact("a", "c", door="open")
    )
    assert {way["s"] for way in maps(old, new)} == {"c"}


def test_a_control_that_only_one_part_has_is_at_rest() -> None:
    old = part({"f": {}, "s": {}}, contact("f", "s"))
    new = part(
        {"a": {}, "b": {}, "c": {}},
        control("c", "off", "on"),
        contact("a", "b", c="off"),
        contact("b", "c", c="on"),
    )
    ways = [(way["f"], way["s"]) for way in maps(old, new)]
    assert ("a", "b") in ways
    assert ("b", "c") not in ways


def test_terminals_that_part_only_in_a_new_position_are_two_targets() -> None:
    old = part({"f": {}, "s": {}}, control("c", "off", "on"), contact("f", "s", c="on"))
    new = part(
        {"a": {}, "b": {}, "d": {}},
        control("c", "off", "on", "far"),
        contact("a", "b", "d", c="on"),
        contact("a", "b", c="far"),
    )
    assert {way["s"] for way in maps(old, new) if way["f"] == "a"} == {"b", "d"}


def test_parts_that_share_no_meaning_have_no_mapping() -> None:
    old = part({"f": {}, "s": {}}, control("c", "off", "on"), contact("f", "s", c="on"))
    new = part({"a": {}, "b": {}}, control("c", "left", "right"), contact("a", "b", c="left"))
    assert maps(old, new) == []


def test_parts_with_too_many_positions_are_not_compared() -> None:
    controls = [control(f"c{n}", *[f"p{m}" for m in range(9)]) for n in range(3)]
    old = part({"f": {}, "s": {}}, *controls, contact("f", "s", c0="p1"))
    assert maps(old, old) == []


def test_a_mounting_is_no_terminal_to_put_an_end_on() -> None:
    old = part({"f": {}, "s": {}}, {"lamp": {"between": ["f", "s"], "watts": 5, "does": "lamp"}})
    new = part(
        {"a": {}, "case": {"by": "mounting"}},
        {"lamp": {"between": ["a", "case"], "watts": 5, "does": "lamp"}},
    )
    assert maps(old, new) == []


def test_roles_that_are_known_must_agree() -> None:
    lamp = {"watts": 5, "does": "lamp"}
    old = part({"f": {"role": "58"}, "s": {}}, {"lamp": {"between": ["f", "s"], **lamp}})
    new = part({"a": {"role": "31"}, "b": {"role": "58"}}, {"lamp": {"between": ["a", "b"], **lamp}})
    assert maps(old, new) == [{"f": "b", "s": "a"}]


def test_a_role_that_another_old_terminal_has_is_not_for_one_without() -> None:
    old = part({"f": {"role": "58"}, "s": {}}, contact("f", "s"))
    new = part({"a": {"role": "58"}, "b": {"role": "58"}}, contact("a", "b"))
    assert maps(old, new) == [{"f": "a"}]


def test_a_terminal_without_counterpart_does_not_spoil_the_others() -> None:
    old = part(
        {"f": {}, "s": {}, "t": {}},
        contact("f", "s"),
        {"sender": {"between": ["t", "f"], "follows": "fuel", "ohms": {"full": 1}}},
    )
    new = part(
        {"a": {}}, {"sender": {"between": ["a", "x"], "follows": "oil", "ohms": {"low": 1}}}, nodes=("x",)
    )
    assert {frozenset(way.values()) for way in maps(old, new)} == {frozenset({"a"})}


def test_senders_are_told_apart_by_what_they_follow() -> None:
    def with_senders(one: str, other: str) -> Part:
        return part(
            {"a": {}, "b": {}},
            {"sender": {"between": ["a", "x"], "follows": one, "ohms": {"full": 1}}},
            {"sender": {"between": ["b", "x"], "follows": other, "ohms": {"full": 1}}},
            nodes=("x",),
        )

    assert maps(with_senders("fuel", "oil"), with_senders("oil", "fuel")) == [{"a": "b", "b": "a"}]


def test_the_number_of_mappings_is_bounded() -> None:
    names = [f"t{n}" for n in range(6)]
    switch = part({n: {} for n in names}, control("c", "off", "on"), contact(*names, c="on"))
    assert len(maps(switch, switch)) == MAX_MAPPINGS


def test_terminals_are_alike_only_if_everything_else_sees_no_difference() -> None:
    table = table_of(
        part(
            {"f": {}, "a": {}, "b": {}, "c": {}},
            control("k", "off", "on"),
            contact("f", "a", k="on"),
            contact("f", "b", k="on"),
            contact("f", "c", k="on"),
            {"lamp": {"between": ["c", "f"], "watts": 2, "does": "knob lamp"}},
        )
    )
    assert table.are_alike("a", "b")
    assert not table.are_alike("a", "c")
    assert not table.are_alike("a", "f")


JOINTS = st.lists(
    st.tuples(st.sampled_from("abcd"), st.sampled_from("abcd"), st.sampled_from(["off", "on", "far", None])),
    min_size=1,
    max_size=6,
)


@settings(max_examples=60)
@given(JOINTS, st.permutations("wxyz"))
def test_a_part_whose_terminals_are_renamed_maps_by_the_renaming(
    joints: list[tuple[str, str, str | None]], names: list[str]
) -> None:
    renamed = dict(zip("abcd", names, strict=True))

    def built(rename: dict[str, str]) -> Part:
        contacts = [
            contact(rename[a], rename[b], **({"c": when} if when else {})) for a, b, when in joints if a != b
        ]
        return part({rename[n]: {} for n in "abcd"}, control("c", "off", "on", "far"), *contacts)

    old, new = built({n: n for n in "abcd"}), built(renamed)
    old_table, new_table = table_of(old), table_of(new)
    ways = maps(old, new)
    for way in ways:  # every way keeps the whole table
        for one, at in way.items():
            for other, to in way.items():
                assert old_table.joined(one, other) == new_table.joined(at, to)
    meant = {n for n in "abcd" for m in "abcd" if n != m and any(old_table.joined(n, m))}
    by_node = [{n: way[n] for n in way} for way in ways]
    wanted = {n: renamed[n] for n in meant}
    assert not meant or any(all(new_table.is_one_node(way[n], wanted[n]) for n in meant) for way in by_node)
