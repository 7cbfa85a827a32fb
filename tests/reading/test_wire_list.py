"""Wire lists: what rows are read as, how ends are found, and which rows are asked about."""

from pathlib import Path

import pytest
from workbooks import rows, saved, workbook

from planner.model.catalogue import Catalogue
from planner.model.conductors import Gauge
from planner.model.loom import Loom
from planner.problems import FilePlace, InputError
from planner.reading.catalogue import read_catalogue, read_loom
from planner.reading.end_words import EndReader
from planner.reading.wire_list import WireList, read_wire_list

HEAD = "wire,colour,mm2,metres,from,to"
LOOM = """\
loom: small
supply: {volts: 12, earthed: negative}
conditions: {door: [shut, open], level: [empty, full], ignition: ["off", "on"]}
zones: {bay: {title: engine bay}, dash: {}}
feeds: {"feed:x": {role: "30"}, "feed:lamps": "always live, fuse 5 A"}
places:
  dash.switch: {part: switch, zone: dash, title: "knob, dash"}
  dash.other: {part: switch, zone: dash, title: "other knob, dash"}
  bay.lamp: {part: lamp, zone: bay, title: left headlamp}
  bay.second: {part: lamp, zone: bay, title: right headlamp}
"""


@pytest.fixture
def catalogue(catalogue_at) -> Catalogue:
    roles = '"live-fused": {rank: 3, meaning: fused, source: ours, basis: invented}\n"30": {rank: 2'
    return read_catalogue([catalogue_at("roles.yaml", ('"30": {rank: 2', roles))[0]])


def loom_with(folder: Path, text: str, extra: str = "", name: str = "wires.csv") -> Path:
    saved(folder, text, name)
    return saved(folder, f"{LOOM}{extra}wire_list: {name}\n", "loom.yaml")


def read(folder: Path, catalogue: Catalogue, *lines: str, head: str = HEAD) -> Loom:
    return read_loom(loom_with(folder, "\n".join((head, *lines))), catalogue)


def faults(folder: Path, catalogue: Catalogue, *lines: str, head: str = HEAD) -> list[str]:
    with pytest.raises(InputError) as caught:
        read(folder, catalogue, *lines, head=head)
    found = caught.value.problems
    return [f"{Path(p.place.file).name}:{p.place.line}:{p.place.column} {p.message}" for p in found]


def alone(path: Path) -> WireList:
    return read_wire_list(path, None, {}, lambda: (Gauge("14", 2.0809, "table", "test"),))


def test_the_wires_of_a_list_are_added_to_the_looms_own(tmp_path: Path, catalogue: Catalogue) -> None:
    own = 'wires: [{wire: W1, colour: RD, mm2: 1, metres: 1, ends: ["feed:x", "dash.switch:a"]}]\n'
    path = loom_with(tmp_path, f"{HEAD}\nW2,black/red,1.5,0.8 m,dash.switch:b,bay.lamp:30\n", own)
    loom = read_loom(path, catalogue)
    assert [wire.wire for wire in loom.wires] == ["W1", "W2"]
    wire = loom.find("W2")
    assert (wire.colour, wire.mm2, wire.metres, wire.known) == (("BK/RD",), (1.5,), (0.8,), "drawing")
    assert [end.at for end in wire.ends] == ["dash.switch:b", "bay.lamp:30"]


def test_a_workbook_gives_the_same_loom_as_a_text(tmp_path: Path, catalogue: Catalogue) -> None:
    line = ("W2", "black/red", 1.5, 0.8, "dash.switch:b", "left headlamp / 30")
    by_text = read(tmp_path, catalogue, ",".join(map(str, line)))
    saved(tmp_path, workbook(rows(tuple(HEAD.split(",")), line)), "wires.xlsx")
    by_book = read_loom(saved(tmp_path, f"{LOOM}wire_list: wires.xlsx\n", "loom.yaml"), catalogue)
    assert by_book.wires == by_text.wires


