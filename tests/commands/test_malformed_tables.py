"""Malformed tables through the command line: each ends with 2 and its place, soon, and nothing is written."""

import re
import subprocess
import sys
from pathlib import Path
from time import process_time

import pytest
from malformed import CASES, GOOD, JOB, KITS, LOOM, csv

from planner.commands import main
from planner.commands.work import check, plan
from planner.pipeline import open_catalogue

CATALOGUE = open_catalogue()
LONGEST_SECONDS, MOST_KILOBYTES = 2.0, 300 * 1024


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for module in (check, plan):
        monkeypatch.setattr(module, "open_catalogue", lambda extra: CATALOGUE)
    monkeypatch.chdir(tmp_path)
    Path("job.yaml").write_text(JOB)
    return tmp_path


def refused(argv: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """What is said of an input that cannot be used, and nothing besides: soon, and nothing is written."""
    before = {path.name: path.read_bytes() for path in Path().iterdir()}
    capsys.readouterr()
    start = process_time()
    status = main(argv)
    seconds = process_time() - start
    said = capsys.readouterr()
    assert (status, said.out) == (2, "")
    assert seconds < LONGEST_SECONDS
    assert {path.name: path.read_bytes() for path in Path().iterdir()} == before
    return said.err


def test_there_are_many_cases_and_no_two_are_the_same() -> None:
    contents = {(case.values[0], case.values[1]) for case in CASES}
    assert len(contents) > 200


@pytest.mark.parametrize(("content", "name"), CASES)
def test_a_malformed_wire_list_is_refused_by_name_and_place(
    folder: Path, capsys: pytest.CaptureFixture[str], content: bytes, name: str
) -> None:
    Path("loom.yaml").write_text(f"{LOOM}wire_list: {name}\n")
    Path(name).write_bytes(content)
    said = refused(["plan", "job.yaml"], capsys)
    assert re.match(rf"{re.escape(name)}(:\d+:\d+)?: ", said)
    assert "Traceback" not in said


@pytest.mark.parametrize("content", KITS.values(), ids=KITS)
def test_a_malformed_kit_is_refused_by_name_and_place(
    folder: Path, capsys: pytest.CaptureFixture[str], content: bytes
) -> None:
    Path("loom.yaml").write_text(LOOM)
    Path("kit.csv").write_bytes(content)
    assert refused(["check", "loom.yaml", "--kit", "kit.csv"], capsys).startswith("kit.csv:")


@pytest.mark.skipif(sys.platform != "linux", reason="asks Linux for the most memory that was used")
def test_all_of_them_in_one_process_take_little_memory(tmp_path: Path) -> None:
    contents = [(case.values[0], Path(case.values[1]).suffix) for case in CASES]
    contents += [(content, ".csv") for content in KITS.values()]
    large = csv(*((f"W{n}", *GOOD[1:]) for n in range(4999)))  # as long as a list may be, and without a fault
    names = [f"{n}{suffix}" for n, (_, suffix) in enumerate([*contents, (large, ".csv")])]
    for name, (content, _) in zip(names, [*contents, (large, ".csv")], strict=True):
        (tmp_path / name).write_bytes(content)
    code = (
        "import sys; from planner.commands import main; "
        "statuses = [main(['check', name]) for name in sys.argv[1:]]; "
        # What getrusage calls the most memory begins with that of the process that started this one.
        "most = open('/proc/self/status').read().partition('VmHWM:')[2].split()[0]; "
        "print(most, *statuses, file=sys.stderr)"
    )
    ended = subprocess.run(
        [sys.executable, "-c", code, *names], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    kilobytes, *statuses = ended.stderr.splitlines()[-1].split()
    assert statuses[-1] == "0" and len(statuses) == len(names)
    assert int(kilobytes) < MOST_KILOBYTES
