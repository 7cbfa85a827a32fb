"""``loomwright meter``: readings typed one by one, judged at once, kept after each, gone on from."""

import io
import json
import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

from planner.commands import main

JOB = "two-ends-trade"  # two dead tests, then two live ones
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    monkeypatch.chdir(tmp_path)

    def typed(text: str, *arguments: str) -> tuple[int, str, str]:
        monkeypatch.setattr("sys.stdin", io.StringIO(text))
        status = main(["meter", JOB, *arguments])
        out = capsys.readouterr()
        return status, out.out, out.err

    return typed


def test_good_readings_end_well(run: Run) -> None:
    status, out, err = run("0.1\n0,2 ohm\n12.3 V\n12.2\n")
    assert status == 0, err
    assert "4 of 4 readings are good" in out and "Every test was read" in out
    assert Path(f"{JOB}-meter.yaml").exists() and not Path(f"{JOB}-meter-hunt.yaml").exists()


def test_a_wrong_reading_is_judged_at_once_and_hunted_for_in_the_same_sitting(run: Run) -> None:
    status, out, err = run("0.1\n0.1\n0\n0\n")
    assert status == 1
    assert "NOT GOOD" in err and "2 readings are not good" in out
    assert err.index("Now to find it") < err.index("NOT FOUND YET")
    assert "Read this next" in out
    assert main(["trace", JOB, "--seen", f"{JOB}-meter-hunt.yaml", "--json"]) in (0, 1)  # it reads it


def test_what_is_wrong_with_the_battery_off_is_found_there_mended_and_read_again(run: Run) -> None:
    loose = "wire S4 loose at 1 on the turn switch"
    status, out, err = run(f"0.1\nopen\n{loose}\n0.1\n12.3\n12.2\n")
    assert status == 0, err
    assert "FOUND: the turquoise/green wire (S4) is off 1 on the turn switch" in " ".join(err.split())
    assert err.index("FOUND: ") < err.index("read again what was not good") < err.index("first power")
    assert "4 of 4 readings are good" in out


def test_who_finds_it_before_the_hunt_does_says_mended_and_reads_again(run: Run) -> None:
    status, _, err = run("0.1\nopen\nmended\n0.1\n12.3\n12.2\n")
    assert status == 0, err


def test_a_hunt_that_was_left_goes_on_with_what_was_said_in_it(run: Run) -> None:
    run("0.1\nopen\nwire S3 on 2 on the turn switch\n")
    _, out, err = run("", "--log", f"{JOB}-meter.yaml")
    assert "3. the turquoise/red wire (S3) is on 2" in " ".join(out.split())
    assert "Now to find it" in err
    _, out, _ = run("", "--report", "--json")
    assert len(json.loads(out)["hunt"]["seen"]) == 3


def test_a_reading_of_ohms_is_handed_over_as_one_with_the_fuses_out(run: Run) -> None:
    run("0.1\nopen\n")
    assert "lamp with fuses out" in Path(f"{JOB}-meter-hunt.yaml").read_text()


def test_end_of_input_keeps_the_log_and_it_goes_on_from_there(run: Run) -> None:
    status, out, _ = run("0.1\n")
    assert status == 1 and "Not read: 2 to 4" in out
    log = f"{JOB}-meter.yaml"
    status, _, err = run("", "--json")
    assert status == 2 and "go on from it with --log" in err
    status, out, err = run("0.1\n12.3\n12.3\n", "--log", log)
    assert status == 0 and "3 of 4 tests to take" in err


def test_back_asks_the_test_before_again(run: Run) -> None:
    _, out, _ = run("5\nback\n0.1\n0.1\n12.3\n12.3\n", "--json")
    assert [taken["verdict"] for taken in json.loads(out)["taken"]] == ["good"] * 4


def test_what_cannot_be_is_said_and_asked_again(run: Run) -> None:
    status, _, err = run("12 V\n-3\nbanana\n0.1\n0.1\n99\n3 ohm\n12.3\n12.3\n")
    assert status == 0
    for said in ("is in volts", "never negative", "is no reading", "cannot be on a vehicle of 12 V"):
        assert said in err


def test_who_has_the_leads_the_wrong_way_round_is_told_and_reads_again(run: Run) -> None:
    status, _, err = run("0.1\n0.1\n-12.3\nback\n12.3\n12.2\n")
    assert status == 0 and "the leads may be changed over" in err


def test_an_interruption_keeps_what_was_typed(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = iter(["0.1"])

    def interrupted() -> str:
        try:
            return next(answers)
        except StopIteration:
            raise KeyboardInterrupt from None

    monkeypatch.setattr("builtins.input", interrupted)
    assert main(["meter", JOB]) == 130
    assert '"0.1"' in Path(f"{JOB}-meter.yaml").read_text()


def test_a_log_of_another_job_is_refused_with_its_place(run: Run) -> None:
    Path("other.yaml").write_text("readings:\n  ohms nowhere earth dead: '3'\n")
    status, _, err = run("", "--log", "other.yaml")
    assert status == 2 and "other.yaml:2:" in err and "has no test" in err


def test_a_report_asks_nothing(run: Run) -> None:
    run("0.1\n9\nstop\n")
    status, out, err = run("", "--log", f"{JOB}-meter.yaml", "--report")
    assert status == 1 and "1 reading is not good" in out and "tests to take" not in err


def test_a_report_finds_the_log_of_the_sitting_by_itself(run: Run) -> None:
    run("0.1\n9\nstop\n")
    status, out, err = run("", "--report")
    assert status == 1 and "1 reading is not good" in out, err


def test_it_says_at_the_start_where_it_keeps_readings_and_quit_ends_it(run: Run) -> None:
    _, out, err = run("0.1\nquit\n", "--log", "my log.yaml")
    assert err.index("Kept in my log.yaml") < err.index("[1 of 4]")
    assert "is no reading" not in err and "go on with --log 'my log.yaml'" in err
    assert "--log 'my log.yaml'" in " ".join(out.split())


def test_where_nothing_was_read_nothing_is_kept(run: Run) -> None:
    _, _, err = run("")
    assert "nothing is kept" in err and not Path(f"{JOB}-meter.yaml").exists()


def test_who_names_no_job_is_told_that_it_is_the_demonstration(
    run: Run, monkeypatch: pytest.MonkeyPatch, capsys
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    assert main(["meter"]) == 1
    assert "the built-in demonstration, an invented vehicle" in capsys.readouterr().err


def test_the_command_that_goes_on_works_with_blanks_in_names(run: Run) -> None:
    Path("parts here/parts").mkdir(parents=True)
    _, out, _ = run("0.1\n0.1\n0\n0\n", "--log", "my log.yaml", "--catalog", "parts here")
    command = f"loomwright meter {JOB} --catalog 'parts here' --log 'my log.yaml'"
    assert command in " ".join(out.split())
    assert main([*shlex.split(command)[1:], "--report"]) == 1


def test_good_readings_prove_it_as_built(run: Run) -> None:
    status, out, _ = run("0.1\n12.7\n12.3\n", "--as-built")
    assert status == 0 and "PROVED AS BUILT: 3 readings" in out
    status, out, _ = run("open\nstop\n", "--as-built", "--log", "other.yaml")
    assert status == 1 and "NOT AS BUILT" in out
