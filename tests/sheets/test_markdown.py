"""Markdown: every block, tick boxes that stay tick boxes, and nothing of a text taken for markup."""

from planner.model.picture import Picture
from planner.sheets.render.markdown import as_markdown
from planner.sheets.sheet import Cell, Figure, Item, Listing, Section, Sheet, Table, say

PICTURE = Picture("p", "place", "Dash", "both", "dash", "A switch with two wires", "<svg/>", 9, 9)


def written(text: str) -> str:
    """A text alone in a paragraph, as it is written."""
    return as_markdown(Sheet("T", (Section("", (say(text),)),))).splitlines()[2]


def test_headings_lists_and_tables() -> None:
    blocks = (
        Listing(
            (
                Item(Cell("3."), Cell("Move it"), (Cell("mind it", "warn"),), tick="move W1"),
                Item(Cell("-"), Cell("so")),
            )
        ),
        Table(("Mark", "Wire"), ((Cell("53"), Cell("yellow")),)),
    )
    assert as_markdown(Sheet("Title", (Section("Place 1", blocks),))) == (
        "# Title\n\n## Place 1\n\n- [ ] **3\\.** Move it\n  - **mind it**\n- so\n\n"
        "| Mark | Wire |\n| --- | --- |\n| 53 | yellow |\n"
    )


def test_nothing_in_a_text_is_markup() -> None:
    assert written("<script>a|b*c_d`[x](y)") == r"\<script\>a\|b\*c\_d\`\[x\](y)"
    assert written("# no heading") == r"\# no heading" and written("- no list") == r"\- no list"
    assert written("12. no number") == r"12\. no number"


def test_lines_control_characters_and_marks_of_direction_become_spaces() -> None:
    assert written("a\n# b\x00c\u202ed") == r"a \# b c d"


def test_a_done_step_has_its_box_ticked() -> None:
    item = Item(Cell("1."), Cell("Fit it"), tick="fit dash.switch", is_ticked=True)
    assert r"- [x] **1\.** Fit it" in as_markdown(Sheet("T", (Section("", (Listing((item,)),)),)))


def test_what_is_written_in_and_a_picture_have_their_words() -> None:
    asked = Listing((Item(Cell("1."), Cell("Measure it"), write_in="volts"),))
    assert as_markdown(Sheet("T", (Section("", (asked, Figure(PICTURE))),))).endswith(
        "- **1\\.** Measure it\n  - volts: " + r"\_" * 16 + "\n\nPicture: Dash. A switch with two wires\n"
    )
