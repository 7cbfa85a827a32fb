"""A loom's wires written as a list read back as the same wires."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.model.catalogue import Catalogue
from planner.model.loom import End, Feed, Known, Loom, Wire
from planner.model.wording import COLOUR_WORDS
from planner.pipeline import open_catalogue
from planner.reading.catalogue import read_loom
from planner.reading.loom_file import open_wire_list
from planner.sheets.build.wire_list import wire_list
from planner.sheets.render.spreadsheet import write_table

CATALOGUE = open_catalogue()
BASES = sorted(set(COLOUR_WORDS) - {"GNYE"})
COLOUR = st.one_of(
    st.sampled_from([*BASES, "GNYE"]),
    st.tuples(st.sampled_from(BASES), st.sampled_from(BASES)).map("/".join),
)
KNOWN = st.sampled_from(["measured", "seen", "drawing", "assumed"])
LOOM = Loom.model_validate(
    {
        "loom": "small",
        "supply": {"volts": 12, "earthed": "negative"},
        "conditions": {"ignition": ("off", "on", "start"), "lights": ("off", "on")},
        "zones": {"bay": {"title": "engine bay"}, "Dash.left": {}},
        "feeds": {
            "feed:battery": {"role": "30"},
            "feed:lights": {"role": "58", "when": {"lights": ("on",)}, "fuse_amps": 8, "known": "seen"},
            "feed:odd": {"role": "58L", "when": {"lights": ("on",)}, "ohms": 0.1},
        },
        "places": {
            "dash.wiper-switch": {"part": "wiper-switch-two-speed", "zone": "bay", "title": "wiper switch"},
            "earth.strap": {"part": "turn-lamp", "zone": "bay", "title": "lamp (left)"},
            "live": {"part": "turn-lamp", "zone": "bay"},
        },
    }
)
ADDRESSES = [
    *("unknown", "loose", "earth", "earth:bay", "earth:Dash.left", "joint:J.1", "joint:dash.wiper-switch.53"),
    *LOOM.feeds,
    *(
        f"{name}:{mark}"
        for name, place in LOOM.places.items()
        for mark in CATALOGUE.parts[place.part].terminals
    ),
]
FITTING = st.none() | st.sampled_from(["blade-6.3", "blade-4.8", "bullet", "ring-8", "bare", "contact"])
NOTE = st.none() | st.text("abc, ;\n'\"=-+@ü", min_size=1, max_size=12).filter(lambda t: t == t.strip())
END = st.builds(
    End,
    at=st.sampled_from(ADDRESSES),
    fitting=FITTING,
    known=st.none() | KNOWN,
    spare_metres=st.sampled_from([0.05, 0.0, 0.2]) | st.floats(0.0001, 10),
    covered=st.booleans(),
)


@st.composite
def wires(draw: st.DrawFn) -> tuple[Wire, ...]:
    """Wires of two to five ends, whose legs may differ."""
    found = []
    for number in range(draw(st.integers(1, 4))):
        ends = draw(st.lists(END, min_size=2, max_size=5))
        legs = st.sampled_from([1, len(ends) - 1])

        def values(one: st.SearchStrategy, legs: st.SearchStrategy = legs) -> tuple:
            return tuple(draw(one) for _ in range(draw(legs)))

        found.append(
            Wire(
                wire=f"W{number}",
                colour=values(COLOUR),
                mm2=values(st.sampled_from([0.5, 1.5, 2.5]) | st.floats(1e-6, 120)),
                metres=values(st.sampled_from([0.3, 1.0, 12.0]) | st.floats(1e-6, 60)),
                ends=tuple(ends),
                bundle=draw(st.none() | st.sampled_from(["left sill", "'dash"])),
                insulation=draw(st.none() | st.sampled_from(["rubber", "pvc"])),
                known=draw(KNOWN),
                note=draw(NOTE),
            )
        )
    return tuple(found)


def read_back(path: Path, loom: Loom, catalogue: Catalogue = CATALOGUE) -> tuple[Wire, ...]:
    found = open_wire_list(path, loom, catalogue)
    assert found.problems == ()
    return tuple(Wire.model_validate(row.data) for row in found.rows)


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
@settings(max_examples=40)
@given(wires())
def test_written_wires_read_back_the_same(
    tmp_path_factory: pytest.TempPathFactory, ending: str, wires: tuple[Wire, ...]
) -> None:
    path = tmp_path_factory.mktemp("list") / f"wires{ending}"
    write_table(path, *wire_list(LOOM.model_copy(update={"wires": wires}), CATALOGUE.parts))
    assert read_back(path, LOOM) == wires


@pytest.mark.parametrize("name", sorted(CATALOGUE.loom_files))
def test_the_wires_of_every_loom_of_the_catalogue_read_back_the_same(tmp_path: Path, name: str) -> None:
    loom = read_loom(name, CATALOGUE)
    write_table(tmp_path / "wires.csv", *wire_list(loom, CATALOGUE.parts))
    assert read_back(tmp_path / "wires.csv", loom.model_copy(update={"wires": ()})) == loom.wires


def test_a_feed_that_only_the_list_has_is_written_with_its_line(tmp_path: Path) -> None:
    wire = Wire(wire="W1", colour=("RD",), mm2=(1,), metres=(1,), ends=(End(at="feed:own"), End(at="loose")))
    feed = Feed(role="live-fused", fuse_amps=8)
    loom = LOOM.model_copy(update={"wires": (wire,), "feeds": {"feed:own": feed}})
    write_table(tmp_path / "wires.csv", *wire_list(loom, CATALOGUE.parts))
    found = open_wire_list(tmp_path / "wires.csv", LOOM, CATALOGUE)
    assert [Feed.model_validate(said) for said in found.feeds.values()] == [feed]


def test_columns_that_no_wire_needs_are_left_out() -> None:
    known: Known = "seen"
    wire = Wire(
        wire="W1", colour=("RD",), mm2=(1,), metres=(1,), ends=(End(at="earth"), End(at="loose")), known=known
    )
    headings, rows = wire_list(LOOM.model_copy(update={"wires": (wire,)}), CATALOGUE.parts)
    assert headings == ("wire", "colour", "mm2", "metres", "from", "to", "known")
    assert rows == (("W1", "RD", 1.0, 1.0, "earth", "loose", "seen"),)
