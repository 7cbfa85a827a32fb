"""Words for a picture, whatever they hold: one line, nothing that XML forbids, no wider than their room."""

from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from planner.pictures.svg import Drawing
from planner.pictures.text import ELLIPSIS, clean, fit, width_of, wrap

ANYTHING = st.text(st.characters(), max_size=60) | st.sampled_from(
    [
        "</text><script>alert(1)</script>",
        "\u202egninnur\x00\x07\ud800",
        "x" * 10_000,
        "&lt;&amp;]]>",
        "\u2028\u0085a\tb",
    ]
)


@given(ANYTHING)
def test_clean_words_are_one_line_without_controls_or_marks_of_direction(text: str) -> None:
    shown = clean(text)
    assert all(sign == " " or sign.isprintable() for sign in shown)
    assert not set(shown) & set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f")
    assert len(shown) <= 400


@given(ANYTHING, st.floats(5, 80))
def test_words_that_fit_are_no_wider_than_the_room(text: str, room: float) -> None:
    assert width_of(fit(text, 2.6, room), 2.6) <= room
    lines = wrap(text, 2.6, room, 3)
    assert len(lines) <= 3
    assert all(width_of(line, 2.6) <= room for line in lines)


def test_what_is_cut_says_so() -> None:
    assert fit("a wiper switch on the dash", 2.6, 15.0).endswith(ELLIPSIS)
    assert wrap("one two three four five six seven eight nine", 2.6, 12.0, 2)[-1].endswith(ELLIPSIS)
    assert fit("short", 2.6, 40.0) == "short"


@given(ANYTHING, ANYTHING)
def test_words_never_break_out_of_the_drawing(text: str, address: str) -> None:
    drawing = Drawing(50, 20, text, text)
    drawing.open(place=address)
    drawing.text((1, 5), text, 2.6)
    drawing.close()
    root = ElementTree.fromstring(drawing.document())
    assert [child.tag.rpartition("}")[2] for child in root] == ["title", "desc", "rect", "g"]
    (group,) = (child for child in root if child.tag.endswith("}g"))
    assert set(group.attrib) <= {"data-place"}
    assert [child.tag.rpartition("}")[2] for child in group] == ["text"]
    assert (group[0].text or "") == clean(text)


def test_a_word_that_is_too_long_goes_on_behind_a_hyphen() -> None:
    assert wrap("joiner bulkhead-reversing-feed", 2.6, 22.0, 4) == ("joiner", "bulkhead-", "reversing-feed")
    assert wrap("a-b c", 2.6, 40.0, 2) == ("a-b c",)
