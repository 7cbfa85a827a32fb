"""Malformed catalogue files through the command line: each ends with 2 and its place, soon."""

import re
import subprocess
import sys
from pathlib import Path
from time import process_time

import pytest
from malformed_yaml import CASES, WHOLE, WRONG
from small_catalogue import FILES

from planner import pipeline
from planner.commands import FINE, NOT_USABLE, main
from planner.commands.work import check

LONGEST_SECONDS, MOST_KILOBYTES = 2.0, 300 * 1024
MEASURED = (
    "import sys, resource; from planner.commands import main; status = main(sys.argv[1:]);"
    "used = resource.getrusage(resource.RUSAGE_SELF);"
    # What getrusage calls the most memory begins with that of the process that started this one.
    "most = open('/proc/self/status').read().partition('VmHWM:')[2].split()[0];"
    "print(most, used.ru_utime + used.ru_stime); sys.exit(status)"
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small catalogue alone, and nobody else's."""
    for module in (check, pipeline):
        monkeypatch.setattr(module, "installed_directories", list)
    monkeypatch.chdir(tmp_path)
    for name, text in FILES.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def _contents(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_there_are_many_cases_and_each_changes_its_file(folder: Path) -> None:
    assert len({(case.values[0], case.values[2]) for case in CASES}) > 250
    assert [(file, old) for file, old, _ in WRONG if FILES[file].count(old) < 1] == []
    assert main(["check", "--catalog", "."]) == FINE


@pytest.mark.parametrize(("file", "what", "content"), CASES)
def test_a_malformed_file_is_refused_with_file_line_and_column(
    folder: Path, capsys: pytest.CaptureFixture[str], file: str, what: str, content: bytes
) -> None:
    (folder / file).write_bytes(content)
    before = _contents(folder)
    for argv in (["check", "--catalog", "."], ["plan", "jobs/01-do-it.yaml", "--catalog", "."]):
        if argv[0] == "plan" and not file.startswith("jobs"):
            continue
        start = process_time()
        status = main(argv)
        seconds = process_time() - start
        said = capsys.readouterr()
        assert (status, said.out) == (NOT_USABLE, "")
        place = "" if what in WHOLE else r":[1-9]\d*:[1-9]\d*"
        is_elsewhere = what.startswith("invented: {")  # who names a source is told, not who leaves it out
        assert is_elsewhere or re.search(rf"{re.escape(file)}{place}: ", said.err), said.err
        assert len(said.err) < 100_000
        assert seconds < LONGEST_SECONDS
    assert _contents(folder) == before


@pytest.mark.parametrize(
    "content",
    [
        "- x\n" * 1_000_000,
        "[" * 3_000_000,
        "loom: a\nsupply: {volts: 12, earthed: negative}\nwires:\n" + "- 1\n" * 900_000,
        "a: [" + "x," * 1_900_000 + "x]",
        "".join(f"k{n}: v\n" for n in range(300_000)),
    ],
    ids=["list", "deep", "wires", "wide", "keys"],
)
def test_a_huge_file_is_refused_by_a_process_of_its_own_soon_and_in_little_room(
    tmp_path: Path, content: str
) -> None:
    path = tmp_path / "huge.yaml"
    path.write_text(content, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-c", MEASURED, "check", str(path)], capture_output=True, text=True, check=False
    )
    assert done.returncode == NOT_USABLE and "huge.yaml:" in done.stderr
    kilobytes, seconds = done.stdout.split()
    assert int(kilobytes) < MOST_KILOBYTES
    assert float(seconds) < LONGEST_SECONDS


@pytest.mark.skipif(sys.platform != "linux", reason="asks Linux for the most memory that was used")
def test_all_malformed_files_in_one_process_take_little_memory(tmp_path: Path) -> None:
    for number, case in enumerate(CASES):
        file, _, content = case.values
        for name, text in FILES.items():
            path = tmp_path / str(number) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content if name == file else text.encode())
    code = (
        "import sys; from planner.commands import main; from planner.commands.work import check;"
        "check.installed_directories = list;"
        "statuses = {main(['check', '--catalog', folder]) for folder in sys.argv[1:]};"
        "print(open('/proc/self/status').read().partition('VmHWM:')[2].split()[0], *statuses)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *(str(number) for number in range(len(CASES)))],
        cwd=tmp_path, capture_output=True, text=True, check=True,
    )  # fmt: skip
    kilobytes, *statuses = done.stdout.split()
    assert statuses == [str(NOT_USABLE)]
    assert int(kilobytes) < MOST_KILOBYTES
