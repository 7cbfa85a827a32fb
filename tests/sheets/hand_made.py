"""A plan written by hand with something of everything, and golden files to compare sheets with."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planner.cautions import CAUTIONS
from planner.model.plan import (
    AlternativeLine,
    BehaviourLine,
    Card,
    CardRow,
    HazardLine,
    Plan,
    PlanStep,
    ProofLine,
    QuestionLine,
    RemarkLine,
)
from planner.sheets.render.layout import lay_out
from planner.sheets.render.terminal import as_text
from planner.sheets.sheet import Sheet

GOLDEN = Path(__file__).parent / "golden"
REFRESH = "LOOMWRIGHT_REFRESH"
SWITCH = "with the pump switch, dash at fast"


def text_of(sheet: Sheet, width: int = 80) -> str:
    """A sheet as it is printed into a pipe."""
    return as_text(lay_out(sheet, width))


def assert_golden(text: str, name: str) -> None:
    """Compare with the golden file, or write it where LOOMWRIGHT_REFRESH=1 asks for it."""
    path = GOLDEN / f"{name}.txt"
    if os.environ.get(REFRESH) == "1":
        GOLDEN.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8"), f"{path.name} differs; {REFRESH}=1 writes it anew"


def step(
    n: int, do: str, text: str, because: Sequence[str] = ("lands-on-same-role",), **more: Any
) -> PlanStep:
    """One step with the fields that a sheet looks at."""
    rest: dict[str, Any] = {
        "fields": {},
        "facts": (),
        "source": "invented",
        "reversible": True,
        "minutes": 1.0,
    }
    return PlanStep(n=n, do=do, text=text, because=tuple(because), **{**rest, **more})


def behaviour(what: str, title: str, outcome: Any, **more: Any) -> BehaviourLine:
    """One outcome with the fields that a sheet looks at."""
    rest: dict[str, Any] = {"at": title.replace(" ", "."), "before": "full", "after": "off", "when": SWITCH}
    return BehaviourLine(what=what, title=title, outcome=outcome, **{**rest, "positions": (), **more})


STEPS = (
    step(1, "remove", "Take out the pump switch, dash: pump switch, one speed", ("swap",), source="the job"),
    step(
        2,
        "fit",
        "Fit the new part at the pump switch, dash: pump switch, two speeds",
        ("swap",),
        minutes=15.0,
    ),
    step(
        3,
        "move",
        "Move the black/red wire (W41) from M on the pump switch, dash to 53",
        facts=("the black/red wire was on M: 53 (feed)", "53 on the pump switch, dash has the same role"),
        source="DIN 72552",
        fields={"wire": "W41", "from": "dash.pump-switch:M", "to": "dash.pump-switch:53", "colour": "BK/RD"},
    ),
    step(
        4,
        "re-end",
        "Re-end the green wire (W42) with a 6.3 mm push-on terminal for 15 on the pump switch, dash",
        ("fitting-does-not-match",),
        reversible=False,
        minutes=3.0,
    ),
    step(
        5,
        "add",
        "Make N1: black/white, 1.5 mm2, 1.4 m, a 6.3 mm push-on terminal and an M6 ring, from 53b on the "
        "pump switch, dash to 53b on the pump, tank",
        ("output-nobody-connects", "new-wire"),
        source="DIN 72552; common practice, no source",
        minutes=71.5,
    ),
    step(
        6,
        "cover",
        "Insulate and tie back the yellow wire (W43) that was on S on the pump switch, dash; tag it",
    ),
)
CARD = Card(
    at="dash.pump-switch",
    title="pump switch, dash",
    old_part="Pump switch, one speed",
    new_part="Pump switch, two speeds",
    mounting="doubtful",
    rows=(
        CardRow("53", "black/red", "W41", "M", "53", True, (3,)),
        CardRow("15", "green", "W42", "15", "15 (stays)", False),
        CardRow("53b", "black/white", "N1", "new wire", "53b", True, (5,)),
        CardRow("(31, nothing stamped)", "", "", "", "earth, through its mounting", False),
        CardRow("-", "yellow", "W43", "S", "tied back, insulated", True, (6,)),
    ),
)
PLAN = Plan(
    job="pump-switch",
    title="Two-speed pump switch on the workshop bench",
    loom="Bench loom, invented",
    is_demonstration=True,
    verdict="unsafe",
    road="no",
    road_why=("stop lamp (left stop lamp): lost", "a question to settle is open"),
    cards=(
        CARD,
        Card("dash.pump-lamp", "pump lamp, dash", "", "Warning lamp, 2 W", "insulated", ()),
        Card("dash.old-relay", "relay, dash", "Relay, early", "", "", ()),
    ),
    steps=STEPS,
    behaviours=(
        behaviour("stop lamp", "left stop lamp", "lost", duty="stop", path=("bat:+", "box:1", "lamp:54")),
        behaviour("stop lamp", "right stop lamp", "lost", duty="stop"),
        behaviour("pump slowly", "pump, tank", "kept", before="", after="", when=""),
        behaviour("pump fast", "pump, tank", "gained", before="off", after="full", in_new_position=True),
        behaviour("pump lamp", "dash", "lost", after="glows", accepted=True),
        behaviour("step", "relay, dash", "changed", before="open", after="shut", is_memory=True),
        behaviour("buzzer", "dash", "unintended", before="off", after="over", when="always"),
    ),
    hazards=(
        HazardLine(
            "live-loose-end",
            "loose",
            "a loose end that is live",
            SWITCH,
            (),
            ("bat:+", "dash.pump-switch:M"),
            False,
        ),
        HazardLine("drain", "", "0.2 A with everything at rest", "always", (), (), True),
    ),
    unsettled=("the white wire (W50) has no terminal to go to",),
    questions=(
        QuestionLine(
            about="is the black/red wire (W41) always live?",
            where="voltmeter from the black/red wire to bare metal of the body",
            how="ignition off, meter on 20 V DC",
            answers=(
                ("about 12 V", "always live: the plan stands"),
                ("nothing", "switched: enter it and plan again"),
            ),
            because="leans-on-assumed-fact",
            source="common practice, no source",
        ),
    ),
    remarks=(
        RemarkLine(
            "the pump has no fuse, as from the factory", "factory-unfused-feed", "common practice, no source"
        ),
        RemarkLine(
            "the pump has no fuse, as from the factory", "factory-unfused-feed", "common practice, no source"
        ),
    ),
    cautions=CAUTIONS,
    not_seen=("what else hangs on fuse 3",),
    alternatives=(
        AlternativeLine(
            title="keep the old switch",
            minutes=5.0,
            steps=("Leave the pump switch, dash as it is",),
            loses=("lost: pump fast (pump, tank)",),
            because="choice",
            facts=("less work, other losses",),
        ),
        AlternativeLine("with a diode", 125.0, (), (), "back-feed", ("with a diode",)),
    ),
    proof=ProofLine(25 * 10**51, 16, 67, 45, 4, 0.005),
    minutes=92.5,
    is_proven_cheapest=False,
    reasoning="invented",
)
