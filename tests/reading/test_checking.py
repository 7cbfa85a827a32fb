"""Whole catalogues and single files, checked only to say what is wrong."""

import pytest
from marked import places_of

from planner.problems import InputError
from planner.reading.catalogue import installed_directories, read_catalogue
from planner.reading.checking import check_catalogue, check_file


@pytest.mark.parametrize(
    ("name", "kind"),
    [("parts/lamps.yaml", "parts"), ("looms/small.yaml", "loom"), ("jobs/01-do-it.yaml", "job")],
)
def test_the_kind_of_a_file_is_told_by_what_it_holds(catalogue_at, name, kind):
    folder, _ = catalogue_at()
    assert check_file(folder / name, read_catalogue([folder])).kind == kind


@pytest.mark.parametrize("text", ["a: b\n", "just text\n"])
def test_a_file_of_no_known_kind_is_refused(catalogue_at, tmp_path, text):
    path = tmp_path / "x.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match="this is no list of parts, loom or job") as error:
        check_file(path, read_catalogue([catalogue_at()[0]]))
    assert places_of(error.value) == [(1, 1)]


def test_a_sound_catalogue_is_given_back(catalogue_at):
    folder, _ = catalogue_at()
    assert check_catalogue([folder]) == read_catalogue([folder])


def test_the_faults_of_all_looms_and_jobs_come_together_each_once(catalogue_at):
    folder, _ = catalogue_at("looms/small.yaml", ("volts: 12", "volts: x"))
    for name in ("a", "b"):
        path = folder / "jobs" / f"{name}.yaml"
        path.write_text(f"job: {name}\nloom: small\nswap: []\n", encoding="utf-8")
    with pytest.raises(InputError) as error:
        check_catalogue([folder])
    assert [problem.message for problem in error.value.problems] == [
        "unknown key 'swap'",
        "unknown key 'swap'",
        "volts must be a number, got 'x'",
    ]


def test_the_shipped_catalogue_has_no_fault():
    catalogue = check_catalogue(installed_directories())
    assert catalogue.parts
    assert catalogue.loom_files
    assert catalogue.job_files
