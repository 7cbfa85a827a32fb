"""Parts are found by their lines and read when asked for, and what comes out is what reading all gives."""

from pathlib import Path

import pytest
from marked import marked, places_of
from small_catalogue import FILES

import catalogs
from planner.model.catalogue import Catalogue
from planner.problems import InputError
from planner.reading import part_files
from planner.reading.catalogue import read_catalogue, read_job, read_loom, scan_catalogue
from planner.reading.part_files import PartFile

TERMINAL = "  source: invented\n  terminals: {a: {}}\n"
LAYOUTS = {
    "ours": f"- part: x\n  title: X\n  family: thing\n{TERMINAL}",
    "remarks": f"# first\n- part: x # ours\n# between\n  title: X\n  family: thing\t# so\n{TERMINAL}# last",
    "windows": f"- part: x\n  title: X\n  family: thing\n{TERMINAL}".replace("\n", "\r\n"),
    "byte order mark": f"\ufeff- part: x\n  title: X\n  family: thing\n{TERMINAL}",
    "no last line break": f"- part: x\n{TERMINAL}  title: X\n  family: thing",
    "flow": "[{part: x, title: X, family: thing, source: invented, terminals: {a: {}}}]",
    "flow in a list": "- {part: x, title: X, family: thing, source: invented, terminals: {a: {}}}\n",
    "quoted": f"- part: 'x'\n  title: X\n  family: \"thing\"\n{TERMINAL}",
    "escaped": f'- part: "\\x78"\n  title: X\n  family: "th\\x69ng"\n{TERMINAL}',
    "title first": f"- title: X\n  part: x\n  family: thing\n{TERMINAL}",
    "indented": "".join(
        f"  {line}\n" for line in f"- part: x\n  title: X\n  family: thing\n{TERMINAL}".splitlines()
    ),
    "dash alone": f"-\n  part: x\n  title: X\n  family: thing\n{TERMINAL}",
    "document start": f"---\n- part: x\n  title: X\n  family: thing\n{TERMINAL}",
    "old line breaks": f"- part: x\n  title: X\n  family: thing\n{TERMINAL}".replace("\n", "\r"),
    "text like a family": f"- part: x\n  note: 'a\n\n  family: b'\n  title: X\n  family: thing\n{TERMINAL}",
    "two in one": "".join(f"- part: {x}\n  title: X\n  family: thing\n{TERMINAL}" for x in ("x", "y")),
}


def _folder(tmp_path: Path, **files: str) -> Path:
    for name, text in {**FILES, **{f"parts/{stem}.yaml": text for stem, text in files.items()}}.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode())
    return tmp_path


@pytest.mark.parametrize("layout", LAYOUTS)
def test_found_parts_are_those_of_reading_all_however_a_file_is_laid_out(tmp_path, layout):
    folder = _folder(tmp_path, more=LAYOUTS[layout])
    found, read = scan_catalogue([folder]), read_catalogue([folder])
    assert (
        "x" in found.parts and list(found.parts) == list(read.parts) and len(found.parts) == len(read.parts)
    )
    assert found.part_places == read.part_places
    assert list(found.family("thing")) == [p for p in read.parts.values() if p.family == "thing"] != []
    assert dict(found.parts) == read.parts
    assert found.parts.get("none") is None


def test_a_wanted_part_is_read_and_no_other(catalogue_at, monkeypatch):
    folder, _ = catalogue_at()
    catalogue, built = scan_catalogue([folder]), []
    build = part_files.build
    monkeypatch.setattr(part_files, "build", lambda *given: built.append(given[1].data) or build(*given))
    assert catalogue.parts["sender"] is catalogue.parts["sender"]
    assert [[entry["part"] for entry in data] for data in built] == [["sender"]]


def test_a_job_is_planned_though_a_part_that_it_does_not_need_is_faulty(catalogue_at):
    folder, _ = catalogue_at("parts/lamps.yaml", ("watts: 5", "watts: no"))
    with pytest.raises(InputError):
        read_catalogue([folder])
    catalogue = scan_catalogue([folder])
    assert catalogue.parts["sender"].family == "sender"
    with pytest.raises(InputError, match="watts must be a number"):
        read_job("do-it-now", catalogue)


def test_a_faulty_part_that_is_wanted_has_all_faults_of_its_file_said_at_their_places(catalogue_at):
    folder, places = catalogue_at(
        "parts/lamps.yaml", ("watts: 5", "watts: ¶no"), ("follows: level", "¶folows: level")
    )
    with pytest.raises(InputError) as error:
        scan_catalogue([folder]).parts["lamp"]
    assert set(places) <= set(places_of(error.value))


