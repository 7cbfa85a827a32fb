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
        "  family: auxiliary-lamp\n"
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


OWN_PART = (
    "- part: own-wiper-switch\n"
    "  title: A switch of one's own\n"
    "  family: wiper-switch\n"
    "  mounts: bracket\n"
    "  source: invented\n"
    "  terminals:\n"
    '    "15": {role: "15"}\n'
    '    "53": {role: "53"}\n'
    "    31b: {role: 31b}\n"
    "  inside:\n"
    "    - control: {name: wiper, positions: ['off', slow]}\n"
    "    - contact: {join: ['53', 31b], when: {wiper: 'off'}}\n"
    "    - contact: {join: ['15', '53'], when: {wiper: slow}}\n"
)


def test_a_file_of_one_part_is_compared_where_an_id_stands(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "own.yaml").write_text(OWN_PART, encoding="utf-8")
    status = main(["compare", "wiper-switch-one-speed", str(tmp_path / "own.yaml"), "--json"])
    document = json.loads(capsys.readouterr().out)
    assert status == LOSSES
    assert (document["other"], document["verdict"]) == ("own-wiper-switch", "fits with rewiring")
    assert "It is held on a bracket, the original in a hole." in document["reasons"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            OWN_PART + OWN_PART.replace("own-wiper-switch", "another"),
            "holds 2 parts; expected a file with one",
        ),
        (OWN_PART.replace("join: ['53', 31b]", "join: ['53', 99]"), "own.yaml:12:"),
        ("", "the file is empty"),
    ],
)
def test_a_file_without_one_sound_part_is_refused(
    text: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "own.yaml").write_text(text, encoding="utf-8")
    assert main(["compare", "wiper-switch-one-speed", str(tmp_path / "own.yaml")]) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == ""
    assert said in " ".join(err.split())


FITTED = [
    "wiper-switch-one-speed",
    "wiper-switch-two-speed",
    "--in",
    "skarrow-8",
    "--at",
    "dash.wiper-switch",
]


def test_a_swap_fitted_in_a_loom_is_planned_beneath_the_comparison(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status = main(["compare", *FITTED])
    out = " ".join(capsys.readouterr().out.split())
    assert status == LOSSES
    parts = [
        "FITS WITH REWIRING",
        "Fitted: wiper switch, dash",
        "Verdict: LOSSES",
        "about 26 min",
        "Work list",
    ]
    assert [out.index(text) for text in parts] == sorted(out.index(text) for text in parts)
    assert "dead position" in out
    assert "1. Earthed pole of the battery off first" in out


def test_in_a_loom_the_plan_decides_the_status(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "own.yaml").write_text(OWN_PART, encoding="utf-8")
    argv = ["compare", "wiper-switch-one-speed", str(tmp_path / "own.yaml"), *FITTED[2:], "--json"]
    assert main(argv) == FINE
    document = json.loads(capsys.readouterr().out)
    assert document["verdict"] == "fits with rewiring"
    assert document["fitted"]["verdict"] == "no-loss"
    assert {"fit", "move"} <= {step["do"] for step in document["fitted"]["steps"]}


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (FITTED[:4], "--in LOOM and --at PLACE go together"),
        ([*FITTED[:5], "dash.wiper-swich"], "has no place 'dash.wiper-swich'; try dash.wiper-switch"),
        ([*FITTED[:5], "scuttle.wiper-motor"], "holds wiper-motor-one-speed, not wiper-switch-one-speed"),
        ([*FITTED[:3], "nowhere", *FITTED[4:]], "nowhere: there is no file and no loom of that name"),
    ],
)
def test_a_place_that_does_not_hold_the_original_is_said(
    argv: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", *argv]) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == ""
    assert said in " ".join(err.split())


def test_a_part_that_asks_for_a_condition_that_the_loom_has_not_is_said(
    capsys: pytest.CaptureFixture[str],
) -> None:
    asked = ["compare", "temperature-sender", "oil-pressure-switch", "--in", "merrowby-26"]
    assert main([*asked, "--at", "engine.sender"]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "'oil-pressure-switch' depends on 'oil pressure'" in told
    assert "try this line under conditions: oil pressure:" in told


def test_an_own_part_under_the_id_of_another_is_not_fitted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = OWN_PART.replace("own-wiper-switch", "fog-lamp")
    (tmp_path / "own.yaml").write_text(own, encoding="utf-8")
    assert main(["compare", "wiper-switch-one-speed", str(tmp_path / "own.yaml"), *FITTED[2:]]) == NOT_USABLE
    assert "another part with the id fog-lamp" in capsys.readouterr().err


def test_the_sheet_says_what_is_alike(capsys: pytest.CaptureFixture[str]) -> None:
    main(["compare", "wiper-switch-one-speed", "wiper-switch-two-speed"])
    lines = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
    assert lines.index("What differs") < lines.index("What is alike") < lines.index("Ratings")
    assert "with wiper at slow B with M - joined" in lines


@pytest.mark.parametrize(
    ("original", "other", "at"),
    [
        ("ignition-switch-early", "ignition-switch-no-accessory", "dash.ignition-switch"),
        ("fuse-box-ten-way", "fuse-box-torpedo-4", "dash.fuse-box"),
    ],
)
def test_in_a_loom_the_table_pairs_terminals_as_the_plan_under_it_does(
    original: str, other: str, at: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["compare", original, other, "--json"])
    alone = {line["original"]: line["other"] for line in json.loads(capsys.readouterr().out)["terminals"]}
    main(["compare", original, other, "--in", "skarrow-8", "--at", at, "--json"])
    document = json.loads(capsys.readouterr().out)
    table = {line["original"]: line["other"] for line in document["terminals"]}
    moves: dict[str, set[str]] = {}
    for step in document["fitted"]["steps"]:
        if step["do"] == "move" and step["from"].startswith(f"{at}:"):
            moves.setdefault(step["from"].removeprefix(f"{at}:"), set()).add(step["to"])
    landed = {
        m: to.removeprefix(f"{at}:") for m, (to, *more) in moves.items() if not more and to.startswith(at)
    }
    assert landed
    assert {mark: table[mark] for mark in landed} == landed
    assert {mark: alone[mark] for mark in landed} != landed, "the case would prove nothing"
    assert any(line["why"] == "the plan puts it there" for line in document["terminals"])
