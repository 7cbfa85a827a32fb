"""From a workbook as people keep them (a title, mixed units, L/H, wrong rows) to plan, sheet and meter.

The vehicle is a crane lorry that never was. Everything but the earths goes through its ammeter, and it gets a
second wiper speed.
"""

import io
import json
from pathlib import Path

import pytest
from xlsxwriter import Workbook

from planner.commands import FINE, NOT_USABLE, main

FOUND = """\
1|R||84/.30|4 ft|battery +|ammeter A
2|brown|white|44/.012 in|18"|ammeter B|ignition switch bat
3|brown|white|AWG12|90cm|ammeter B|lighting switch 30
4|W|-|28/0.30|3 ft 6|ignition switch ign|fuse 1 in
5|green||28/0.30|2'6"|fuse 1 out|wiper switch feed
6|green||14/0.30|4'|wiper switch feed|wiper motor P
7|GR||14/0.30|1200 mm|wiper switch slow|wiper motor M
8|green|yellow|14/0.30|4'|wiper switch S|wiper motor S
9|red||14|3.5 m|lighting switch 58|L/H stop & tail (tail)
10|red||14/0.30|4'|L/H stop & tail (tail)|R/H stop & tail tail
11|blk|none|1.5|30 cm|L/H stop & tail earth|chassis
12|blk||1.5|30|RH stop & tail earth|chassis
13|black||16 sq mm|0.5 m|battery neg|chassis"""
MENDED = {"|GR||": "|green/red||", "||14|3.5 m": "||14/0.30|3.5 m", "|30|RH": "|30 cm|RH"}
PLACES = {
    "battery": "battery-12v",
    "ammeter": "ammeter-30",
    "ignition-switch": "key-switch-two-positions",
    "lighting-switch": "lighting-switch-rocker",
    "fuse-1": "in-line-fuse-8",
    "wiper-switch": "wiper-switch-one-speed",
    "wiper-motor": "wiper-motor-one-speed",
    "lh-stop-tail": "tail-stop-lamp",
    "rh-stop-tail": "tail-stop-lamp",
}


def _write(path: str, text: str) -> None:
    with Workbook(path) as book:
        sheet = book.add_worksheet("Sheet 1")
        book.add_worksheet("notes").write(0, 0, "bought 3 lamps")
        sheet.merge_range("A1:F1", "Crane lorry, wiring as found, 12 volt neg earth")
        heads = ("Wire #", "Main col.", "Tracer", "Cable size", "Length approx.", "FROM", "TO", "Condition")
        sheet.write_row(3, 0, heads)
        for number, row in enumerate(text.split("\n")):
            # One blank row in the middle, as where a page ended.
            sheet.write_row(4 + number + (number > 6), 0, (*row.split("|"), "good"))


def test_a_messy_workbook_is_mended_row_by_row_and_planned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    _write("crane wiring.xlsx", FOUND)
    assert main(["check", "crane wiring.xlsx"]) == NOT_USABLE
    out, err = (" ".join(text.split()) for text in capsys.readouterr())
    # Every other row is kept; each that is not says where and why.
    assert (
        "Read from crane wiring.xlsx: 10 wires" in out
        and "not read, for no such column is known: Condition" in out
    )
    assert "row 6: wire 2, brown/white, 3.21 mm2, 0.4572 m, from ammeter B to ignition switch bat" in out
    for told in (":11:2: colour: 'GR' may be green/red or grey", ":14:4: mm2: '14' may be mm2 or a gauge",
                 ":17:5: metres: '30' does not say its unit"):  # fmt: skip
        assert f"crane wiring.xlsx{told}" in err
    text = FOUND
    for wrong, right in MENDED.items():
        assert text.count(wrong) == 1, wrong
        text = text.replace(wrong, right)
    _write("crane wiring.xlsx", text)
    assert main(["start", "crane", "--wires", "crane wiring.xlsx"]) == FINE
    monkeypatch.chdir("crane")
    lines = Path("loom.yaml").read_text(encoding="utf-8")
    for place, part in PLACES.items():
        assert lines.count(f"  {place}: {{part: CHOOSE,") == 1, place
        assert part in lines.partition(f"  {place}: {{")[2].split("\n")[1], place
        lines = lines.replace(f"  {place}: {{part: CHOOSE,", f"  {place}: {{part: {part},")
    lines = lines.replace("head]\n", 'head]\n  brake pedal: ["at rest", pressed]\n', 1)
    Path("loom.yaml").write_text(lines, encoding="utf-8")
    capsys.readouterr()
    # The marks of the list that are none of the part's are proposed together, once a place.
    assert main(["check", "loom.yaml"]) == NOT_USABLE
    said = " ".join(capsys.readouterr().err.split())
    for place, marks in (
        ("wiper-switch", "{feed: B, slow: M}"),
        ("ignition-switch", '{bat: "30", ign: "15"}'),
    ):
        assert said.count(f"at {place} in the loom's file, if it is so, marks: {marks}") == 1
        lines = lines.replace(f"  {place}: {{part", f"  {place}: {{marks: {marks}, part")
    assert said.count("marks: {A: CHOOSE, B: CHOOSE}") == 1  # an ammeter's two posts nobody can tell
    lines = lines.replace("  ammeter: {part", '  ammeter: {marks: {A: "1", B: "2"}, part')
    lines += "piggybacks: ['lh-stop-tail:tail']\n"
    Path("loom.yaml").write_text(lines, encoding="utf-8")
    assert main(["check", "loom.yaml"]) == FINE
    assert "the ammeter (1 to 2)" in " ".join(capsys.readouterr().out.split())
    job = Path("job.yaml").read_text(encoding="utf-8")
    swaps = "[{at: wiper-switch, fit: wiper-switch-two-speed}, {at: wiper-motor, fit: wiper-motor-two-speed}]"
    Path("job.yaml").write_text(job.replace("swaps: []", f"swaps: {swaps}"), encoding="utf-8")
    main(["plan", "--json"])
    plan = json.loads(capsys.readouterr().out)
    moved = {(step["wire"], step["to"]) for step in plan["steps"] if step["do"] == "move"}
    assert moved == {
        ("5", "wiper-switch:15"), ("6", "wiper-switch:15"), ("7", "wiper-switch:53"),
        ("8", "wiper-switch:31b"),
        ("7", "wiper-motor:53"), ("6", "wiper-motor:53a"), ("8", "wiper-motor:31b"),
    }  # fmt: skip
    # Behind the ammeter as anywhere: a wire for the second speed and an earth, and nothing is lost.
    made = {(step["from"], step["to"]) for step in plan["steps"] if step["do"] == "add"}
    assert made == {("wiper-switch:53b", "wiper-motor:53b"), ("wiper-motor:31", "earth:car")}
    outcomes = {(line["what"], line["outcome"]) for line in plan["behaviours"] if line["outcome"] != "kept"}
    assert outcomes == {("wipe fast", "gained")}
    main(["sheet"])
    assert "N1 yellow/red" in capsys.readouterr().out
    monkeypatch.setattr("sys.stdin", io.StringIO("0.1\nstop\n"))
    assert main(["meter"]) == 1
    assert "1 of 1 readings are good. Not read: 2 to 8." in " ".join(capsys.readouterr().out.split())
