"""Pictures of looms whose names hold anything: shown as text, never breaking out, in the page."""

from itertools import combinations
from xml.etree import ElementTree

from hypothesis import given, settings
from hypothesis import strategies as st
from seen import seen
from small_looms import make_part

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.pictures.pictures import draw_pictures

TAGS = {"svg", "title", "desc", "g", "rect", "circle", "path", "text"}
NASTY = st.sampled_from(
    [
        '"><script>alert(1)</script><svg onload="x',
        "]]>&<!--",
        "\u202egnorw \u2066that way\u2069",
        "a\x00b\x1bc\ufffe",
        "x" * 10_000,
        "wide 漢字 words " * 40,
        " ",
    ]
)
TITLES = NASTY | st.text(st.characters(exclude_categories=("Cs",)), max_size=30)
MARKS = st.text(st.characters(exclude_characters=":", exclude_categories=("Z", "C")), min_size=1, max_size=40)


def loom(title: str, zone: str, mark: str, part: str) -> Loom:
    """A switch, a lamp and a feed, with these names."""
    return Loom.model_validate(
        {
            "loom": "nasty",
            "title": title,
            "supply": {"volts": 12, "earthed": "negative"},
            "zones": {zone: {"title": title}},
            "feeds": {"feed:<b>": {"role": "30"}},
            "places": {
                "a": {"part": part, "zone": zone, "title": title},
                "b": {"part": "lamp", "zone": zone, "title": title},
            },
            "wires": [
                {"wire": "W1", "colour": "WH", "mm2": 1, "metres": 1, "ends": ["feed:<b>", f"a:{mark}"]},
                {"wire": "W2", "colour": "GNYE", "mm2": 1, "metres": 1, "ends": ["a:out", "joint:<i>&"]},
                {"wire": "W3", "colour": "YE/RD", "mm2": 1, "metres": 1, "ends": ["joint:<i>&", "b:in"]},
                {
                    "wire": "W4",
                    "colour": "BK",
                    "mm2": 1,
                    "metres": 1,
                    "ends": ["b:out", f"earth:{zone or 'z'}"],
                },
            ],
        }
    )


@settings(max_examples=15)
@given(TITLES, st.sampled_from(["z", "<zone>&\"'"]), MARKS, NASTY)
def test_names_of_any_kind_are_words_in_the_picture_and_nothing_else(
    title: str, zone: str, mark: str, does: str
) -> None:
    mark = mark if mark not in ("out", "in") else "m"
    lamp = {"between": ["in", "out"], "watts": 5, "does": does[:60].strip() or "-"}
    inside = [{"contact": {"join": [mark, "out"]}}]
    parts = [
        make_part("old", {"terminals": {mark: "", "out": ""}, "inside": inside}),
        make_part("new", {"terminals": {mark: "", "out": "", "third": ""}, "inside": inside}),
        make_part("lamp", {"terminals": {"in": "", "out": ""}, "inside": [{"lamp": lamp}]}),
    ]
    catalogue = Catalogue({}, {}, {part.part: part for part in parts}, {}, {}, {})
    pictures = draw_pictures(
        loom(title, zone, mark, "old"), loom(title, zone, mark, "new"), catalogue, ("a",)
    )
    assert {picture.kind for picture in pictures} == {"circuit", "place", "loom"}
    for picture in pictures:
        root = ElementTree.fromstring(picture.svg)
        assert {each.tag.rpartition("}")[2] for each in root.iter()} <= TAGS
        names = {name for each in root.iter() for name in each.attrib}
        assert not any(name.startswith("on") or name in ("style", "class", "href") for name in names)
        assert len(picture.svg) < 60_000 and len(picture.words) <= 4000
        found = seen(picture.svg)
        assert all(area.within(found.page) for _, area, _ in found.words)
        assert not any(a.meets(b) for (_, a), (_, b) in combinations(found.outlines, 2))
