"""The page of a sheet: everything is shown as text, and the page needs and asks for nothing else."""

import base64
import hashlib
import json
import re
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.messages import spoken
from planner.model.page_states import LiveControl, LiveDetent, LiveRow, Look, PageStates
from planner.model.picture import Picture
from planner.sheets.render.page.page import as_page
from planner.sheets.render.shown import shown
from planner.sheets.sheet import Cell, Drawing, Figure, Item, Listing, Section, Sheet, Table, say

OWN_TAGS = {
    *("html", "head", "meta", "title", "style", "body", "header", "main", "section", "nav", "h1", "h2", "p"),
    *("a", "b", "bdi", "ul", "li", "label", "input", "button", "textarea", "span", "div", "details"),
    *("summary", "table", "thead", "tbody", "tr", "th", "td", "pre", "figure", "figcaption", "script"),
    *("svg", "text", "g", "select"),
}
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" onload="x()"><script>x()</script><style>a</style>'
    '<g data-wire="W1" data-leg="0"><text>W1</text></g></svg>'
)


class _Seen(HTMLParser):
    """What a browser would see of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def _seen(page: str) -> _Seen:
    seen = _Seen()
    seen.feed(page)
    return seen


def _everywhere(text: str) -> Sheet:
    """A sheet with a text in every place that can hold one."""
    cell = Cell(text)
    picture = Picture("p", "place", text, "before", text, text, SVG, 1, 1)
    blocks = (
        say(text),
        Table((text, "b"), ((cell, cell),)),
        Listing((Item(Cell(text), cell, (cell,)), Item(Cell("1."), cell, tick=text, write_in=text))),
        Drawing((text,)),
        Figure(picture),
    )
    return Sheet(text, (Section(text, blocks),))


def _states(text: str) -> PageStates:
    control = LiveControl(text, text, 0, 0, (LiveDetent(text, 0, 0), LiveDetent("on", 1, 1)))
    row = LiveRow(text, text, Look(0), Look(-1))
    words = ("off", "full")
    return PageStates(words, ((0, -1, -2),), ("v",), (), (), (control,), (row,), (), (), (), (), (text,))


ATTACKS = (
    "<script>alert(1)</script>",
    "</script></style><img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "{{ 7 * 7 }}{% raw %}",
    '=HYPERLINK("http://x")',
    "\u202eevil\u202c\x00\x07\x1b[31m",
    "<!-- ]]> --!>",
    "&lt;b&gt; &amp;",
    "a" * 10_000,
)


@pytest.mark.parametrize("attack", ATTACKS)
def test_whatever_a_file_holds_is_shown_as_text(attack: str) -> None:
    seen = _seen(as_page(_everywhere(attack), "job", _states(attack)))
    assert set(seen.tags) <= OWN_TAGS and seen.tags.count("script") == 3
    assert not [name for name, _ in seen.attributes if name.startswith("on")]
    assert "".join(seen.texts).count(shown(attack)) >= 12


@settings(max_examples=60)
@given(st.text(st.characters(), min_size=1, max_size=60))
def test_no_text_makes_markup_or_is_lost(text: str) -> None:
    seen = _seen(as_page(_everywhere(f"|{text}|"), "job", _states(text)))
    assert set(seen.tags) <= OWN_TAGS and seen.tags.count("script") == 3
    assert "".join(seen.texts).count(shown(f"|{text}|")) >= 12


def test_the_policy_lets_nothing_run_or_load_but_the_page_itself() -> None:
    page = as_page(_everywhere("x"), "job", _states("x"))
    policy = next(value for name, value in _seen(page).attributes if value.startswith("default-src"))
    for tag in ("style", "script"):
        (inside,) = re.findall(f"<{tag}>(.*?)</{tag}>", page, re.DOTALL)
        digest = base64.b64encode(hashlib.sha256(inside.encode()).digest()).decode()
        assert f"{tag}-src 'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none'; ") and "unsafe" not in policy
    links = [value for name, value in _seen(page).attributes if name in ("src", "href", "action", "style")]
    assert all(link.startswith("#") for link in links)


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert as_page(_everywhere("x"), "job", _states("x")) == as_page(_everywhere("x"), "job", _states("x"))


def _key(sheet: Sheet) -> str:
    (known,) = re.findall(r'id="page">(.*?)</script>', as_page(sheet, "job"))
    return str(json.loads(known)["key"])


def test_ticks_are_kept_by_the_plan_and_not_by_what_is_ticked() -> None:
    def plan(text: str, *, is_ticked: bool = False) -> Sheet:
        items = (Item(Cell("1."), Cell(text), tick="fit p", is_ticked=is_ticked),)
        return Sheet("t", (Section("s", (Listing(items),)),))

    assert _key(plan("Fit it")) == _key(plan("Fit it", is_ticked=True))
    assert _key(plan("Fit it")) != _key(plan("Fit another"))


def test_a_drawing_keeps_its_marks_and_loses_what_runs() -> None:
    page = as_page(_everywhere("x"), "job")
    assert 'data-wire="W1"' in page and "onload" not in page and "x()" not in page


def test_the_page_speaks_the_language_of_the_sheet() -> None:
    with spoken({"Clear all ticks": "Haken weg", "full": "voll"}):
        page = as_page(_everywhere("x"), "job", _states("x"))
    assert ">Haken weg<" in page and '"full":"voll"' in page and "Clear all ticks" not in page


def test_what_is_not_shown_is_said_and_its_tables_are_left_out() -> None:
    page = as_page(_everywhere("x"), "job", _states("only loads here"))
    assert "only loads here" in page and 'id="loads"' in page and 'id="terminals"' not in page