def test_the_faults_of_all_files_that_a_loom_needs_are_said_together(catalogue_at):
    folder, _ = catalogue_at("parts/lamps.yaml", ("watts: 5", "watts: no"))
    switches = folder / "parts" / "switches.yaml"
    switches.write_text(switches.read_text().replace("ohms: 60", "ohms: none"))
    with pytest.raises(InputError) as error:
        read_loom("small", scan_catalogue([folder]))
    assert {Path(p.place.file).name for p in error.value.problems} == {"lamps.yaml", "switches.yaml"}


def test_an_id_given_twice_is_found_without_reading_either(tmp_path):
    again = "# ours\n- part: switch\n  family: none\n"
    with pytest.raises(InputError, match="part 'switch' is given twice") as error:
        scan_catalogue([_folder(tmp_path, zz=again)])
    (problem,) = error.value.problems
    assert (problem.place.line, problem.place.column) == (2, 9)
    assert [(Path(place.file).name, place.line, place.column) for place, _ in problem.related] == [
        ("switches.yaml", 1, 9)
    ]


def test_a_line_inside_a_text_is_not_taken_for_a_part(tmp_path):
    text, places = marked(
        f"- part: x\n  family: thing\n{TERMINAL}  title: 'X\n\n- part: ¶y\n  family: thing\n  '\n"
    )
    catalogue = scan_catalogue([_folder(tmp_path, more=text)])
    for name in ("x", "y"):
        with pytest.raises(InputError, match="the line belongs to a text") as error:
            catalogue.parts[name]
        assert places_of(error.value) == places


@pytest.mark.parametrize(
    "text", ["", "# nothing\n", "{}\n", "- part: X y\n", "a: [\n", "- part: x\n\x00", "\xff"]
)
def test_a_file_whose_parts_cannot_be_found_is_refused_as_when_all_is_read(tmp_path, text):
    folder = _folder(tmp_path)
    (folder / "parts" / "more.yaml").write_bytes(text.encode("latin-1"))
    with pytest.raises(InputError) as when_read:
        read_catalogue([folder])
    with pytest.raises(InputError) as when_found:
        _ = scan_catalogue([folder]).parts["x"]
    assert when_found.value.problems == when_read.value.problems


def test_a_file_that_is_too_large_is_refused_before_any_part_is_wanted(tmp_path, monkeypatch):
    monkeypatch.setattr(part_files, "MAX_BYTES", 100)
    monkeypatch.setattr("planner.reading.yaml_source.MAX_BYTES", 100)
    path = tmp_path / "large.yaml"
    path.write_text(LAYOUTS["two in one"])
    assert [problem.message for problem in PartFile(path, ({}, {})).faults] == [
        "the file is larger than 0 MB"
    ]


def test_families_and_elements_are_found_as_by_going_through_all_shipped_parts():
    found, read = scan_catalogue([catalogs.directory()]), read_catalogue([catalogs.directory()])
    for family in {part.family for part in read.parts.values()}:
        assert list(found.family(family)) == list(read.family(family)) != []
    for kind in {element.element for part in read.parts.values() for element in part.inside}:
        assert list(found.with_element(kind)) == list(read.with_element(kind)) != []


def test_an_element_that_is_written_with_an_escape_is_found(tmp_path):
    fuse = '  nodes: [b]\n  inside: [{"fus\\x65": {between: [a, b], amps: 5}}]\n'
    catalogue = scan_catalogue([_folder(tmp_path, more=LAYOUTS["ours"] + fuse)])
    assert [part.part for part in catalogue.with_element("fuse")] == ["x"]


def test_the_shipped_files_tell_their_parts_by_their_lines():
    files = sorted((catalogs.directory() / "parts").glob("*.yaml"))
    assert [path.name for path in files if not PartFile(path, ({}, {})).is_plain] == []


def test_a_catalogue_put_together_by_hand_is_asked_in_the_same_way():
    shipped = read_catalogue([catalogs.directory()])
    own = Catalogue({}, {}, {"a": shipped.parts["relay-make-40"]}, {}, {}, {})
    assert list(own.family("relay")) == list(own.with_element("coil")) == [own.parts["a"]]
    assert list(own.family("lamp")) == list(own.with_element("lamp")) == []


def test_of_a_family_only_what_may_have_the_roles_is_read(catalogue_at, monkeypatch):
    folder, _ = catalogue_at()
    catalogue, built = scan_catalogue([folder]), []
    build = part_files.build
    monkeypatch.setattr(part_files, "build", lambda *given: built.append(given[1].data) or build(*given))
    assert list(catalogue.family("lamp", ("30", "87a"))) == []
    assert built == []
    assert [part.part for part in catalogue.family("lamp", ("30",))] == ["lamp"]