@pytest.mark.parametrize(
    ("typed", "address"),
    [
        ("dash.switch:a", "dash.switch:a"),
        ("Dash.Switch: A", "dash.switch:a"),
        ('"knob, dash / a"', "dash.switch:a"),
        ("knob / A", "dash.switch:a"),
        ('"Knob (dash): a"', "dash.switch:a"),
        ("knob terminal a", "dash.switch:a"),
        ('"a on the knob, dash"', "dash.switch:a"),
        ("other knob supply", "dash.other:supply"),
        ("left headlight / 30", "bay.lamp:30"),
        ("bay second 30", "bay.second:30"),
        ("headlamp left / 30", "bay.lamp:30"),
        ("earth", "earth"),
        ("Ground", "earth"),
        ("earth in the bay", "earth:bay"),
        ('"body, engine bay"', "earth:bay"),
        ("earth:dash", "earth:dash"),
        ("feed:x", "feed:x"),
        ("feed:lamps", "feed:lamps"),
        ("joiner J1", "joint:J1"),
        ("joiner column horn", "joint:column-horn"),
        ("joint:dash.switch.a", "joint:dash.switch.a"),
        ("?", "unknown"),
        ("not connected", "loose"),
    ],
)
def test_an_end_is_found_by_name_or_by_title(
    tmp_path: Path, catalogue: Catalogue, typed: str, address: str
) -> None:
    loom = read(tmp_path, catalogue, f"W1,red,1,1,dash.other:b,{typed}")
    assert loom.find("W1").ends[1].at == address


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("knob / z", "no terminal of the knob, dash is marked 'z'"),
        ("knob", "does not say which terminal"),
        ("headlamp / 30", "no place is called 'headlamp'"),
        ("rear lamp / 30", "no place is called 'rear lamp'"),
        ("earth in the boot", "names no zone: none is called 'boot'"),
        ("feed:y", "no feed is called 'feed:y'"),
        ("live with the moon", "is no feed in one line"),
        ("bay", "no place is called 'bay'"),
        ("", "no end is given"),
    ],
)
def test_an_end_that_is_not_sure_is_asked(
    tmp_path: Path, catalogue: Catalogue, typed: str, said: str
) -> None:
    (fault,) = faults(tmp_path, catalogue, f"W1,red,1,1,dash.other:b,{typed}")
    assert fault.startswith("wires.csv:2:25 to: ") and said in fault


def test_a_mark_that_is_a_word_of_its_place_is_read() -> None:
    places = {"bay.lamp": {"part": "lamp", "zone": "bay", "title": "left lamp"}}
    supply = {"volts": 12, "earthed": "negative"}
    loom = Loom.model_validate({"loom": "x", "supply": supply, "zones": {"bay": {}}, "places": places})
    assert EndReader(loom, {}).address("left lamp / lamp", FilePlace("list.csv")) == "bay.lamp:lamp"


def test_the_nearest_ends_are_suggested(tmp_path: Path, catalogue: Catalogue) -> None:
    with pytest.raises(InputError) as caught:
        read(tmp_path, catalogue, "W1,red,1,1,headlamp / 30,knob / z")
    assert [p.hint for p in caught.value.problems] == [
        "'bay.lamp:30' or 'bay.second:30'",
        "'dash.switch:a' (live) or 'dash.switch:b' or 'dash.switch:85' or "
        "'dash.switch:supply'; or once for all rows, at dash.switch in the loom's file, if it is so, marks: "
        "{z: CHOOSE}",
    ]


def test_a_feed_at_the_edge_is_said_in_the_cell(tmp_path: Path, catalogue: Catalogue) -> None:
    loom = read(
        tmp_path,
        catalogue,
        'W1,red,1,1,"always live, fuse 8 A",dash.switch:a',
        'W2,red,1,1,"feed:own, always live",dash.switch:b',
        "W3,red,1,1,feed:own,dash.other:a",
    )
    name = loom.find("W1").ends[0].at
    assert name == "feed:always-live-fuse-8-a"
    assert (loom.feeds[name].role, loom.feeds[name].fuse_amps) == ("live-fused", 8)
    assert loom.feeds["feed:own"].role == "30" and loom.feeds["feed:lamps"].fuse_amps == 5
    assert [end for end, _ in loom.ends_at["feed:own"]] == ["W2", "W3"]


