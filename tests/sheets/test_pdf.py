"""The sheet on paper: its words are on numbered pages under their heading, and none of them is markup."""

from functools import cache

import pytest
from pypdfium2 import PdfDocument

from planner.model.bench_sheet import BenchSheet
from planner.model.papers import MILLIMETRES, PAPERS, Paper
from planner.model.picture import Picture, PictureWhen
from planner.pipeline import open_catalogue
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.render.pdf import as_pdf
from planner.sheets.sheet import Block, Cell, Figure, Item, Listing, Section, Sheet, Table, say

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="150mm" height="90mm" viewBox="0 0 150 90">'
    '<text x="3" y="30" font-family="sans-serif" font-size="4">{}</text></svg>'
)
WHENS: tuple[PictureWhen, ...] = ("before", "after")
POINTS_IN_A_MILLIMETRE = 72 / 25.4


@cache
def bench(job: str, *, with_pictures: bool = False) -> BenchSheet:
    return sheet_job(job, open_catalogue(), with_pictures=with_pictures)


def words(text: str) -> str:
    """A text without its blanks and breaks, by which a line of a page and a line of a sheet differ."""
    return "".join(text.replace("\u200b", "").replace("\ufffe", "-").split())


def pages(content: bytes) -> list[str]:
    document = PdfDocument(content)
    return [words(page.get_textpage().get_text_range()) for page in document]


def page_of(*blocks: Block, heading: str = "Head", paper: Paper = "a4") -> list[str]:
    return pages(as_pdf(Sheet("The title", (Section(heading, blocks),)), paper))


@pytest.mark.parametrize("job", ["whole-van", "two-speed-wipers", "car-to-negative-earth"])
def test_every_word_of_the_sheet_is_on_a_page(job: str) -> None:
    sheet = bench_sheet(bench(job))
    printed = "".join(pages(as_pdf(sheet)))
    texts = [sheet.title]
    for section in sheet.sections:
        texts.append(section.heading)
        for block in section.blocks:
            if isinstance(block, Listing):
                texts += [c.text for item in block.items for c in (item.sign, item.body, *item.below)]
            elif isinstance(block, Table):
                texts += () if block.are_strips else block.headings
                texts += [cell.text for row in block.rows for cell in row]
    missing = [text for text in texts if words(text) not in printed]
    # A step may go on over the next page only if it is very long; none of these is.
    assert missing == [] and len(texts) > 100


def test_each_place_starts_a_page_that_names_it_and_is_numbered() -> None:
    sheet = bench_sheet(bench("whole-van"))
    printed = pages(as_pdf(sheet))
    for section in (s for s in sheet.sections if s.begins == "page"):
        # Cut where it is long, it stands at the head of the page, and whole as a heading.
        title, head = (words(text[:32]) for text in (sheet.title, section.heading))
        own = next(page for page in printed if page.startswith(title) and head in page[len(title) : 110])
        assert words(section.heading) in own[len(title) + len(head) :]
    assert [page.endswith(words(f"page {n} of {len(printed)}")) for n, page in enumerate(printed, 1)] == [
        True
    ] * len(printed)


def test_what_is_kept_whole_stands_below_what_is_above_where_it_fits_and_else_on_the_next_page() -> None:
    lines = Listing(tuple(Item(Cell("-"), Cell(f"line {n} of it")) for n in range(18)))
    sheet = Sheet("T", tuple(Section(name, (lines,), "whole") for name in ("First", "Second", "Third")))
    first, second = pages(as_pdf(sheet))
    assert "First" in first and "Second" in first and first.count("line17ofit") == 2
    assert "Third" in second and "line0ofit" in second and "line17ofit" in second
    longer = Listing(lines.items * 4)
    sheet = Sheet("T", (Section("Head", (lines,)), Section("Longer", (longer,), "whole")))
    assert ["Longer" in page for page in pages(as_pdf(sheet))] == [False, True, True]


def test_a_page_of_which_less_than_a_third_is_used_is_gone_on_with_and_a_fuller_one_is_left() -> None:
    def lines(count: int) -> Listing:
        return Listing(tuple(Item(Cell("-"), Cell(f"line {n} of it")) for n in range(count)))

    def first_page(above: int, below: int) -> str:
        sections = (Section("", (lines(above),)), Section("Second", (lines(below),), "whole"))
        return pages(as_pdf(Sheet("T", sections)))[0]

    assert "Second" in first_page(8, 40) and "line39ofit" not in first_page(8, 40)
    assert "Second" not in first_page(22, 40) and "Second" in first_page(22, 8)


def test_sections_that_belong_together_are_on_one_page_if_one_takes_them() -> None:
    def on_first(above: int, count: int) -> list[bool]:
        lines = [Listing(tuple(Item(Cell("-"), Cell("x")) for _ in range(n))) for n in (above, count, count)]
        sections = (
            Section("Above", (say("words"), lines[0])),
            Section("Stock", (say("words"), lines[1])),
            Section("Strips", (say("words"), lines[2]), "together"),
        )
        return [name in pages(as_pdf(Sheet("T", sections)))[0] for name in ("Stock", "Strips")]

    assert on_first(4, 8) == [True, True]
    assert on_first(24, 10) == [False, False]
    assert on_first(24, 30) == [True, False]  # no page takes both


def test_what_is_done_before_the_work_and_a_place_that_is_nowhere_do_not_stand_alone() -> None:
    printed = pages(as_pdf(bench_sheet(bench("whole-van", with_pictures=True))))
    before = next(page for page in printed if words("all switches off; the minus post") in page)
    assert words("Bear in mind") in before or words("Place 1:") in before
    printed = pages(as_pdf(bench_sheet(bench("car-to-negative-earth", with_pictures=True))))
    assert words("Place 2:") in next(page for page in printed if words("Place 1: the whole vehicle") in page)


