"""Laying out: wrapping, sharing out the width of a table, and hanging lists."""

from planner.model.picture import Picture
from planner.sheets.render.layout import lay_out
from planner.sheets.render.terminal import as_text
from planner.sheets.sheet import (
    Block,
    Cell,
    Figure,
    Item,
    Listing,
    Paragraph,
    Section,
    Sheet,
    Table,
    bullets,
    say,
)


def lines_of(*blocks: Block, width: int = 30, heading: str = "") -> list[str]:
    sheet = Sheet("T", (Section(heading, blocks),))
    return as_text(lay_out(sheet, width)).splitlines()[3:]


def cells(*texts: str) -> tuple[Cell, ...]:
    return tuple(Cell(text) for text in texts)


def test_a_title_is_underlined_as_far_as_it_goes_even_when_wrapped() -> None:
    lines = as_text(lay_out(Sheet("one two three four", ()), 10)).splitlines()
    assert lines == ["one two", "three four", "=========="]


def test_what_stands_under_a_heading_is_indented() -> None:
    assert lines_of(say("words"), heading="Head") == ["Head", "----", "  words"]


def test_blocks_are_parted_by_an_empty_line() -> None:
    assert lines_of(say("one"), say("two")) == ["one", "", "two"]


def test_runs_of_a_paragraph_are_wrapped_as_one_text_and_keep_their_meanings() -> None:
    block = Paragraph((Cell("good words", "good"), Cell("and plain ones that go on"), Cell("bad", "bad")))
    lines = lay_out(Sheet("T", (Section("", (block,)),)), 20)[3:]
    assert as_text(lines).splitlines() == ["good words and plain", "ones that go on bad"]
    assert lines[0] == (Cell("good words", "good"), Cell(" "), Cell("and plain"))
    assert lines[1][-1] == Cell("bad", "bad")


def test_a_word_longer_than_the_line_is_broken() -> None:
    assert lines_of(say("x" * 12), width=5) == ["xxxxx", "xxxxx", "xx"]


def test_a_narrow_table_takes_only_the_room_it_needs() -> None:
    table = Table(("Mark", "Wire"), (cells("53", "red"), cells("53b", "")))
    assert lines_of(table) == ["Mark  Wire", "----  ----", "53    red", "53b"]


def test_a_word_in_a_table_is_broken_only_where_there_is_no_room_for_all_words() -> None:
    """A file's name that goes on in the next line cannot be copied."""
    name = "van-place-before.svg"
    table = Table(("File", "What for"), (cells(name, "the place as it was before"),))
    assert lines_of(table)[2:] == [
        f"{name}  the",
        f"{' ' * 22}place as",
        f"{' ' * 22}it was",
        f"{' ' * 22}before",
    ]
    assert name not in "\n".join(lines_of(table, width=16))


def test_a_wide_table_wraps_its_widest_columns_only() -> None:
    table = Table(("A", "B"), (cells("ab", "one two three four five six seven"), cells("", "x")))
    assert lines_of(table, width=20) == [
        "A   B",
        "--  ----------------",
        "ab  one two three",
        "    four five six",
        "    seven",
        "    x",
    ]


def test_all_the_room_is_shared_out_among_wide_columns() -> None:
    table = Table(("A", "B", "C"), (cells("x" * 30, "y" * 30, "z"),))
    assert lines_of(table, width=20)[1] == "--------  -------  -"


def test_a_table_without_rows_shows_its_headings() -> None:
    assert lines_of(Table(("Mark", "Wire"), ())) == ["Mark  Wire", "----  ----"]


def test_an_empty_cell_between_full_ones_keeps_its_room() -> None:
    table = Table(("A", "B", "C"), (cells("a", "", "c"),))
    assert lines_of(table)[2] == "a     c"


def test_signs_of_a_list_stand_in_a_column_of_their_own() -> None:
    items = (
        Item(Cell("1."), Cell("first thing to do"), (Cell("why: because"),)),
        Item(Cell("10."), Cell("tenth"), ()),
    )
    assert lines_of(Listing(items), width=14) == [
        "1.  first",
        "    thing to",
        "    do",
        "    why:",
        "    because",
        "10. tenth",
    ]


def test_a_dash_within_an_item_hangs() -> None:
    item = Item(Cell("A:"), Cell("differs:"), (Cell("- one two three"),))
    assert lines_of(Listing((item,)), width=12) == ["A: differs:", "   - one two", "     three"]


def test_bullets_are_dashes() -> None:
    assert lines_of(bullets(("one", "two"))) == ["- one", "- two"]


def test_a_box_to_tick_stands_before_the_sign_and_what_is_written_in_stands_below() -> None:
    items = (
        Item(Cell("1."), Cell("done"), tick="a", is_ticked=True),
        Item(Cell("2."), Cell("read"), tick="b", write_in="volts"),
    )
    assert lines_of(Listing(items)) == ["[x] 1. done", "[ ] 2. read", "       volts: ________________"]


def test_a_picture_is_told_by_its_title_and_words() -> None:
    picture = Picture("p", "place", "Dash", "both", "dash", "A switch with two wires", "<svg/>", 9, 9)
    assert lines_of(Figure(picture), width=60) == ["Picture: Dash. A switch with two wires"]
