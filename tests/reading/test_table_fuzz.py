"""Whatever is thrown at the readers of tables, they read it or say where it cannot be read."""

from io import BytesIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from workbooks import rows, saved, workbook

from planner.model.conductors import Gauge
from planner.model.loom import Loom
from planner.problems import InputError
from planner.reading.colour_words import read_colour
from planner.reading.feed_lines import read_feed_line
from planner.reading.fitting_words import read_fitting, read_kind
from planner.reading.kit_leads import read_ends, read_kit
from planner.reading.lengths import LONGEST_METRES, read_length
from planner.reading.typed_values import NotUnderstood
from planner.reading.wire_list import read_wire_list
from planner.reading.wire_sizes import THICKEST_MM2, read_size

GAUGES = (Gauge("14", 2.0809, "table", "test"),)
HEAD = ("wire", "colour", "mm2", "metres", "from", "to", "known", "fittings")
GOOD = ("W1", "red", "1.5", "0.8", "knob / a", "earth in the bay", "seen", "bullet")
BOOK = workbook(rows(HEAD, GOOD))
LOOM = Loom.model_validate(
    {
        "loom": "small",
        "supply": {"volts": 12, "earthed": "negative"},
        "conditions": {"ignition": ("off", "on")},
        "zones": {"bay": {}},
        "places": {"dash.knob": {"part": "knob", "zone": "bay", "title": "knob"}},
    }
)
# What people type, and what stands in the way of reading it.
WORDS = (
    "mm|m|in|AWG |BK|GR|red| or | and | then |knob|earth|feed:|always live|live with ignition|fuse 8 A"
    "|ring|push-on|two |\u00bd|\u202e|\u00fc|\t|\n| "
)
PIECES = st.sampled_from([*"0123456789", *"/;:,.-()'\"=?#", *WORDS.split("|")])
TYPED = st.lists(PIECES, max_size=8).map("".join) | st.text(max_size=20)


def opened(path: Path) -> None:
    """Read a file as a wire list, with and without its loom, and as a kit."""
    for loom in (LOOM, None):
        try:
            read = read_wire_list(path, loom, {}, lambda: GAUGES)
        except InputError as error:
            assert error.problems
        else:
            assert all(problem.place.file for problem in read.problems)
    try:
        read_kit(path, lambda: GAUGES)
    except InputError as error:
        assert error.problems


@settings(max_examples=80)
@given(st.lists(st.lists(TYPED, min_size=1, max_size=9), max_size=4), st.sampled_from(",;\t"))
def test_any_cells_are_read_or_named(
    tmp_path_factory: pytest.TempPathFactory, lines: list[list[str]], delimiter: str
) -> None:
    text = "\n".join(delimiter.join(line) for line in (HEAD, GOOD, *lines))
    opened(saved(tmp_path_factory.mktemp("fuzz"), text.encode("utf-8", "surrogatepass"), "list.csv"))


@settings(max_examples=60)
@given(
    st.binary(max_size=200) | st.binary(max_size=60).map(lambda more: ",".join(HEAD).encode() + b"\n" + more)
)
def test_any_bytes_are_read_or_named(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    folder = tmp_path_factory.mktemp("fuzz")
    for name in ("list.csv", "list.xlsx"):
        opened(saved(folder, content, name))


@settings(max_examples=80)
@given(st.data())
def test_a_workbook_with_bytes_changed_is_read_or_named(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    """Both the zip file and, packed soundly again, what is in it."""
    packed = BytesIO()
    with ZipFile(BytesIO(BOOK)) as old, ZipFile(packed, "w", ZIP_DEFLATED) as new:
        target = data.draw(st.sampled_from([*old.namelist(), ""]))
        for name in old.namelist():
            content = bytearray(old.read(name))
            if name == target:
                for _ in range(data.draw(st.integers(1, 3))):
                    content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
            new.writestr(name, bytes(content))
    whole = bytearray(BOOK if not target else packed.getvalue())
    if not target:
        whole[data.draw(st.integers(0, len(whole) - 1))] = data.draw(st.integers(0, 255))
    opened(saved(tmp_path_factory.mktemp("fuzz"), bytes(whole)))


@settings(max_examples=300)
@given(TYPED)
def test_any_typed_value_is_read_within_its_bounds_or_asked(text: str) -> None:
    readers = (
        lambda: read_colour(text).code,
        lambda: read_colour(text, "British").code,
        lambda: 0 < read_length(text, "m") <= LONGEST_METRES,
        lambda: 0 < read_size(text, GAUGES, "mm2") <= THICKEST_MM2,
        lambda: 0 < read_size(text, GAUGES, "awg") <= THICKEST_MM2,
        lambda: read_fitting(text),
        lambda: read_kind(text),
        lambda: read_ends(text),
        lambda: read_feed_line(text, {"ignition": ("off", "on")}),
    )
    for read in readers:
        try:
            assert read()
        except NotUnderstood as error:
            assert error.message and error.hint
