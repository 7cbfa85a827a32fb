"""The sheets of parts, kinds of element, rules and checks."""

from pathlib import Path

import pytest
from hand_made import assert_golden, text_of

from planner.engine.rule import HEADINGS, Rule
from planner.model.catalogue import Catalogue, Publication
from planner.model.part import Part, Role
from planner.model.search import FoundParts
from planner.sheets.build.check import catalogue_sheet, files_sheet
from planner.sheets.build.contact_rows import MOST_ROWS, NOT_NAMED, contact_rows, position_words
from planner.sheets.build.kinds import KINDS, kind_json, kind_section, number_words, plain_name, unit_of
from planner.sheets.build.parts import part_sheet, parts_sheet
from planner.sheets.build.rule import rule_sheet, rules_sheet
from planner.sheets.sheet import Sheet

ROLES = {
    "15": Role(rank=10, meaning="live with the ignition", wants="ignition", source="ours", basis="invented"),
    "53": Role(rank=24, meaning="wiper motor: feed", wants="partner", source="ours", basis="invented"),
    "31": Role(rank=100, meaning="earth", wants="earth", source="ours", basis="invented"),
}
PUBLISHED = Publication(title="A bench", edition="2nd", page="7", basis="invented")


def part_of(**more: object) -> Part:
    data = {"part": "bench-part", "title": "Bench part", "family": "bench", "source": "bench", **more}
    return Part.model_validate(data)


SWITCH = part_of(
    part="pump-switch",
    title="Pump switch with relay",
    years="1961-1966",
    must_not_be_earthed=True,
    note="The lamp is in the knob.",
    terminals={
        "+": {"role": "15", "face": [1, 1], "holds": 2},
        "M": {"role": "53", "fitting": "blade-4.8", "piggyback": False, "face": [2, 2]},
        "x": {"fitting": "stud-5", "stamped": False, "wants": "live"},
        "case": {"role": "31", "by": "mounting"},
    },
    inside=[
        {"control": {"name": "pump", "positions": ["off", {"1": "slow"}, {"2": "fast"}]}},
        {"contact": {"join": ["+", "M"], "when": {"pump": "1"}, "amps": 8, "overlaps": True}},
        {"contact": {"join": ["+", "x"], "when": {"pump": "2", "brake pedal": "pressed"}}},
        {
            "coil": {
                "between": ["x", "case"],
                "ohms": 60,
                "pulls_in_v": 7.5,
                "drops_out_v": 3,
                "name": "armature",
            }
        },
        {"lamp": {"between": ["+", "case"], "watts": 2, "does": "pump lamp"}},
        {"sender": {"between": ["x", "case"], "follows": "fuel", "ohms": {"empty": 10, "full": 180}}},
    ],
)
CATALOGUE = Catalogue(ROLES, {"bench": PUBLISHED}, {"pump-switch": SWITCH}, {}, {"bench": Path()}, {})


def test_the_sheet_of_a_part_is_as_the_golden_one() -> None:
    assert_golden(text_of(part_sheet(SWITCH, CATALOGUE)), "part")


def test_the_fields_of_a_coil_are_as_in_the_golden_sheet() -> None:
    found = FoundParts((), (SWITCH,), (), ())
    assert_golden(text_of(parts_sheet(found, ["coil"], "coil")), "coil")


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_of_every_kind_of_element_says_what_it_is(kind: str) -> None:
    fields = kind_json(kind)
    assert [f["field"] for f in fields if not f["description"]] == []
    text = text_of(Sheet("T", (kind_section(kind),)), 200)
    assert [f["field"] for f in fields if f"\n  {f['field']}  " not in text] == []


def test_bounds_and_units_of_a_field_come_from_the_model() -> None:
    fields = {f["field"]: f for f in kind_json("coil")}
    assert fields["pulls_in_v"]["form"] == "number in V, above 0, at most 60"
    assert fields["pulls_in_v"]["required"] is True
    assert fields["does"]["required"] is False
    assert {f["field"]: f for f in kind_json("sender")}["ohms"]["form"] == "text: number in ohm"


@pytest.mark.parametrize(
    ("field", "unit", "name"),
    [
        ("ohms", "ohm", ""),
        ("pulls_in_v", "V", "pulls in"),
        ("full_scale_amps", "A", "full scale"),
        ("does", "", "does"),
    ],
)
def test_a_field_name_is_parted_into_words_and_unit(field: str, unit: str, name: str) -> None:
    assert (unit_of(field), plain_name(field)) == (unit, name)


@pytest.mark.parametrize(
    ("number", "words"), [(60, "60"), (0.005, "0.005"), (1e6, "1,000,000"), (2.5, "2.5")]
)
def test_numbers_have_no_idle_digits(number: float, words: str) -> None:
    assert number_words(number) == words


def test_a_part_of_any_year_says_so() -> None:
    assert "Years: any." in text_of(part_sheet(part_of(terminals={"a": {}}), CATALOGUE))


def test_a_part_with_nothing_inside_shows_its_terminals_only() -> None:
    text = text_of(part_sheet(part_of(terminals={"a": {}}), CATALOGUE))
    assert "Terminals\n" in text and "Source\n" in text
    assert "Inside" not in text and "Face" not in text and "joined" not in text


