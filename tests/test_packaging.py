"""The wheel carries everything that the source has: code, types, rules, catalogues, licence, entry points."""

import os
import shutil
import subprocess
import zipfile
from configparser import ConfigParser
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1]
PACKAGES = ("planner", "rules", "catalogs")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    """The wheel, built from this source into a folder of its own."""
    uv = shutil.which("uv")
    if uv is None:
        assert "CI" not in os.environ, "uv builds the wheel and has to be there"
        pytest.skip("uv, which builds the wheel, is not installed")
    out = tmp_path_factory.mktemp("dist")
    done = subprocess.run(
        [uv, "build", "--wheel", "--out-dir", str(out), str(SOURCE)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    (built,) = out.glob("*.whl")
    return zipfile.ZipFile(built)


def _files(package: str) -> set[str]:
    found = (p for p in (SOURCE / package).rglob("*") if p.is_file() and "__pycache__" not in p.parts)
    return {p.relative_to(SOURCE).as_posix() for p in found}


@pytest.mark.parametrize("package", PACKAGES)
def test_every_file_of_a_package_is_in_the_wheel(wheel: zipfile.ZipFile, package: str) -> None:
    assert _files(package) - set(wheel.namelist()) == set()


def test_nothing_but_the_packages_and_their_description_is_in_the_wheel(wheel: zipfile.ZipFile) -> None:
    tops = {name.partition("/")[0] for name in wheel.namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == set(PACKAGES)


@pytest.mark.parametrize(
    "name",
    [
        "catalogs/roles.yaml",
        "catalogs/jobs/15-whole-van.yaml",
        "catalogs/looms/skarrow-8.yaml",
        "catalogs/standards/terminals.csv",
        "catalogs/standards/ampacity.csv",
        "catalogs/standards/bundling.csv",
        "catalogs/standards/insulation.csv",
        "catalogs/README.md",
        "planner/py.typed",
        "rules/py.typed",
        "rules/README.md",
    ],
)
def test_data_that_is_easily_forgotten_is_there_byte_for_byte(wheel: zipfile.ZipFile, name: str) -> None:
    assert wheel.read(name) == (SOURCE / name).read_bytes()


def test_the_licence_is_in_the_wheel(wheel: zipfile.ZipFile) -> None:
    (name,) = [name for name in wheel.namelist() if name.endswith(".dist-info/licenses/LICENSE")]
    assert wheel.read(name) == (SOURCE / "LICENSE").read_bytes()


def test_command_rules_and_catalogues_are_entry_points_of_the_wheel(wheel: zipfile.ZipFile) -> None:
    (name,) = [name for name in wheel.namelist() if name.endswith(".dist-info/entry_points.txt")]
    groups = ConfigParser()
    groups.read_string(wheel.read(name).decode())
    assert {section: dict(groups[section]) for section in groups.sections()} == {
        "console_scripts": {"loomwright": "planner.commands:run"},
        "loomwright.rules": {"standard": "rules:RULES"},
        "loomwright.catalogs": {"demonstration": "catalogs:directory"},
    }
