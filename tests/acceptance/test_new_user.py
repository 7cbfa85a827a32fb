"""From an empty folder to plan, sheet and meter: two invented vehicles, a list each, two parts by a meter.

What a person types is typed here as people type it. Where each end goes was worked out on paper beforehand.
"""

import io
import json
import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from xlsxwriter import Workbook

from planner.commands import FINE, NOT_USABLE, main

# On paper, the first vehicle: a pick-up of which only lamps are looked at.
PAPER = """\
No,Colour,Size,Length,From,To
1,brown,28/0.30,3 ft,always live fuse 25 A,light switch A1
2,red,14/0.30,5 ft,light switch S,left side lamp
3,red,14/.012 in,4 ft,left side lamp,right side lamp
4,red w/ white tracer,14/0.30,11 ft,light switch P,left tail lamp 58
5,red/white,14/0.30,3 ft,left tail lamp 58,right tail lamp 58
6,blue,28/0.30,4 ft,light switch H,dip switch 56
7,blue/white,28/0.30,6 ft,dip switch 56a,left headlamp main
8,blue/white,28/0.30,4 ft,left headlamp main,right headlamp main
9,blue/red,28/0.30,6 ft,dip switch 56b,left headlamp dip
10,blue/red faded,28/0.30,4 ft,left headlamp dip,right headlamp dip
11,black,28/0.30,1 ft,left headlamp earth,body at the front
12,black,28/0.30,1 ft,right headlamp earth,body at the front
13,black,14/0.30,1 ft,left tail lamp 31,body at the rear
14,black,14/0.30,1 ft,right tail lamp 31,body at the rear
15,green/purple,14/0.30,10 ft,brake light switch,left tail lamp 54
"""
ON_THE_PICK_UP = {
    "light-switch": "lighting-switch-two-feeds",
    "left-side-lamp": "side-lamp",
    "right-side-lamp": "side-lamp",
    "left-tail-lamp": "tail-stop-lamp-p21-4w",
    "right-tail-lamp": "tail-stop-lamp-p21-4w",
    "dip-switch": "dip-switch-foot",
    "left-headlamp": "headlamp-r2",
    "right-headlamp": "headlamp-r2",
    "brake-light-switch": "stop-switch-hydraulic",
}
# Beneath a title over merged cells, the second: a tourer of 1958 with the positive pole earthed.
WORKBOOK = """\
brown|44/0.30|6|battery -|fuse box A1|
black|AWG 4|1.5|battery +|body in the bay|braid replaced
brown|44/.012|3|fuse box A1|ignition switch A|
white|28/0.30|3|ignition switch IG|fuse box A3|
purple|14/0.30|4|fuse box A2|horn +|
brown w/ blue tracer|44/0.30|3|fuse box A1|light switch A1|
purple/black|14/0.30|5|horn -|horn push|
green|28/0.30|2.5|fuse box A4|wiper switch B|
green|28/0.30|3|wiper switch B|wiper motor P|
yellow|28/0.30|3|wiper switch M|wiper motor M|
yellow/green|28/0.30|3|wiper switch S|wiper motor S|
green|AWG 16|2|fuse box A4|flasher B|
lt. green/brown|AWG 16|2.5|flasher L|turn switch F|
green/red|14/0.30|6|turn switch 1|left front turn signal|
green/red|14/0.30|13|left front turn signal|left rear turn signal|
green/white|14/0.30|6|turn switch 2|right front turn signal|
green or blue w. white, faded|14/0.30|13|right front turn signal|right rear turn signal|
green|14/0.30|2|fuse box A4|fuel gauge I|
green/black|14/0.30|12|fuel gauge S|fuel sender|
black|14/0.30|1|fuel gauge E|body behind the dash|
green/brown|14/0.30|4|fuel gauge I|stop switch in|
green/purple|14/0.30|14|stop switch out|left tail lamp stop|
green/purple|14/0.30|3|left tail lamp stop|right tail lamp stop|
red|14/0.30|13|light switch S|left tail lamp tail|
red|14/0.30|3|left tail lamp tail|right tail lamp tail|
black|14/0.30|1|left tail lamp earth|body at the rear|
black|14/0.30|1|right tail lamp earth|body at the rear|
green/yellow|28/0.30|2|ignition switch AC|heater switch in|
green/grey|28/0.30|3|heater switch out|heater fan +|
black|28/0.30|1|heater fan -|body in the bay|"""
ON_THE_TOURER = {
    "battery": "battery-12v-positive-earth",
    "fuse-box": "fuse-box-glass-2",
    "ignition-switch": "ignition-switch-early",
    "horn": "horn-insulated",
    "light-switch": "lighting-switch-two-feeds",
    "horn-push": "horn-push-return",
    "wiper-switch": "wiper-switch-one-speed",
    "wiper-motor": "wiper-motor-one-speed",
    "flasher": "flasher-thermal",
    "turn-switch": "turn-switch-early",
    "left-front-turn-signal": "turn-lamp",
    "left-rear-turn-signal": "turn-lamp",
    "right-front-turn-signal": "turn-lamp",
    "right-rear-turn-signal": "turn-lamp",
    "fuel-gauge": "fuel-gauge-10-180",
    "fuel-sender": "fuel-sender-10-180",
    "stop-switch": "stop-switch-mechanical",
    "left-tail-lamp": "tail-stop-lamp",
    "right-tail-lamp": "tail-stop-lamp",
    "heater-switch": "heater-switch-early",
    "heater-fan": "heater-fan",
}
ROCKER = "position,X-Y,X-Z,Y-Z\noff,OL,OL,OL\nside,0.2,OL,OL\nhead,beeps,0.1,0.3\n"
DIP = """\
position,A-B,A-C,A-D,B-C,B-D,C-D
dipped,0.2,OL,OL,OL,OL,OL
main,OL,0.3,0.2,OL,OL,0.2
"""
WIPER = "Knob;From;To;Meter\noff;1;2;open\n;1;3;open\n;2;3;beeps\non;1;2;0,2\n;1;3;open\n;2;3;open\n"
TURN = "lever,a to b,a to c,b to c\nleft,.2,OL,OL\nstraight,OL,OL,OL\nright,OL,0.1,OL\n"