def test_every_value_of_an_element_is_said_with_its_unit() -> None:
    inside = [
        {"control": {"name": "pump", "positions": ["off", "on"]}},
        {"resistor": {"between": ["a", "b"], "ohms": 1500, "when": {"pump": ["on", "off"]}}},
        {"flasher": {"between": ["a", "b"], "kind": "thermal", "needs_amps": 0.5, "name": "beat"}},
        {"contact": {"join": ["a", "b"], "overlaps": False, "amps": 5}},
    ]
    text = text_of(part_sheet(part_of(terminals={"a": {}, "b": {}}, inside=inside), CATALOGUE))
    assert "- resistor from a to b: 1,500 ohm, when pump on or off\n" in text
    assert "- flasher from a to b: kind thermal, needs 0.5 A, name beat\n" in text
    assert "- contact a with b: 5 A\n" in text


def test_contacts_that_share_nothing_have_tables_of_their_own() -> None:
    inside = [{"contact": {"join": ["a", "b"], "when": {"door": "open"}}}, {"contact": {"join": ["c", "d"]}}]
    part = part_of(terminals={"a": {}, "b": {}, "c": {}, "d": {}}, inside=inside)
    first, second = contact_rows(part)
    assert first.rows == ((("open",), (("a", "b"),)), ((NOT_NAMED,), ()))
    assert second.rows == (((), (("c", "d"),)),)
    assert position_words(part, "door", NOT_NAMED) == "otherwise"


def test_terminals_joined_by_way_of_an_inner_node_are_one_group() -> None:
    inside = [{"contact": {"join": ["a", "n"]}}, {"contact": {"join": ["n", "b"], "when": {"door": "open"}}}]
    part = part_of(terminals={"a": {}, "b": {}}, nodes=["n"], inside=inside)
    (table,) = contact_rows(part)
    assert table.rows == ((("open",), (("a", "b", "n"),)), ((NOT_NAMED,), (("a", "n"),)))


def test_contacts_with_too_many_positions_are_given_one_by_one() -> None:
    names = "pqrstu"
    inside = [{"control": {"name": n, "positions": ["off", "on"]}} for n in names]
    inside += [{"contact": {"join": ["a", "b"], "when": {n: ["on", "off"] for n in names}}}]
    part = part_of(terminals={"a": {}, "b": {}}, inside=inside)
    assert 2 ** len(names) > MOST_ROWS
    (table,) = contact_rows(part)
    assert table.rows == ((("on or off",) * 6, (("a", "b"),)),)


def test_parts_found_by_name_come_before_parts_found_by_what_they_have() -> None:
    other = part_of(terminals={"a": {}})
    text = text_of(parts_sheet(FoundParts((other,), (SWITCH,), (), ()), ["bench"]))
    assert text.index("Called so") < text.index("bench-part") < text.index("With it inside")
    assert text.index("With it inside") < text.index("pump-switch")


MANUAL = "It is found.\n\n" + "\n\n".join(
    f"{heading}\nAbout {heading.lower()}\nand more." for heading in HEADINGS
)
RULE = Rule("bench-rule", "It is found.", MANUAL, "and more.", lambda case: iter(()))


def test_a_rule_shows_every_heading_of_its_manual_with_its_text() -> None:
    text = text_of(rule_sheet(RULE))
    assert text.startswith("bench-rule\n==========\n\nIt is found.\n\nWhat it looks for\n")
    for heading in HEADINGS:
        assert f"\n{heading}\n{'-' * len(heading)}\n  About {heading.lower()} and more.\n" in text


def test_the_list_of_rules_gives_each_its_finding() -> None:
    assert "- bench-rule\n  It is found.\n" in text_of(rules_sheet([RULE]))


def test_an_empty_list_of_rules_says_so() -> None:
    assert "No rule pack is installed." in text_of(rules_sheet([]))


def test_a_checked_catalogue_is_counted_and_its_jobs_named() -> None:
    text = text_of(catalogue_sheet(CATALOGUE))
    assert "roles    3      can be used" in text
    assert "Looms\n-----\n  bench\n" in text
    assert "Jobs, for 'loomwright plan JOB'\n" in text and text.endswith("  none\n")


def test_checked_files_are_named_with_their_kind() -> None:
    assert "pumps.yaml  parts  can be used" in text_of(files_sheet([("pumps.yaml", "parts")]))


@pytest.mark.parametrize(
    ("polarity", "said"),
    [
        ("indifferent", "works alike whichever pole"),
        ("reverses", "until its leads are exchanged"),
        ("repolarise", "must be repolarised"),
        ("negative-earth", "For negative earth only"),
        ("positive-earth", "For positive earth only"),
    ],
)
def test_a_part_says_what_becomes_of_it_with_the_other_pole_earthed(polarity: str, said: str) -> None:
    part = part_of(terminals={"+": {}}, polarity=polarity)
    text = text_of(part_sheet(part, Catalogue(ROLES, {"bench": PUBLISHED}, {}, {}, {}, {})))
    assert said in " ".join(text.split())


def test_a_part_that_says_nothing_of_polarity_is_not_spoken_for() -> None:
    part = part_of(terminals={"+": {}})
    text = text_of(part_sheet(part, Catalogue(ROLES, {"bench": PUBLISHED}, {}, {}, {}, {})))
    assert "earthed" not in text
