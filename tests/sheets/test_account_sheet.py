"""A loom explained is laid out by circuits, with what is odd after them and what is assumed last."""

from hand_made import assert_golden, text_of

from planner.inquiry.loom.account import FindingLine, LoadLine, LoomAccount, SwapLine, Way
from planner.sheets.build.account import FINDINGS, account_sheet

FUSE, OTHER = "the fuse at 1 on the fuse box (8 A)", "the fuse at 2 on the fuse box (15 A)"
ALWAYS = Way("the battery", (FUSE,), (), ("red (W1)",), "by its own mounting")
SWITCHED = Way(
    "the battery", (OTHER,), ("the key switch (30 to 15)",), ("red (W1)", "white (W2, W3)"), "by black (W4)"
)
HELD = Way("the battery", (), ("the relay (30 to 87)",), (), "by black (W4)", "with the push pressed")
FOUND = LoomAccount(
    "small",
    "A small loom",
    "12 V, negative earth",
    (
        LoadLine("tell time", "clock", "clock", (("full", "always"),), (ALWAYS,)),
        LoadLine("sound the horn", "horn", "horn", (("full", "with the push pressed"),), (ALWAYS,)),
        LoadLine("side lamp", "left", "left side lamp", (("dim", "with the key switch on"),), (SWITCHED,)),
        LoadLine("wipe", "wiper", "wiper motor", (("full", "always"),), (SWITCHED, HELD)),
        LoadLine("fuel gauge", "gauge", "cluster", (("reads 10 %", "with fuel at empty"),), (SWITCHED,)),
        LoadLine("park the blades", "wiper", "wiper motor", (("parks", "with the wiper switch off"),), ()),
        LoadLine("glow", "plug", "glow plug", (), ()),
    ),
    tuple(
        FindingLine(kind, "x", f"something that is {kind}", when)
        for kind, when in zip(FINDINGS, ("", "with the key on", "always", *[""] * 8), strict=True)
    ),
    ("the starter",),
)


def test_the_sheet_of_a_loom_is_as_the_golden_one() -> None:
    swaps = [
        SwapLine("wiper", "wiper motor", "One speed", "Two speeds"),
        SwapLine("new", "new lamp", "", "A lamp"),
    ]
    assert_golden(text_of(account_sheet(FOUND, swaps)), "account")


def test_what_is_dangerous_stands_before_the_circuits() -> None:
    text = text_of(account_sheet(FOUND))
    assert text.index("Short circuits") < text.index("Fed from") < text.index("Wires that end nowhere")


def test_a_loom_with_nothing_odd_says_so() -> None:
    sound = LoomAccount("s", "S", "12 V, negative earth", FOUND.loads[:1], (), ())
    text = text_of(account_sheet(sound))
    assert "Nothing odd" in text and "assumed" not in text and "What the job swaps" not in text


def test_every_kind_of_finding_has_its_heading_and_its_text_in_the_sheet() -> None:
    text = text_of(account_sheet(FOUND))
    assert [kind for kind, (heading, _) in FINDINGS.items() if heading not in text] == []
    assert [line.text for line in FOUND.findings if line.text not in text] == []
