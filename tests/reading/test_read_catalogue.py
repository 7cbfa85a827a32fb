"""Catalogue folders, and looms and jobs by file, id or name."""

import subprocess
import sys
from importlib.metadata import EntryPoint
from pathlib import Path

import pytest
from marked import places_of

import planner.reading.catalogue as reading
from planner.model.part import Part
from planner.problems import FilePlace, InputError
from planner.reading.catalogue import installed_directories, read_catalogue, read_job, read_loom, read_parts

JOB = "jobs/01-do-it.yaml"


def _add(folder, name, text):
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def test_a_catalogue_holds_what_its_files_say(catalogue_at):
    folder, _ = catalogue_at()
    catalogue = read_catalogue([folder])
    assert set(catalogue.roles) == {"30", "31"}
    assert set(catalogue.sources) == {"invented"}
    assert set(catalogue.parts) == {"lamp", "sender", "switch"}
    assert catalogue.part_places["sender"] == FilePlace(str(folder / "parts/lamps.yaml"), 12, 9)
    assert catalogue.loom_files == {"small": folder / "looms/small.yaml"}
    assert catalogue.job_files == {"do-it-now": folder / JOB}


def test_a_later_folder_adds_to_an_earlier_one(catalogue_at, tmp_path):
    folder, _ = catalogue_at()
    own = tmp_path / "own"
    part = "- {part: own-lamp, title: Own, family: lamp, source: invented, terminals: {a: {role: '30'}}}\n"
    _add(own, "parts/own.yaml", part)
    assert set(read_catalogue([folder, own]).parts) == {"lamp", "sender", "switch", "own-lamp"}


def test_a_folder_given_twice_is_read_once(catalogue_at, monkeypatch):
    folder, _ = catalogue_at()
    monkeypatch.chdir(folder.parent)
    assert len(read_catalogue([folder, Path("catalogue")]).parts) == 3


PART = "- {part: lamp, title: x, family: x, source: invented, terminals: {a: {}}}\n"
TWICE = [
    ("roles.yaml", "'30': {rank: 1, meaning: x, source: x, basis: x}\n", "role '30' is given twice", (1, 1)),
    ("sources.yaml", "invented: {title: x, basis: x}\n", "source 'invented' is given twice", (1, 1)),
    ("parts/more.yaml", PART, "part 'lamp' is given twice", (1, 10)),
    ("looms/more.yaml", "# ours\nloom:  small\n", "loom 'small' is given twice", (2, 8)),
    ("jobs/more.yaml", "{loom: x, job: do-it-now}\n", "job 'do-it-now' is given twice", (1, 16)),
]


@pytest.mark.parametrize("case", TWICE, ids=[case[0] for case in TWICE])
def test_an_id_given_twice_is_refused_and_the_first_is_shown(catalogue_at, tmp_path, case):
    name, text, message, place = case
    folder, _ = catalogue_at()
    second = _add(tmp_path / "own", name, text)
    with pytest.raises(InputError) as error:
        read_catalogue([folder, tmp_path / "own"])
    (problem,) = error.value.problems
    assert problem.message == message
    assert (problem.place.file, problem.place.line, problem.place.column) == (str(second), *place)
    assert problem.related[0][0].file.startswith(str(folder))


@pytest.mark.parametrize(
    ("name", "text", "message", "place"),
    [
        ("roles.yaml", "[a]\n", "must map each role to what it is, got a list of 1", (1, 1)),
        ("sources.yaml", "\n\n'x'\n", "must map each source to what it is, got 'x'", (3, 1)),
        ("parts/bad.yaml", "part: x\n", "must be a list of parts, got a mapping with part", (1, 1)),
        ("parts/bad.yaml", "- x\n", "this must be a mapping, got 'x'", (1, 3)),
        ("parts/bad.yaml", "- a: [\n", "not valid YAML", (2, 1)),
        ("parts/bad.yml", "- a\n", "is not read", (0, 0)),
        (
            "roles.yaml",
            "a: {rank: x, meaning: x, source: x, basis: x}\n",
            "rank must be a whole number",
            (1, 11),
        ),
    ],
)
def test_a_file_of_the_wrong_shape_is_refused(tmp_path, name, text, message, place):
    path = _add(tmp_path, name, text)
    with pytest.raises(InputError, match=f"{path.name}.*{message}") as error:
        read_catalogue([tmp_path])
    assert places_of(error.value) == [place]


def test_a_folder_that_is_none_or_holds_nothing_is_refused(tmp_path):
    (tmp_path / "empty").mkdir()
    with pytest.raises(InputError) as error:
        read_catalogue([tmp_path / "absent", tmp_path / "empty"])
    assert [(p.place.file, p.message) for p in error.value.problems] == [
        (str(tmp_path / "absent"), "there is no such catalogue folder"),
        (str(tmp_path / "empty"), "holds none of roles.yaml, sources.yaml, parts, looms, jobs, standards"),
    ]


def test_looms_and_jobs_are_not_parsed_until_asked_for(catalogue_at):
    folder, _ = catalogue_at()
    _add(folder, "jobs/02-broken.yaml", "job: broken\nswaps: [\n")
    catalogue = read_catalogue([folder])
    assert set(catalogue.job_files) == {"do-it-now", "broken"}
    with pytest.raises(InputError, match="not valid YAML"):
        read_job("broken", catalogue)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ('{"loom": "flow-form"}', "flow-form"),
        ("'loom': quoted\n", "quoted"),
        ("loom: with-remark  # ours\r\n", "with-remark"),
        ("\ufeffloom: marked\n", "marked"),
        ("note: |\n  loom: inside\nloom: real\n", "real"),
        ("places: {}\n", "other"),
        ("- x\n", "other"),
        ("a: [\n", "other"),
        ("loom: [x]\n", "other"),
    ],
)
def test_the_id_of_a_loom_is_found_in_every_form(catalogue_at, text, name):
    folder, _ = catalogue_at()
    path = _add(folder, "looms/other.yaml", text)
    assert read_catalogue([folder]).loom_files[name] == path