@pytest.fixture(autouse=True)
def _in_an_empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def _changed(file: str, changes: Mapping[str, str]) -> None:
    """What an editor does: each text stands once."""
    text = Path(file).read_text(encoding="utf-8")
    for old, new in changes.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    Path(file).write_text(text, encoding="utf-8")


def _chosen(parts: Mapping[str, str], **more: str) -> None:
    """Each part at its place; the beginning must have named it as one that may be there."""
    lines = Path("loom.yaml").read_text(encoding="utf-8").splitlines()
    for place, part in parts.items():
        at = next(n for n, line in enumerate(lines) if line.startswith(f"  {place}: {{part: CHOOSE,"))
        assert part in lines[at + 1].partition("may be ")[2].split(" or "), lines[at + 1]
        lines[at] = lines[at].replace("CHOOSE", part)
    Path("loom.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    for old, new in more.items():
        _changed("loom.yaml", {old: new})


def _went(plan: Mapping[str, object]) -> set[tuple[str, str]]:
    """Each moved wire with where it went."""
    steps = plan["steps"]
    assert isinstance(steps, list)
    return {(step["wire"], step["to"]) for step in steps if step["do"] == "move"}


def test_a_paper_list_of_15_wires_and_two_switches_known_from_a_meter(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    Path("paper.csv").write_text(PAPER)
    assert main(["start", "pick-up", "--wires", "paper.csv"]) == FINE
    assert "each of the 9 places" in " ".join(capsys.readouterr().out.split())
    monkeypatch.chdir("pick-up")
    _chosen(ON_THE_PICK_UP)
    # What the loom lacks is said with the line that mends it, and the list with its row.
    assert main(["check", "loom.yaml"]) == NOT_USABLE
    said = " ".join(capsys.readouterr().err.split())
    assert 'try this line under conditions: brake pedal: ["at rest", "pressed"]' in said
    assert "paper.csv:16:31: from: 'brake light switch' does not say which terminal" in said
    _changed("paper.csv", {"brake light switch,": "brake light switch out,"})
    lights = '  lights: ["off", side, head]'
    _changed("loom.yaml", {lights: f'{lights}\n  brake pedal: ["at rest", "pressed"]'})
    assert main(["check", "loom.yaml"]) == NOT_USABLE
    said = " ".join(capsys.readouterr().err.split())
    piggybacks = said.partition("in the loom: ")[2].partition("; or another")[0]
    assert piggybacks.startswith("piggybacks: ['left-headlamp:dip',")
    with Path("loom.yaml").open("a", encoding="utf-8") as loom:
        loom.write(piggybacks + "\n")
    assert main(["check", "loom.yaml"]) == FINE
    account = " ".join(capsys.readouterr().out.split())
    assert "through the light switch (A1 to H), the dip switch (56 to 56b)" in account
    assert "light switch: A1 is battery feed, S is side lamps, H is headlamp feed" in account
    # Neither part is decided by the meter alone: what it is for, the person knows.
    Path("rocker.csv").write_text(ROCKER)
    assert main(["identify", "rocker.csv"]) == 1
    assert "speaks for a lighting-switch" in " ".join(capsys.readouterr().out.split())
    assert main(["identify", "rocker.csv", "--family", "lighting switch"]) == FINE
    assert "FOUND: Lighting switch, rocker." in capsys.readouterr().out
    Path("parts").mkdir()
    Path("dip.csv").write_text(DIP)
    assert main(["identify", "dip.csv", "--family", "dip switch", "--write", "parts/my-dip.yaml"]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "NOT FOUND" in said and "fit: my-dip; then 'loomwright plan JOB --catalog .'" in said
    assert main(["compare", "dip-switch-foot", "parts/my-dip.yaml"]) == 1
    assert "It does all that the original does, in every position." in capsys.readouterr().out
    # A job that nobody went on with is none; then the two swaps.
    assert main(["plan"]) == NOT_USABLE
    assert "the job asks for nothing" in capsys.readouterr().err
    swaps = "[{at: light-switch, fit: lighting-switch-rocker}, {at: dip-switch, fit: my-dip}]"
    _changed("job.yaml", {"swaps: []": f"swaps: {swaps}"})
    assert main(["plan", "--catalog", ".", "--json"]) == 1
    plan = json.loads(capsys.readouterr().out)
    # 30, 58 and 56 take feed, side lamps and headlamps; the tail lamps' P to 58 as well. A is joined to B
    # when dipped, to C and D on main: C is read first, and D stays free.
    assert _went(plan) == {
        ("1", "light-switch:30"),
        ("2", "light-switch:58"),
        ("4", "light-switch:58"),
        ("6", "light-switch:56"),
        ("6", "dip-switch:A"),
        ("7", "dip-switch:C"),
        ("9", "dip-switch:B"),
    }
    assert plan["verdict"] == "measure"
    about = " ".join(question["about"] for question in plan["questions"])
    assert "stop lamp" in about and "unmarked part my-dip" in about
    assert {line["outcome"] for line in plan["behaviours"]} <= {"kept"}
    assert main(["sheet", "--catalog", "."]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "the minus post, the earthed one, off the battery" in said
    assert "Re-end the brown wire (1) with a 9.5 mm push-on terminal for 30 on the light switch" in said
    assert re.search(r"Put the blue/white wire \(7\), off 56a on the dip switch since step \d+, on C", said)
    assert "Cover the bare terminal D on the dip switch" in said
    # The meter: three readings with the battery off, three at full power, all as they should be.
    monkeypatch.setattr("sys.stdin", io.StringIO("0.3\n0.2\n0,3 ohm\n12.4\n12,3 V\n12.1\n"))
    assert main(["meter", "--catalog", "."]) == FINE
    out, err = (" ".join(text.split()) for text in capsys.readouterr())
    assert "Set: the dip switch to main; the light switch to head" in err
    assert "Volts, red tip on C on the dip switch" in err
    assert "6 of 6 readings are good." in out


def test_a_workbook_of_30_wires_and_two_parts_known_from_a_meter(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with Workbook("tourer wires.xlsx") as book:
        sheet = book.add_worksheet("Wires")
        sheet.merge_range("A1:G1", "Tourer, 1958 - wires as traced, shed notes")
        heads = ("Nr.", "Cable colour", "Gauge", "Length (ft)", "Comes from", "Goes to", "Remarks")
        sheet.write_row(2, 0, heads)
        for number, row in enumerate(WORKBOOK.split("\n"), 1):
            colour, size, feet, *ends = row.split("|")
            sheet.write_row(number + 2, 0, (number, colour, size, float(feet), *ends))
    assert main(["check", "tourer wires.xlsx"]) == FINE
    said = " ".join(capsys.readouterr().out.split())
    assert "30 wires" in said and "wire 17, green/white" in said
    assert "colour as written: green or blue w. white, faded" in said
    assert main(["start", "tourer", "--wires", "tourer wires.xlsx"]) == FINE
    monkeypatch.chdir("tourer")
    _chosen(ON_THE_TOURER)
    lights = '  lights: ["off", side, head]'
    more = '  brake pedal: [released, pressed]\n  fuel: [empty, quarter, half, "three quarters", full]'
    _changed("loom.yaml", {"earthed: negative": "earthed: positive", lights: f"{lights}\n{more}"})
    capsys.readouterr()
    assert main(["check", "loom.yaml"]) == NOT_USABLE
    said = " ".join(capsys.readouterr().err.split())
    with Path("loom.yaml").open("a", encoding="utf-8") as loom:
        loom.write(said.partition("in the loom: ")[2].partition("; or another")[0] + "\n")
    assert main(["check", "loom.yaml"]) == FINE
    account = " ".join(capsys.readouterr().out.split())
    assert "12 V, positive earth" in account and "What never works" not in account
    assert "reads 100 % (empty on its face)" in account
    assert "that the green/white wire 17 goes from 'lamp'" in account
    Path("parts").mkdir()
    for name, text, family in (("wiper", WIPER, "wiper switch"), ("turn", TURN, "turn switch")):
        Path(f"{name}.csv").write_text(text)
        argv = ["identify", f"{name}.csv", "--family", family, "--write", f"parts/my-{name}.yaml"]
        assert main(argv) == FINE
        assert "FOUND: " in capsys.readouterr().out
    swaps = "[{at: wiper-switch, fit: my-wiper}, {at: turn-switch, fit: my-turn}]"
    _changed("job.yaml", {"swaps: []": f"swaps: {swaps}"})
    assert main(["plan", "--catalog", ".", "--json"]) == 1
    plan = json.loads(capsys.readouterr().out)
    assert _went(plan) == {
        ("8", "wiper-switch:1"),
        ("9", "wiper-switch:1"),
        ("10", "wiper-switch:2"),
        ("11", "wiper-switch:3"),
        ("13", "turn-switch:a"),
        ("14", "turn-switch:b"),
        ("16", "turn-switch:c"),
    }
    assert plan["verdict"] == "measure" and len(plan["questions"]) == 2
    assert {line["outcome"] for line in plan["behaviours"]} <= {"kept"}
    assert main(["sheet", "--catalog", "."]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "the plus post, the earthed one, off the battery" in said
    assert re.search(r"Put the green/red wire \(14\), off 1 on the turn switch since step \d+, on b", said)
    # The meter, first with the battery off: what a person reads of the first test, then a stop.
    monkeypatch.setattr("sys.stdin", io.StringIO("0.1\nstop\n"))
    assert main(["meter", "--catalog", "."]) == 1
    out, err = (" ".join(text.split()) for text in capsys.readouterr())
    assert "Ohms, one tip on 2 on the wiper switch, the other on M on the wiper motor" in err
    assert "loomwright meter job.yaml --catalog ." in out
