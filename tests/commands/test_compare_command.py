"""``loomwright compare``: statuses, the document, the sheet, and parts that are not there."""

import json
from pathlib import Path

import pytest

from planner.commands import FINE, NOT_USABLE, main

LOSSES = 1
KEYS = {"original", "other", "verdict", "reasons", "terminals", "behaviours", "ratings"}


@pytest.mark.parametrize(
    ("original", "other", "verdict", "status"),
    [
        ("fog-lamp", "fog-lamp", "drop-in", FINE),
        ("dip-relay-five", "dip-relay-five-late", "drop-in", FINE),
        ("wiper-motor-one-speed", "wiper-motor-two-speed", "fits with rewiring", LOSSES),
        ("dip-relay-five", "dip-relay-four", "fits with losses", LOSSES),
        ("horn-insulated", "fog-lamp", "does not fit", LOSSES),
    ],
)
def test_only_a_drop_in_ends_with_0(
    original: str, other: str, verdict: str, status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", original, other, "--json"]) == status
    out, err = capsys.readouterr()
    document = json.loads(out)
    assert err == ""
    assert set(document) == KEYS
    assert (document["original"], document["other"], document["verdict"]) == (original, other, verdict)
    assert document["reasons"] and all(reason.endswith(".") for reason in document["reasons"])


def test_the_document_names_pairs_and_what_has_no_partner(capsys: pytest.CaptureFixture[str]) -> None:
    main(["compare", "dip-relay-four", "dip-relay-five", "--json"])
    document = json.loads(capsys.readouterr().out)
    assert [(line["original"], line["other"]) for line in document["terminals"]] == [
        ("56", "H"),
        ("56a", "M"),
        ("56b", "D"),
        ("S", "S"),
        (None, "B"),
    ]
    assert all(set(line) == {"original", "other", "why", "work"} for line in document["terminals"])
    assert {
        "position": "with beam dipped",
        "what": "56 with 56b",
        "original": "joined",
        "other": "joined",
        "outcome": "kept",
    } in document["behaviours"]
    assert {
        "what": "coil of armature",
        "original": "60 ohms",
        "other": "60 ohms",
        "outcome": "same",
        "note": "",
    } in document["ratings"]


def test_the_sheet_says_verdict_terminals_differences_and_ratings(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "interior-lamp-own-earth", "interior-lamp-no-earth"]) == LOSSES
    out = capsys.readouterr().out
    lines = out.splitlines()
    assert max(len(line) for line in lines) <= 80
    assert out.isascii()
    assert "FITS WITH LOSSES: interior-lamp-no-earth in place of interior-lamp-own-earth" in lines
    headings = [lines.index(text) for text in ("Terminals", "What differs", "Ratings", "Notes")]
    assert headings == sorted(headings)
    (changed,) = (line for line in lines if line.strip().startswith("CHANGED"))
    assert "interior light" in changed
    assert "between B and E" in " ".join(out.split())


def test_the_sheet_of_a_drop_in_says_that_nothing_differs(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "fog-lamp", "fog-lamp"]) == FINE
    out = " ".join(capsys.readouterr().out.split())
    assert "DROP-IN: fog-lamp in place of fog-lamp" in out
    assert "Nothing: each joint and each load is where it was, in every position." in out


def test_parts_without_figures_say_so(capsys: pytest.CaptureFixture[str]) -> None:
    main(["compare", "turn-switch-early", "turn-switch-numbers-changed"])
    assert "Neither part gives a figure that both have." in capsys.readouterr().out


def test_nothing_left_of_the_original_is_said_on_the_sheet(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "horn-insulated", "horn-earthed-by-body"]) == LOSSES
    out = capsys.readouterr().out
    assert "DOES NOT FIT" in out
    assert "Nothing is as it was." in out


@pytest.mark.parametrize(
    ("argv", "near"),
    [
        (["dip-relay-fiv", "dip-relay-four"], "dip-relay-five"),
        (["dip-relay-five", "dip relay"], "dip-relay-five-late"),
        (["dynamo", "dynamo"], "dynamo-two-brush"),
    ],
)
def test_a_part_that_is_not_there_is_said_with_the_nearest(
    argv: list[str], near: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", *argv]) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("loomwright: no part has the id ")
    assert near in err


def test_a_part_like_nothing_points_to_the_list(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "zzzz", "fog-lamp"]) == NOT_USABLE
    assert "'loomwright parts' lists them all" in capsys.readouterr().err


def test_parts_of_an_own_folder_are_compared_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "parts"
    folder.mkdir()
    (folder / "own.yaml").write_text(
        "- part: fog-lamp-led\n"
        "  title: Fog lamp with light-emitting diodes\n"
        "  family: fog-lamp\n"
        "  source: invented\n"
        "  terminals:\n"
        '    "55": {role: "55", fitting: blade-6.3}\n'
        '    case: {role: "31", by: mounting, fitting: stud-8}\n'
        "  inside:\n"
        '    - led: {between: ["55", case], watts: 12, does: fog lamp}\n',
        encoding="utf-8",
    )
    argv = ["compare", "fog-lamp", "fog-lamp-led", "--catalog", str(tmp_path), "--json"]
    assert main(argv) == LOSSES
    document = json.loads(capsys.readouterr().out)
    assert document["verdict"] == "fits with losses"
    assert any("LED works one way round only" in reason for reason in document["reasons"])
    assert any("55 W on the original, 12 W on the other" in reason for reason in document["reasons"])