def test_two_feeds_of_the_same_words_are_asked_about(tmp_path: Path, catalogue: Catalogue) -> None:
    lines = [f"W{n},red,1,1,always live,dash.switch:{mark}" for n, mark in enumerate("ab")]
    (fault,) = faults(tmp_path, catalogue, *lines)
    assert fault.startswith("wires.csv:3:12 from: 'always live' is said at ")


def test_a_chain_has_legs_of_its_own(tmp_path: Path, catalogue: Catalogue) -> None:
    line = "W1,black; brown then red,1.5;1;0.75,1;2;3,knob/a,other knob / a,left headlamp / 30,loose"
    wire = read(tmp_path, catalogue, line, head=f"{HEAD},to 2,to").find("W1")
    assert [end.at for end in wire.ends] == ["dash.switch:a", "dash.other:a", "bay.lamp:30", "loose"]
    assert (wire.colour, wire.mm2, wire.metres) == (("BK", "BN", "RD"), (1.5, 1, 0.75), (1, 2, 3))


def test_one_length_for_several_legs_is_asked_about(tmp_path: Path, catalogue: Catalogue) -> None:
    line = "W1,red,1,2 m{},knob/a,other knob / a,loose"
    head = f"{HEAD},to 2"
    assert faults(tmp_path, catalogue, line.format(""), head=head) == [
        "wires.csv:2:10 metres: '2 m' may be each of the 2 legs, or all together"
    ]
    assert read(tmp_path, catalogue, line.format(" each"), head=head).find("W1").metres == (2.0,)
    assert read(tmp_path, catalogue, line.format("; 30 cm"), head=head).find("W1").metres == (2.0, 0.3)


def test_marks_may_have_columns_of_their_own(tmp_path: Path, catalogue: Catalogue) -> None:
    head = "colour,mm2,metres,from,from pin,to,to pin"
    loom = read(tmp_path, catalogue, "red,1,1,knob,a,left headlamp,30", head=head)
    assert [end.at for end in loom.find("row2").ends] == ["dash.switch:a", "bay.lamp:30"]


@pytest.mark.parametrize("heading", ["", "Terminal", "Pin"])
def test_marks_may_stand_beside_their_ends(tmp_path: Path, catalogue: Catalogue, heading: str) -> None:
    head = f"From,{heading},To,{heading},then to,{heading},Colour,Size (mm2),Length (m)"
    loom = read(tmp_path, catalogue, "knob,a,left headlamp,30,knob,b,red,1,0.5; 0.4", head=head)
    assert [end.at for end in loom.find("row2").ends] == ["dash.switch:a", "bay.lamp:30", "dash.switch:b"]


def test_marks_with_headings_of_their_own_are_not_sought_beside_their_ends(
    tmp_path: Path, catalogue: Catalogue
) -> None:
    head = "from,,to,,colour,mm2,metres,from pin,to pin"
    loom = read(tmp_path, catalogue, "knob,x,left headlamp,y,red,1,1,a,30", head=head)
    assert [end.at for end in loom.find("row2").ends] == ["dash.switch:a", "bay.lamp:30"]


def test_the_terminals_of_a_place_are_named_once(tmp_path: Path, catalogue: Catalogue) -> None:
    lines = [f"W{n},red,1,1,knob / q{n},loose" for n in range(3)]
    with pytest.raises(InputError) as caught:
        read(tmp_path, catalogue, *lines)
    first, *others = caught.value.problems
    assert "'dash.switch:a'" in (first.hint or "") and "marks: {q0: CHOOSE, q1: CHOOSE" in (first.hint or "")
    assert [(p.message.rpartition(" ")[2], p.hint) for p in others] == [("'q1'", ""), ("'q2'", "")]