def test_a_place_without_pictures_stands_below_the_place_before() -> None:
    printed = pages(as_pdf(bench_sheet(bench("dip-relay-four-to-five"))))
    places = [
        next(n for n, page in enumerate(printed) if words(f"Place {place}:") in page) for place in (1, 2)
    ]
    assert places == [1, 1]


def test_places_in_one_part_of_the_vehicle_share_a_page_that_takes_both_with_their_pictures() -> None:
    printed = pages(as_pdf(bench_sheet(bench("led-rear-lamps-and-flasher", with_pictures=True))))
    shared = [page for page in printed if words("Place 1:") in page]
    assert len(shared) == 1 and words("Place 2:") in shared[0] and words("Place 3:") not in shared[0]
    assert shared[0].count(words("Wires alike before and after:")) == 2


def test_pictures_that_need_a_page_on_its_side_get_it_also_in_a_part_that_is_kept_whole() -> None:
    svg = SVG.format("wide").replace(
        'width="150mm" height="90mm" viewBox="0 0 150 90"', 'width="300mm" height="90mm" viewBox="0 0 300 90"'
    )
    picture = Picture("p", "place", "Dash", "both", "dash", "A switch", svg, 300, 90)
    above = Listing(tuple(Item(Cell("-"), Cell(f"line {n}")) for n in range(20)))
    sheet = Sheet(
        "T", (Section("Above", (above,)), Section("Place", (say("steps"), Figure(picture)), "whole"))
    )
    sides = [page.get_width() > page.get_height() for page in PdfDocument(as_pdf(sheet))]
    assert sides == [False, False, True]


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_are_as_large_as_the_paper(paper: Paper) -> None:
    page = PdfDocument(as_pdf(Sheet("T", (Section("", (say("words"),)),)), paper))[0]
    wanted = [mm * POINTS_IN_A_MILLIMETRE for mm in MILLIMETRES[paper]]
    assert [page.get_width(), page.get_height()] == pytest.approx(wanted, abs=0.1)


def test_the_same_sheet_is_the_same_bytes() -> None:
    sheet = bench_sheet(bench("two-speed-wipers"))
    assert as_pdf(sheet) == as_pdf(sheet)


def test_no_text_is_markup() -> None:
    text = '#panic("x") *bold* $x^2$ <label> @ref [a](b) \\ {{x}} = heading // comment `raw`'
    assert words(text) in page_of(say(text))[0]


def test_what_nobody_sees_or_what_turns_other_text_is_a_blank() -> None:
    assert "abcd" in page_of(say("a\x00b\u202ec\x1b[31md"))[0].replace("[31m", "")


def test_a_very_long_name_is_cut_and_nothing_stands_outside_the_page() -> None:
    for name in ("W" * 10_000, "many words " * 1000):
        row = (Cell(name), Cell("short"))
        blocks = (
            say(name),
            Listing((Item(Cell("1."), Cell(name), (Cell(name),), tick="a", write_in=name),)),
            Table((name, "b"), (row,)),
            Table(("a", "b"), (row, (Cell(name), Cell(name))), are_strips=True),
        )
        document = PdfDocument(as_pdf(Sheet(name, (Section(name, blocks),))))
        assert len(document) < 12
        for page in document:
            text = page.get_textpage()
            for n in range(text.count_chars()):
                left, bottom, right, top = text.get_charbox(n)
                assert left >= 0 and right <= page.get_width()
                assert bottom >= 0 and top <= page.get_height()
        assert "\N{HORIZONTAL ELLIPSIS}" in document[0].get_textpage().get_text_range()


def test_a_picture_keeps_its_words_and_a_wide_one_is_on_a_page_on_its_side() -> None:
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="{0}mm" height="60mm" viewBox="0 0 {0} 60">'
        '<text x="3" y="30" font-family="sans-serif" font-size="4">yellow W36</text></svg>'
    )
    for width, is_on_its_side in ((100, False), (250, True)):
        picture = Picture("p", "place", "Dash", "both", "dash", "A switch", svg.format(width), width, 60)
        sheet = Sheet("T", (Section("Pictures", (Figure(picture),)),))
        sides = [page.get_width() > page.get_height() for page in PdfDocument(as_pdf(sheet))]
        assert any(sides) == is_on_its_side
        own = [text for text in pages(as_pdf(sheet)) if words("yellow W36") in text]
        assert len(own) == 1 and words("Pictures") in own[0], "the heading goes with the picture"


@pytest.mark.parametrize(("job", "is_warned"), [("car-to-negative-earth", True), ("two-speed-wipers", False)])
def test_a_warning_stands_on_every_page_of_a_plan_that_must_not_be_done(job: str, is_warned: bool) -> None:
    sheet = bench_sheet(bench(job))
    assert sheet.warning.startswith("UNSAFE") == is_warned
    assert {words("UNSAFE: these steps must not be done") in page for page in pages(as_pdf(sheet))} == {
        is_warned
    }


def test_pictures_before_and_after_stand_on_one_page() -> None:
    figures = tuple(
        Figure(Picture(f"{n}-{when}", "circuit", "C", when, "", "w", SVG.format(f"{n} {when}"), 150, 90))
        for n in (1, 2)
        for when in WHENS
    )
    for page in page_of(*figures):
        assert (words("1 before") in page) == (words("1 after") in page)
        assert (words("2 before") in page) == (words("2 after") in page)
