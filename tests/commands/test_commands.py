"""The command line from outside and inside: statuses, streams, JSON, and what is not imported for help."""

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from importlib.metadata import version
from pathlib import Path
from types import SimpleNamespace

import pytest

import planner
from planner import commands
from planner.commands import FINE, INTERRUPTED, NOBODY_READS, NOT_USABLE, OUR_BUG, VERBS, WORK, main
from planner.commands.work import plan as plan_work
from planner.model.plan import Plan
from planner.problems import TooLargeError
from planner.reading.catalogue import installed_directories

SMALL_JOB = "trailer-socket-13"
HEAVY = (
    "dataclasses",
    "inspect",
    "typing",
    "traceback",
    "shutil",
    "planner.problems",
    "pydantic",
    "yaml",
    "rich",
    "numpy",
    "json",
    "importlib.metadata",
    "planner.model",
    "planner.reading",
)


def run(
    *argv: str, code: str = "from planner.commands import run; run()", **env: str
) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, with nothing about the terminal left to chance."""
    kept = {k: v for k, v in os.environ.items() if k not in ("FORCE_COLOR", "NO_COLOR", "COLUMNS")}
    return subprocess.run(
        [sys.executable, "-c", code, *argv],
        capture_output=True,
        text=True,
        encoding=env.get("PYTHONIOENCODING", "utf-8"),  # read as it was told to write
        check=False,
        env={**kept, **env},
    )


def imported(*argv: str) -> set[str]:
    """The modules that are loaded when the command ends."""
    code = (
        "import sys; from planner.commands import main; main(sys.argv[1:]); "
        "print('\\n' + ' '.join(sys.modules))"
    )
    return set(run(*argv, code=code).stdout.splitlines()[-1].split())


@pytest.fixture
def planned(monkeypatch: pytest.MonkeyPatch, hand_made_plan: Plan) -> list[str | None]:
    """Let ``plan`` give the plan made by hand, and list the jobs it was asked for."""
    asked: list[str | None] = []

    def plan_job(job: str | None, catalogue: object, **options: object) -> SimpleNamespace:
        asked.append(job)
        return SimpleNamespace(plan=hand_made_plan)

    monkeypatch.setattr(plan_work, "plan_job", plan_job)
    monkeypatch.setattr(plan_work, "open_catalogue", lambda extra: None)
    return asked


def raising(error: BaseException, monkeypatch: pytest.MonkeyPatch) -> None:
    def plan_job(job: str | None, catalogue: object, **options: object) -> Plan:
        raise error

    monkeypatch.setattr(plan_work, "plan_job", plan_job)
    monkeypatch.setattr(plan_work, "open_catalogue", lambda extra: None)


# -- help and usage ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("argv", [["--help"], *([v.__name__.rpartition(".")[2], "--help"] for v in VERBS)])
def test_help_imports_nothing_heavy(argv: Sequence[str]) -> None:
    modules = imported(*argv)
    assert "planner.commands" in modules
    assert [name for name in HEAVY if name in modules] == []


def test_help_is_readable_at_80_columns_and_explains_the_statuses() -> None:
    for argv in (["--help"], *([v.__name__.rpartition(".")[2], "--help"] for v in VERBS)):
        done = run(*argv, COLUMNS="80")
        assert done.returncode == FINE
        assert max(len(line) for line in done.stdout.splitlines()) <= 80
        assert "exit status:" in done.stdout


@pytest.mark.parametrize("verb", ["meter", "trace"])
def test_help_says_what_the_statuses_mean_for_that_verb(verb: str) -> None:
    said = run(verb, "--help").stdout.partition("exit status:")[2]
    assert "lost" not in said and "planned" not in said  # these two plan nothing
    assert ("reading is not good" if verb == "meter" else "not found yet") in said
    assert "130" in said  # so do they end where a person stops


def test_every_verb_has_its_work() -> None:
    for verb in VERBS:
        name = verb.__name__.rpartition(".")[2]
        work = __import__(f"{WORK}.{name}", fromlist=["run"])
        assert callable(work.run)


def test_the_version_is_that_of_the_distribution(capsys: pytest.CaptureFixture[str]) -> None:
    assert planner.__version__ == version("loomwright")
    assert main(["--version"]) == FINE
    assert capsys.readouterr().out == f"loomwright {planner.__version__}\n"


@pytest.mark.parametrize(
    "argv", [[], ["plam"], ["plan", "--nothing"], ["plan", "--js"], ["check", "--schema", "wire"]]
)
def test_wrong_usage_is_said_on_standard_error(
    argv: Sequence[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(argv) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("usage: loomwright")


# -- plan --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("verdict", "status"), [("no-loss", 0), ("losses", 1), ("measure", 1), ("unsettled", 1), ("unsafe", 1)]
)
def test_only_a_plan_without_loss_ends_with_0(
    verdict: str,
    status: int,
    monkeypatch: pytest.MonkeyPatch,
    hand_made_plan: Plan,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(plan_work, "open_catalogue", lambda extra: None)
    done = SimpleNamespace(plan=replace(hand_made_plan, verdict=verdict))
    monkeypatch.setattr(plan_work, "plan_job", lambda job, catalogue, **options: done)
    assert main(["plan"]) == status
    assert capsys.readouterr().err == ""


def test_without_a_job_the_demonstration_is_asked_for(planned: list[str | None]) -> None:
    main(["plan"])
    main(["plan", "two-speed-wipers"])
    assert planned == [None, "two-speed-wipers"]


def test_json_is_the_plan_as_one_document_and_nothing_else(
    planned: list[str | None], hand_made_plan: Plan, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["plan", "--json"])
    out, err = capsys.readouterr()
    assert json.loads(out) == json.loads(json.dumps(hand_made_plan.as_json()))
    assert out.isascii() and err == ""


@pytest.mark.parametrize(
    ("said", "percent"), [([], 100.0), (["--charge", "0"], 0.0), (["--charge=62.5"], 62.5)]
)
def test_the_charge_is_handed_on_and_full_if_not_said(
    said: Sequence[str], percent: float, monkeypatch: pytest.MonkeyPatch, hand_made_plan: Plan
) -> None:
    asked = []

    def plan_job(
        job: str | None, catalogue: object, *, charge_percent: float, kit: object
    ) -> SimpleNamespace:
        asked.append(charge_percent)
        return SimpleNamespace(plan=hand_made_plan)

    monkeypatch.setattr(plan_work, "plan_job", plan_job)
    monkeypatch.setattr(plan_work, "open_catalogue", lambda extra: None)
    main(["plan", *said])
    assert asked == [percent]


@pytest.mark.parametrize("said", ["-1", "100.1", "nan", "inf", "full", "", "50 %"])
def test_a_charge_that_is_none_is_refused_with_what_is_expected(
    said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", f"--charge={said}"]) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == ""
    assert f"argument --charge: expected a number of percent from 0 to 100, got {said!r}" in err


def test_a_flat_battery_leaves_a_shipped_job_less_volts(capsys: pytest.CaptureFixture[str]) -> None:
    """At the battery 11.7 in place of 12.7 V; a lamp takes less then, and less is lost on the way."""
    least = {}
    for percent in ("100", "0"):
        main(["plan", "lamp-on-a-sound-earth", f"--charge={percent}", "--json"])
        found = json.loads(capsys.readouterr().out)["currents"]
        assert found["charge_percent"] == float(percent) and found["wire_celsius"] == 20.0
        least[percent] = {line["what"]: line["least_volts"] for line in found["loads"]}
    assert set(least["0"]) == {"sorting light", "spot lamp"}
    for what, volts in least["100"].items():
        assert 0.9 < volts - least["0"][what] < 1.0


def test_reasons_lengthen_the_work_list(
    planned: list[str | None], capsys: pytest.CaptureFixture[str]
) -> None:
    main(["plan"])
    short = capsys.readouterr().out.split("\nWork list\n")[1]
    main(["plan", "--reasons"])
    full = capsys.readouterr().out.split("\nWork list\n")[1]
    assert "fact: " not in short
    assert set(short.splitlines()) < set(full.splitlines())
    assert "     fact: 53 on the pump switch, dash has the same role" in full


def test_a_job_is_planned_in_a_process_of_its_own_the_same_each_time() -> None:
    first, second = run("plan", SMALL_JOB), run("plan", SMALL_JOB)
    assert (first.returncode, first.stderr) == (1, "")
    assert first.stdout == second.stdout
    assert first.stdout.startswith("Trailer socket, ")
    assert "\x1b" not in first.stdout


def test_a_job_can_be_a_path_and_need_a_catalogue_of_its_own(tmp_path: Path) -> None:
    (shipped,) = installed_directories()
    (job,) = shipped.glob("jobs/*trailer-socket-13.yaml")
    text = job.read_text(encoding="utf-8")
    own = tmp_path / "own" / "jobs" / "mine.yaml"
    own.parent.mkdir(parents=True)
    own.write_text(text.replace("job: trailer-socket-13", "job: mine"), encoding="utf-8")
    by_path = run("plan", str(own), "--json")
    by_name = run("plan", "mine", "--catalog", str(tmp_path / "own"), "--json")
    assert json.loads(by_path.stdout)["job"] == json.loads(by_name.stdout)["job"] == "mine"
    assert run("plan", "mine").returncode == NOT_USABLE


def test_a_job_nobody_knows_is_said_with_its_nearest_names() -> None:
    done = run("plan", "two-speed-wiper")
    assert done.returncode == NOT_USABLE
    assert done.stdout == ""
    assert done.stderr.splitlines()[0] == "two-speed-wiper: there is no file and no job of that name"
    assert "two-speed-wipers" in done.stderr.splitlines()[1]


def test_a_bad_file_is_said_with_line_and_column_and_nothing_is_printed(tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("job: bad\nloom: skarrow-8\nswap: []\n", encoding="utf-8")
    for argv in (["plan", str(bad)], ["plan", str(bad), "--json"], ["check", str(bad)]):
        done = run(*argv)
        assert done.returncode == NOT_USABLE
        assert done.stdout == ""
        assert "bad.yaml:3:1: " in " ".join(done.stderr.split())
        assert "Traceback" not in done.stderr


# -- what goes wrong ---------------------------------------------------------------------------------------


def test_a_circuit_too_large_to_prove_is_input_that_cannot_be_used(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    raising(TooLargeError(["bench.switch/pump"], 10**9), monkeypatch)
    assert main(["plan"]) == NOT_USABLE
    assert "bench.switch/pump" in capsys.readouterr().err


def test_our_own_fault_keeps_its_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    raising(KeyError("lost"), monkeypatch)
    assert main(["plan"]) == OUR_BUG
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("loomwright: this is a fault of the program")
    assert "Traceback" in err and "KeyError: 'lost'" in err


def test_an_interruption_is_quiet(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    raising(KeyboardInterrupt(), monkeypatch)
    assert main(["plan"]) == INTERRUPTED
    assert capsys.readouterr() == ("", "")


def test_the_way_out_keeps_the_status_and_all_that_was_said(tmp_path: Path) -> None:
    said = tmp_path / "said"
    code = (
        "import sys; from types import SimpleNamespace; from planner import commands\n"
        "def run(args): print('out', end=''); print('err', end='', file=sys.stderr); return 1\n"
        "commands.import_module = lambda name: SimpleNamespace(run=run)\n"
        "commands.run()"
    )
    with said.open("w", encoding="utf-8") as file:
        done = subprocess.run([sys.executable, "-c", code, "plan"], stdout=file, stderr=file, check=False)
    assert (done.returncode, sorted(said.read_text(encoding="utf-8"))) == (1, sorted("outerr"))


@pytest.mark.parametrize("argv", [["plan", SMALL_JOB], ["plan", SMALL_JOB, "--json"], ["parts"]])
def test_a_reader_that_goes_away_is_no_fault(argv: Sequence[str]) -> None:
    read, write = os.pipe()
    os.close(read)
    done = subprocess.run(
        [sys.executable, "-c", "from planner.commands import run; run()", *argv],
        stdout=write,
        stderr=subprocess.PIPE,
        text=True,
        check=False,
    )
    os.close(write)
    assert (done.returncode, done.stderr) == (NOBODY_READS, "")


def test_a_result_that_cannot_be_written_is_said_in_one_line() -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(
            [sys.executable, "-c", "from planner.commands import run; run()", "rule"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == NOT_USABLE
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.parametrize(
    ("error", "status", "said"),
    [
        (BrokenPipeError(32, "Broken pipe"), NOBODY_READS, ""),
        (
            OSError(28, "No space left on device"),
            NOT_USABLE,
            "loomwright: [Errno 28] No space left on device\n",
        ),
    ],
)
def test_what_cannot_be_written_is_let_go(
    error: OSError,
    status: int,
    said: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    let_go: list[bool] = []
    monkeypatch.setattr(commands, "_leave_standard_output", lambda: let_go.append(True))
    raising(error, monkeypatch)
    assert main(["plan"]) == status
    assert let_go == [True]
    assert capsys.readouterr() == ("", said)


def test_no_standard_output_at_all_is_said(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    status = main(["rule"])
    monkeypatch.undo()
    assert status == NOT_USABLE


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
def test_a_narrow_character_set_takes_every_verb(encoding: str, tmp_path: Path) -> None:
    sign = "\N{OHM SIGN}"
    (tmp_path / "sources.yaml").write_text(f"mine: {{title: 5 {sign}, basis: invented}}\n", encoding="utf-8")
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "p.yaml").write_text(
        f"- {{part: mine, title: A 5 {sign} part, family: mine, source: mine, terminals: {{a: {{}}}}}}\n",
        encoding="utf-8",
    )
    for argv in (["plan", SMALL_JOB], ["check"], ["parts", "mine", "--catalog", str(tmp_path)], ["rule"]):
        done = run(*argv, PYTHONIOENCODING=encoding)
        assert done.stderr == ""
        assert done.stdout != ""
    assert (
        "A 5 ohm part" in run("parts", "mine", "--catalog", str(tmp_path), PYTHONIOENCODING=encoding).stdout
    )


# -- check, parts, rule ------------------------------------------------------------------------------------


def test_check_counts_what_it_read(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check"]) == FINE
    assert "Nothing wrong in the catalogues" in capsys.readouterr().out
    assert main(["check", "--json"]) == FINE
    assert "whole-van" in json.loads(capsys.readouterr().out)["jobs"]


def test_check_tells_which_files_it_read(capsys: pytest.CaptureFixture[str]) -> None:
    (shipped,) = installed_directories()
    files = [str(shipped / "parts" / "relays.yaml"), str(shipped / "jobs" / "15-whole-van.yaml")]
    assert main(["check", *files]) == FINE
    assert "can be used" in capsys.readouterr().out
    assert main(["check", "--json", *files, files[0]]) == FINE
    parts, job = json.loads(capsys.readouterr().out)["checked"]
    assert parts == {"file": files[0], "kind": "parts"}
    assert (job["file"], job["kind"], len(job["swaps"])) == (files[1], "job", 7)


def test_check_explains_a_loom_of_the_catalogue_by_its_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "skarrow-8-trailer"]) == FINE
    out = capsys.readouterr().out
    assert "Wires that end nowhere" in out and "black (T7) is the colour of 31" in out
    assert main(["check", "--json", "skarrow-8-trailer"]) == FINE
    (loom,) = json.loads(capsys.readouterr().out)["checked"]
    assert "swaps" not in loom
    assert {finding["kind"] for finding in loom["explanation"]["findings"]} == {"ends-nowhere", "colour"}


def test_check_says_what_a_job_swaps_before_it_explains_the_loom(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "two-speed-wipers"]) == FINE
    out = capsys.readouterr().out
    assert 0 < out.index("What the job swaps") < out.index("Fed from the battery")


def test_check_names_what_is_like_a_name_that_is_none(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "skarrow-8-trailor"]) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == "" and "no loom or job of that name" in err and "try skarrow-8-trailer" in err
    assert main(["check", "qqq.yaml"]) == NOT_USABLE
    assert "'loomwright check' lists them all" in capsys.readouterr().err


def test_check_collects_what_is_wrong_in_all_files(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("one", "two"):
        (tmp_path / f"{name}.yaml").write_text(f"- {{part: {name}}}\n", encoding="utf-8")
    assert main(["check", str(tmp_path / "one.yaml"), str(tmp_path / "two.yaml")]) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == ""
    assert "one.yaml:1:" in err and "two.yaml:1:" in err


@pytest.mark.parametrize("kind", ["part", "loom", "job"])
def test_a_schema_is_printed_as_json(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--schema", kind]) == FINE
    assert json.loads(capsys.readouterr().out)["title"] == f"{kind} file"


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["--family", "relais"], "there is no family 'relais'; try relay"),
        (["--family", "fuel-gauge"], "there is no family 'fuel-gauge'; 'loomwright parts fuel gauge' finds"),
        (["--family", "periscope"], "there is no family 'periscope'; families: auxiliary-lamp, battery,"),
        (["hood"], "the catalogue has no part called"),
        (["wiper", "dynamo", "lamp"], "each of the words is known"),
        (["--role", "53x"], "there is no role '53x'; try 53"),
        (["--years", "66"], "--years: expected a year or years such as 1965"),
        (["--volts", "7"], "no part answers to '7 V'"),
        (["horn", "--volts", "24", "--family", "relay"], "no part answers to 'horn, family relay, 24 V'"),
        (["relay-changeover-a", "--volts", "6"], "no part answers to 'relay-changeover-a, 6 V'"),
    ],
)
def test_parts_that_cannot_be_are_refused_with_what_could_be(
    argv: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["parts", *argv]) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == "" and said in err


def test_parts_are_narrowed_down_by_options(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "--role", "53c", "--volts", "12", "--years", "1962", "--json"]) == FINE
    found = json.loads(capsys.readouterr().out)["parts"]
    assert [part["part"] for part in found] == ["washer-pump", "washer-button"]
    assert main(["parts", "--family", "relay"]) == FINE
    assert capsys.readouterr().out.startswith("Parts: family relay\n")


@pytest.mark.parametrize("said", ["wiper switch", "Wiper switches", "wiper-switch"])
def test_a_family_may_be_said_as_people_do(said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "--family", said]) == FINE
    assert capsys.readouterr().out.startswith("Parts: family wiper-switch\n")


def test_the_json_of_a_part_has_its_contact_table(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "relay-changeover-a", "--json"]) == FINE
    (part,) = json.loads(capsys.readouterr().out)["parts"]
    rows = [{"at": ["released"], "joined": [["87a", "30"]]}, {"at": ["pulled"], "joined": [["87", "30"]]}]
    assert part["positions"] == [{"variables": ["armature"], "rows": rows}]


def test_a_part_is_shown_whole_by_its_id(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "relay-changeover-a"]) == FINE
    out = capsys.readouterr().out
    assert "What is joined in which position" in out
    assert "│ released │ ·    ●────●  │" in out


def test_a_part_is_shown_whole_when_it_alone_answers(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "changeover", "layout", "b"]) == FINE
    assert capsys.readouterr().out.startswith("Changeover relay, layout B\n")


def test_several_parts_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "changeover"]) == FINE
    out = capsys.readouterr().out
    assert "relay-changeover-a" in out and "relay-changeover-b" in out


def test_all_parts_are_listed_without_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts"]) == FINE
    assert capsys.readouterr().out.startswith("All parts\n")


def test_a_kind_of_element_shows_its_fields(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "coil"]) == FINE
    assert "pulls_in_v" in capsys.readouterr().out


def test_parts_as_json_have_the_form_of_their_file_and_what_roles_mean(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["parts", "relay-changeover-a", "--json"]) == FINE
    (part,) = json.loads(capsys.readouterr().out)["parts"]
    assert part["inside"][0]["coil"]["pulls_in_v"] == 7.2
    assert part["terminals"]["86"]["role"] == "86" and part["terminals"]["86"]["meaning"]
    assert part["publication"]["basis"]
    assert main(["parts", "coil", "--json"]) == FINE
    element = json.loads(capsys.readouterr().out)["element"]
    assert element["kind"] == "coil"
    assert {"field": "pulls_in_v", "required": True, "unit": "V"}.items() <= element["fields"][4].items()


def test_words_that_no_part_answers_to_are_an_error_with_near_words(
    capsys: pytest.CaptureFixture[str],
) -> None:
    said = "no part answers to 'wiperz'; the catalogue has no part called\n    'wiperz'; try wiper\n"
    assert main(["parts", "wiperz"]) == NOT_USABLE
    assert capsys.readouterr() == ("", "loomwright: " + said)
    assert main(["parts", "qqqqqqqq"]) == NOT_USABLE
    assert "lists them all" in capsys.readouterr().err


def test_rules_are_listed_and_one_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rule"]) == FINE
    assert "- lands-on-same-role\n" in capsys.readouterr().out
    assert main(["rule", "lands-on-same-role"]) == FINE
    assert "Why it matters\n--------------\n" in capsys.readouterr().out


def test_rules_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rule", "--json"]) == FINE
    rules = json.loads(capsys.readouterr().out)["rules"]
    assert {"rule", "finding", "source"} == set(rules[0])
    assert main(["rule", "lands-on-same-role", "--json"]) == FINE
    assert "What it looks for" in json.loads(capsys.readouterr().out)["manual"]


def test_a_rule_nobody_knows_is_an_error_with_near_names(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rule", "land-on-same-role"]) == NOT_USABLE
    assert "try lands-on-same-role" in capsys.readouterr().err
    assert main(["rule", "qqqqqqqq"]) == NOT_USABLE
    assert "'loomwright rule' lists them all" in capsys.readouterr().err