def test_a_tracer_may_have_a_column_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text(
        "No,Main col.,Tracer,size,length,from,to\n1,black,red,1.5 mm2,1 m,a,b\n2,black,-,1.5 mm2,1 m,a,b\n"
        "3,N,W,1.5 mm2,1 m,a,b\n4,black/red,white,1.5 mm2,1 m,a,b\n5,,white,1.5 mm2,1 m,a,b\n"
    )
    wires = read_wire_list(path, None, {}, list)
    assert [row.data["colour"] for row in wires.rows] == [["BK/RD"], ["BK"], ["BN/WH"]]
    assert [(p.place.line, p.message) for p in wires.problems] == [
        (5, "colour: 'black/red/white' names 3 colours; base and one tracer can be kept"),
        (6, "colour: no colour is given"),
    ]


def test_units_are_said_by_heading_or_cell(tmp_path: Path, catalogue: Catalogue) -> None:
    head = "Wire,Color,Size (mm²),Length in cm,From,To"
    loom = read(
        tmp_path, catalogue, "W1,red,1,80,knob / a,loose", "W2,red,2.5,2 ft,knob / b,loose", head=head
    )
    assert [(w.mm2, w.metres) for w in loom.wires] == [((1.0,), (0.8,)), ((2.5,), (0.6096,))]
    assert faults(
        tmp_path, catalogue, "W1,red,14,80,loose,loose", head="wire,colour,size,length,from,to"
    ) == [
        "wires.csv:2:8 mm2: '14' may be mm2 or a gauge",
        "wires.csv:2:11 metres: '80' does not say its unit",
    ]


@pytest.mark.parametrize(
    "heading", ["Section mm2", "Cross-section (mm²)", "Conductor size, mm2", "Area sq mm"]
)
def test_the_size_of_a_wire_goes_by_many_names(tmp_path: Path, heading: str) -> None:
    path = saved(tmp_path, f'wire,colour,"{heading}",metres,from,to\nW1,red,1.5,1,here,there\n', "list.csv")
    assert alone(path).rows[0].data["mm2"] == ["1.5"]


