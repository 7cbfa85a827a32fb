"""The page of a sheet: everything is shown as text, and the page needs and asks for nothing else."""

import base64
import hashlib
import re
from html.parser import HTMLParser

from hypothesis import given
from hypothesis import strategies as st

from planner.sheets.render.page.page import as_page
from planner.sheets.render.page.shown_text import shown_text
from planner.sheets.sheet import Cell, Drawing, Item, Listing, Section, Sheet, Table, say

OWN_TAGS = {
    *("html", "head", "meta", "title", "style", "body", "header", "main", "section", "h1", "h2", "p", "bdi"),
    *("b", "ul", "li", "label", "input", "span", "div", "table", "thead", "tbody", "tr", "th", "td", "pre"),
    "script",
}


class _Seen(HTMLParser):
    """What a browser would see of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[tuple[str, str]] = set()
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {(name, value or "") for name, value in attrs}

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def _seen(page: str) -> _Seen:
    seen = _Seen()
    seen.feed(page)
    return seen


def _everywhere(text: str) -> Sheet:
    """A sheet with a text in every place that can hold one."""
    cell = Cell(text)
    blocks = (
        say(text),
        Table((text, "b"), ((cell, cell),)),
        Listing((Item(Cell(text), cell, (cell,)), Item(Cell(f"[ ] {text}"), cell))),
        Drawing((text,)),
    )
    return Sheet(text, (Section(text, blocks),))


ATTACKS = (
    "<script>alert(1)</script>",
    "</style><img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "{{ 7 * 7 }}{% raw %}",
    '=HYPERLINK("http://x")',
    "\u202eevil\u202c\x00\x07\x1b[31m",
    "<!-- ]]> --!>",
    "&lt;b&gt; &amp;",
    "a" * 10_000,
)


def test_whatever_a_file_holds_is_shown_as_text() -> None:
    for attack in ATTACKS:
        seen = _seen(as_page(_everywhere(attack)))
        assert seen.tags <= OWN_TAGS, attack
        assert not [name for name, _ in seen.attributes if name.startswith("on")], attack
        assert "".join(seen.texts).count(shown_text(attack)) >= 8, attack


@given(st.text(st.characters(), min_size=1, max_size=60))
def test_no_text_makes_markup_or_is_lost(text: str) -> None:
    seen = _seen(as_page(_everywhere(f"|{text}|")))
    assert seen.tags <= OWN_TAGS
    as_parsed = shown_text(f"|{text}|").replace("\r\n", "\n").replace("\r", "\n")
    assert "".join(seen.texts).count(as_parsed) >= 8


def test_the_policy_lets_nothing_run_or_load_but_the_page_itself() -> None:
    page = as_page(_everywhere("x"))
    policy = next(value for name, value in _seen(page).attributes if value.startswith("default-src"))
    for tag in ("style", "script"):
        (inside,) = re.findall(f"<{tag}>(.*?)</{tag}>", page, re.DOTALL)
        digest = base64.b64encode(hashlib.sha256(inside.encode()).digest()).decode()
        assert f"{tag}-src 'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none'; ") and "unsafe" not in policy
    assert not [(n, v) for n, v in _seen(page).attributes if n in ("src", "href", "action", "style")]


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert as_page(_everywhere("x")) == as_page(_everywhere("x"))