def test_a_loom_file_that_is_no_text_is_found_and_refused_when_read(catalogue_at):
    folder, _ = catalogue_at()
    (folder / "looms" / "other.yaml").write_bytes(b"\xff\xfe")
    catalogue = read_catalogue([folder])
    with pytest.raises(InputError, match="not UTF-8"):
        read_loom("other", catalogue)


@pytest.mark.parametrize("name", ["do-it-now", "01-do-it", "do-it"])
def test_a_job_is_found_by_its_id_and_by_its_file_name_with_and_without_number(catalogue_at, name):
    job, loom = read_job(name, read_catalogue([catalogue_at()[0]]))
    assert (job.job, loom.loom) == ("do-it-now", "small")


def test_a_job_is_read_from_a_path_in_text_or_as_path(catalogue_at):
    folder, _ = catalogue_at()
    catalogue = read_catalogue([folder])
    assert read_job(folder / JOB, catalogue) == read_job(str(folder / JOB), catalogue)


def test_an_existing_file_comes_before_a_shipped_job(catalogue_at, tmp_path, monkeypatch):
    catalogue = read_catalogue([catalogue_at()[0]])
    _add(tmp_path, "do-it", "job: mine\nloom: small\nswaps: [{at: bay.lamp, fit: nothing}]\n")
    monkeypatch.chdir(tmp_path)
    assert read_job("do-it", catalogue)[0].job == "mine"


def test_a_folder_does_not_hide_a_job_of_its_name(catalogue_at, tmp_path, monkeypatch):
    catalogue = read_catalogue([catalogue_at()[0]])
    (tmp_path / "do-it").mkdir()
    monkeypatch.chdir(tmp_path)
    assert read_job("do-it", catalogue)[0].job == "do-it-now"


def test_a_loom_may_be_a_file_beside_the_job(catalogue_at, tmp_path):
    catalogue = read_catalogue([catalogue_at()[0]])
    _add(tmp_path / "own", "looms/mine.yaml", "loom: mine\nsupply: {volts: 6, earthed: positive}\n")
    job = _add(
        tmp_path / "own",
        "job.yaml",
        "job: x\nloom: looms/mine.yaml\nsupply: {volts: 12, earthed: positive}\n",
    )
    assert read_job(job, catalogue)[1].loom == "mine"


@pytest.mark.parametrize("name", ["do-it-nwo", "", "x" * 5000, "a\x00b", "jobs/none.yaml"])
def test_a_name_that_is_no_job_is_refused(catalogue_at, name):
    catalogue = read_catalogue([catalogue_at()[0]])
    with pytest.raises(InputError, match="there is no file and no job of that name") as error:
        read_job(name, catalogue)
    (problem,) = error.value.problems
    assert (problem.place.file, problem.place.line) == (name or "job", 0)
    assert problem.hint in ("do-it-now", "one of: do-it-now")


def test_a_loom_that_no_file_can_be_named_after_is_refused(catalogue_at):
    folder, _ = catalogue_at(JOB, ("loom: small", "loom: " + "x" * 5000))
    with pytest.raises(InputError, match="no loom is called") as error:
        read_job("do-it", read_catalogue([folder]))
    assert places_of(error.value) == [(2, 7)]


def test_a_job_file_that_holds_no_mapping_is_refused(catalogue_at):
    folder, _ = catalogue_at()
    _add(folder, JOB, "- job: x\n")
    with pytest.raises(InputError, match="a job file holds one mapping, got a list of 1"):
        read_job("01-do-it", read_catalogue([folder]))


def test_the_faults_of_a_loom_are_said_by_its_job(catalogue_at):
    folder, places = catalogue_at("looms/small.yaml", ("volts: 12", "volts: ¶x"))
    with pytest.raises(InputError, match="volts must be a number") as error:
        read_job("do-it", read_catalogue([folder]))
    assert places_of(error.value, str(folder / "looms/small.yaml")) == places


def test_one_file_of_parts_is_read_against_a_catalogue(catalogue_at, tmp_path):
    catalogue = read_catalogue([catalogue_at()[0]])
    text = "- {part: x, title: x, family: x, source: invented, terminals: {a: {role: '30'}}}\n"
    (part,) = read_parts(_add(tmp_path, "mine.yaml", text), catalogue)
    assert isinstance(part, Part)
    with pytest.raises(InputError, match="no role is called '99'") as error:
        read_parts(_add(tmp_path, "mine.yaml", text.replace("'30'", "'99'")), catalogue)
    assert places_of(error.value) == [(1, 74)]


def test_the_shipped_catalogue_is_found_by_its_entry_point():
    (directory,) = installed_directories()
    assert (directory / "roles.yaml").is_file()


def test_an_installed_catalogue_that_cannot_be_loaded_is_named(monkeypatch):
    broken = [EntryPoint("mine", "no_such_package:directory", reading.ENTRY_POINTS)]
    monkeypatch.setattr(reading, "entry_points", lambda group: broken)
    with pytest.raises(InputError, match=r"the installed catalogue 'mine' .* cannot be loaded"):
        installed_directories()


def test_reading_loads_nothing_that_only_printing_needs():
    code = "import sys, planner.reading.checking; print({'rich', 'numpy', 'yaml'} & set(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "{'yaml'}\n"