def test_gauges_come_from_the_published_table(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,colour,AWG,metres,from,to\nW1,red,14,1,here,there\n", "list.csv")
    assert alone(path).rows[0].data["mm2"] == ["2.081"]


def test_a_colour_in_doubt_makes_the_wire_an_assumed_one(tmp_path: Path, catalogue: Catalogue) -> None:
    loom = read(
        tmp_path,
        catalogue,
        "W1,brown or red faded,1,1,knob / a,loose,seen,by the door",
        "W2,brown or red,1,1,knob / b,loose,measured,",
        head=f"{HEAD},known,note",
    )
    first, second = loom.wires
    assert (first.colour, first.known) == (("BN",), "assumed")
    assert first.note == "by the door; colour as written: brown or red faded"
    assert (second.known, second.note) == ("measured", "colour as written: brown or red")


def test_codes_are_asked_about_when_the_list_shows_another_code(tmp_path: Path, catalogue: Catalogue) -> None:
    lines = ("W1,GY,1,1,knob / a,loose", "W2,UW,1,1,knob / b,loose")
    assert faults(tmp_path, catalogue, *lines) == [
        "wires.csv:2:4 colour: 'GY' is grey in IEC 60757, but green/yellow in the code in which 'UW' stands "
        "in this list"
    ]
    british = read(tmp_path, catalogue, *lines, head=HEAD.replace("colour", "colour (British)"))
    assert [wire.colour[0] for wire in british.wires] == ["GN/YE", "BU/WH"]
    assert [wire.colour[0] for wire in read(tmp_path, catalogue, lines[0]).wires] == ["GY"]


def test_ends_may_have_fittings_and_remarks(tmp_path: Path, catalogue: Catalogue) -> None:
    loom = read(
        tmp_path,
        catalogue,
        'W1,red,1,1,knob / a (measured),"loose (covered, spare 20 cm)",blade-6.3; M6 ring',
        "W2,red,1,1,knob / b,loose,bullet",
        "W3,red,1,1,other knob / a,loose,;bullet",
        head=f"{HEAD},fittings",
    )
    ends = [
        (end.fitting, end.known, end.covered, end.spare_metres) for wire in loom.wires for end in wire.ends
    ]
    assert ends == [
        ("blade-6.3", "measured", False, 0.05),
        ("ring-6", None, True, 0.2),
        ("bullet", None, False, 0.05),
        ("bullet", None, False, 0.05),
        (None, None, False, 0.05),
        ("bullet", None, False, 0.05),
    ]


def test_every_row_that_cannot_be_read_is_named_with_each_of_its_faults(
    tmp_path: Path, catalogue: Catalogue
) -> None:
    assert faults(
        tmp_path,
        catalogue,
        "W1,GR,thick,long,nowhere / 1,,maybe",
        "W2,red,1,1,knob / a,loose,seen",
        "W2,red,1,1,knob / b,loose,seen",
        "W3,red,1,1,loose,loose,seen,too,many",
        head=f"{HEAD},known",
    ) == [
        "wires.csv:2:4 colour: 'GR' may be green/red or grey",
        "wires.csv:2:7 mm2: 'thick' is no wire size",
        "wires.csv:2:13 metres: 'long' is no length",
        "wires.csv:2:18 from: no place is called 'nowhere'",
        "wires.csv:2:30 to: no end is given",
        "wires.csv:2:31 known: 'maybe' does not say how well it is known",
        "wires.csv:4:1 wire: two rows are called 'W2'",
        "wires.csv:5:29 the row has more cells than the 7 headings",
    ]


def test_what_does_not_fit_the_loom_is_named_in_the_list(tmp_path: Path, catalogue: Catalogue) -> None:
    head = f"{HEAD},bundle"
    assert faults(tmp_path, catalogue, "W 1,red,1;2,1,knob / a,loose,a:b", head=head) == [
        "wires.csv:2:1 wire must be letters, digits, dots, dashes and plus signs, got 'W 1'",
        "wires.csv:2:30 bundle must be a name without colon or slash, got 'a:b'",
    ]
    assert faults(tmp_path, catalogue, "W1,red,1;2,1,knob / a,loose") == [
        "wires.csv:2:8 mm2 must be one value or one for each of the 1 legs, got 2 values"
    ]
    crowded = [f"W{n},red,1,1,knob / a,loose" for n in range(3)]
    assert faults(tmp_path, catalogue, *crowded) == [
        "wires.csv:3:12 dash.switch:a holds 1, and 3 ends are on it"
    ]


def test_a_list_without_its_loom_keeps_ends_as_they_are_written(tmp_path: Path) -> None:
    found = alone(saved(tmp_path, f"{HEAD},price\nW1,red,1,1,here,there,5\n", "list.csv"))
    assert [end["at"] for end in found.rows[0].data["ends"]] == ["here", "there"]
    assert found.unread == ("price",)


@pytest.mark.parametrize("name", ["../wires.csv", "/elsewhere/wires.csv", "wires.ods", "wires"])
def test_a_list_lies_beside_its_loom(tmp_path: Path, catalogue: Catalogue, name: str) -> None:
    path = saved(tmp_path, f"{LOOM}wire_list: {name}\n", "loom.yaml")
    with pytest.raises(InputError, match="must be the name of a file beside this one"):
        read_loom(path, catalogue)


def test_a_list_that_is_not_there_is_said(tmp_path: Path, catalogue: Catalogue) -> None:
    path = saved(tmp_path, f"{LOOM}wire_list: wires.csv\n", "loom.yaml")
    with pytest.raises(InputError, match=r"wires\.csv: cannot be read"):
        read_loom(path, catalogue)
