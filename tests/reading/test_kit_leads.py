"""Leads of a kit as people list them."""

from pathlib import Path

import pytest
from workbooks import rows, saved, workbook

from planner.model.kit import KitLead, is_a
from planner.problems import InputError
from planner.reading.kit_leads import Kit, read_ends, read_kit
from planner.reading.typed_values import NotUnderstood


def kit(folder: Path, text: str) -> Kit:
    return read_kit(saved(folder, text, "kit.csv"), lambda: ())


def said(found: Kit) -> list[str]:
    return [f"{p.place.line}:{p.place.column} {p.message}" for p in found.problems]


@pytest.mark.parametrize(
    ("typed", "ends"),
    [
        ("three push-on ends", ("blade",) * 3),
        ("3 push-ons", ("blade",) * 3),
        ("two 6.3 mm push-on terminals", ("blade-6.3",) * 2),
        ("2 x bullets", ("bullet",) * 2),
        ("push-on and M8 ring", ("blade", "ring-8")),
        ("blade-6.3; ring-8", ("blade-6.3", "ring-8")),
        ("a bullet, two push-on ends", ("bullet", "blade", "blade")),
        ("6.3 mm push-on & bare end", ("blade-6.3", "bare")),
        ("both bullet", ("bullet", "bullet")),
    ],
)
def test_ends_are_read_by_number_and_kind(typed: str, ends: tuple[str, ...]) -> None:
    assert read_ends(typed) == ends


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("push-ons", "does not say how many"),
        ("8 ring and bullet", "may mean 8 of them or a size"),
        ("push-on", "a lead has from 2 to 12 ends, got 1"),
        ("thirty push-on", "is no fitting"),
        ("7 mm push-on and bullet", "does not say its width"),
        ("", "no ends are given"),
    ],
)
def test_ends_that_are_not_sure_are_asked(typed: str, message: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        read_ends(typed)
    assert message in caught.value.message and caught.value.hint


def test_a_description_says_the_same_as_columns(tmp_path: Path) -> None:
    described = kit(tmp_path, 'no,description\nA,"black, 1.5 mm2, 45 cm, three push-on ends"\n')
    columns = kit(tmp_path, "no,colour,mm2,length cm,ends\nA,black,1.5,45,3 push-ons\n")
    assert described.leads == columns.leads == (KitLead("A", ("BK",), 0.45, ("blade",) * 3, 1.5, 1, 2),)
    assert described.leads[0].words == "black, 1.5 mm2, 0.45 m, three push-on terminals"
    size_last = kit(tmp_path, 'no,description\nA,"black, 45 cm, three push-on ends, 1.5 mm2"\n')
    assert size_last.leads == described.leads


def test_a_workbook_is_read_too(tmp_path: Path) -> None:
    content = workbook(
        rows(("Colour", "Length (mm)", "Ends", "Qty"), ("brown or red?", 450, "two bullets", 3))
    )
    (lead,) = read_kit(saved(tmp_path, content, "kit.xlsx"), lambda: ()).leads
    assert (lead.colours, lead.metres, lead.count, lead.name) == (("BN", "RD"), 0.45, 3, "row 2")


def test_every_lead_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    text = "colour,length,ends,qty\nGR,45,push-ons,none\nblack,45 cm,two bullets,2\n"
    found = kit(tmp_path, text)
    assert said(found) == [
        "2:1 colour: 'GR' may be green/red or grey",
        "2:4 metres: '45' does not say its unit",
        "2:7 ends: 'push-ons' does not say how many",
        "2:16 count: 'none' is no number of leads",
    ]
    assert [lead.row for lead in found.leads] == [3]
    assert said(kit(tmp_path, "description\nblack 45 cm\n")) == [
        "2:1 description: 'black 45 cm' does not say colour, length and ends"
    ]


def test_a_kit_says_what_its_columns_are(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no heading says 'metres' or 'ends', nor 'description'"):
        kit(tmp_path, "no,colour\nA,black\n")


def test_a_kit_of_too_many_leads_is_refused(tmp_path: Path) -> None:
    lines = "".join(f"black,45 cm,two bullets,{count}\n" for count in (500, 1))
    assert said(kit(tmp_path, f"colour,length,ends,qty\n{lines}")) == [
        "3:1 a kit of more than 500 leads cannot be matched"
    ]


def test_an_end_of_unsaid_size_may_be_any_of_its_kind() -> None:
    assert is_a("blade", "blade-4.8") and is_a("ring-8", "ring-8")
    assert not is_a("blade-6.3", "blade-4.8") and not is_a("blade", "bullet")
