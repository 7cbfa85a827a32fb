"""``loomwright survey`` as a person uses it: listing, the sheet, the table, the sitting, the folder."""

import io
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from filled_survey import COLOUR, METER, as_the_pattern, blank_rows, survey_of
from planned import catalogue

from planner.commands import FINE, INTERRUPTED, NOT_USABLE, main
from planner.model.loom import Loom
from planner.reading.catalogue import read_job
from planner.sheets.build.survey_table import HEADINGS
from planner.sheets.render.spreadsheet import write_table

JOB = "two-speed-wipers"
# Colours on the switch in plain words, and what a meter says of each; then the motor, its bracket last.
SITTING = """\
12 V
negative
green
12 V with ignition
black with red tracer
beeps to motor P
brown or white, faded
beeps to motor M
yellow/black
0 ohms to body when parked
white
12 V with the wiper switch on
black/red
12 V with ignition
YE/BK
beeps to wiper switch S
0 ohms to body
"""


@pytest.fixture(autouse=True)
def _in_an_empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.chdir(tmp_path)
    yield


def typed(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(text))


def own_loom(folder: str = JOB) -> Loom:
    return read_job(Path(folder) / "job.yaml", catalogue())[1]


def filled(name: str, job: str = JOB, **cells: tuple[str, str]) -> None:
    """A table filled in as the pattern has it; ``cells`` gives colour and reading of ``place_mark`` lines."""
    survey = survey_of(job)
    vehicle, rows = blank_rows(survey)
    for row, line in zip(rows, survey.asked, strict=True):
        usual = as_the_pattern(survey, line)
        key = f"{line.place.rpartition('.')[2].replace('-', '_')}_{line.mark}"
        row[COLOUR], row[METER] = cells.get(f"{key}_{line.number}", cells.get(key, usual))
    write_table(Path(name), HEADINGS, [*vehicle, *rows])


def test_alone_it_lists_every_swap_in_plain_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey"]) == FINE
    said = capsys.readouterr().out
    assert "two-speed-wipers" in said and "Two-speed wipers, switch and motor" in said
    assert main(["survey", "--json"]) == FINE
    swaps = json.loads(capsys.readouterr().out)["swaps"]
    assert {swap["name"] for swap in swaps} == set(catalogue().job_files)


@pytest.mark.parametrize(
    "words", [["two-speed wipers"], ["Two", "speed", "WIPERS"], [JOB], ["wipers", "two", "speed"]]
)
def test_a_swap_is_chosen_by_its_plain_words(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey", *words]) == FINE
    assert "Survey: Two-speed wipers, switch and motor" in capsys.readouterr().out


def test_american_words_are_known(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey", "electronic flasher and LED rear turn signals"]) in (FINE, NOT_USABLE)
    capsys.readouterr()
    assert main(["survey", "reproduction", "dome", "light"]) == FINE
    assert "Part: interior lamp" in capsys.readouterr().out


def test_words_that_several_swaps_answer_to_are_asked_back_with_their_names(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["survey", "fuse box"]) == NOT_USABLE
    said = capsys.readouterr().err
    assert "fuse-box-mirrored: Fuse box" in said and "fuse-box-without-tap" in said


@pytest.mark.parametrize("word", ["wippers", "carburettor"])
def test_words_that_no_swap_answers_to_are_said(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey", word]) == NOT_USABLE
    said = capsys.readouterr().err
    assert f"no swap answers to '{word}'" in said
    assert ("wiper" in said) is (word == "wippers")


def test_the_sheet_says_cautions_first_then_parts_terminals_and_photographs(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["survey", JOB]) == FINE
    said = capsys.readouterr().out
    order = ["Earthed pole of the battery off first", "How to measure", "Part: wiper switch, dash",
             "│  B  │  M  │  S  │",
             "seen from the wiring side", "B (1 of 2)", "12 V with ignition", "Part: wiper motor", "mounting",
             "Photographs and tags", "What this does not look at", "--ask"]  # fmt: skip
    at = [said.index(text) for text in order]
    assert at == sorted(at)
    assert max(len(line) for line in said.splitlines()) <= 80


def test_the_sheet_prints_where_box_characters_are_not_known(monkeypatch: pytest.MonkeyPatch) -> None:
    out = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    monkeypatch.setattr("sys.stdout", out)
    assert main(["survey", JOB]) == FINE
    out.flush()
    said = out.buffer.getvalue().decode("ascii")  # type: ignore[attr-defined]
    assert "|  B  |  M  |  S  |" in said and "?" not in said.replace("?:", "")


def test_its_lines_are_a_json_document(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey", JOB, "--json"]) == FINE
    document = json.loads(capsys.readouterr().out)
    assert [line["at"] for line in document["lines"]][:3] == ["dash.wiper-switch:B", "dash.wiper-switch:B",
                                                               "dash.wiper-switch:M"]  # fmt: skip
    assert document["parts"][0]["new"] == "wiper-switch-two-speed" and len(document["cautions"]) >= 12


@pytest.mark.parametrize("name", ["mine.csv", "mine.xlsx"])
def test_a_table_is_written_filled_in_read_and_planned(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey", JOB, "--write", name]) == FINE
    assert capsys.readouterr().out == "" and Path(name).is_file()
    assert main(["survey", JOB, "--write", name]) == NOT_USABLE  # never over another one
    Path(name).unlink()
    filled(name)
    assert main(["survey", JOB, "--read", name]) == FINE
    said = capsys.readouterr().out
    assert "Verdict: NO LOSS" in said
    assert "plan again with: loomwright plan two-speed-wipers/job.yaml" in " ".join(said.split())
    assert main(["plan", "two-speed-wipers/job.yaml"]) == FINE
    again = capsys.readouterr().out
    assert again.splitlines()[:-2] == said[said.index("\nTwo-speed wipers") :].strip("\n").splitlines()[:-2]


def test_a_whole_sitting_ends_in_a_plan(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(monkeypatch, SITTING)
    assert main(["survey", JOB, "--ask"]) == FINE
    said = capsys.readouterr().out
    assert "Verdict: NO LOSS" in said
    assert "green (W33)" in said and "black/red (W34)" in said
    wires = {wire.wire: wire for wire in own_loom().wires}
    assert (wires["W33"].colour, wires["W33"].known) == (("GN",), "measured")
    assert wires["W14"].known == "assumed"  # nobody was asked about what feeds the fuse box
    assert "brown or white, faded" in (wires["W36a"].note or "")


def test_a_question_mark_explains_and_back_goes_back(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(
        monkeypatch,
        "12\nminus\n?\ngreen\n?\n12 V with ignition\nred\nback\nback\ngreen\n12 V with ignition\n"
        "blue\n\nplan\n",
    )
    assert main(["survey", JOB, "--ask"]) == 1
    both = capsys.readouterr()
    said = " ".join(both.err.split())
    assert "range 20 V DC" in said and "ignition off, then on" in said
    assert both.err.count("[2 of 8]") == 2 and both.err.count("[1 of 8]") == 2
    assert own_loom().find("W34").colour == ("BU",)


def test_a_colour_that_may_be_two_is_asked_again(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(monkeypatch, "12 V\nnegative\nGR\nGY\n12 V\n\n12 V with ignition\nplan\n")
    main(["survey", JOB, "--ask"])
    said = capsys.readouterr().err
    assert "'GR' may be green/red or grey" in said and "does not say when" in said
    assert own_loom().find("W33").colour == ("GY",)


@pytest.mark.parametrize("ending", ["stop\n", ""])
def test_a_sitting_that_is_interrupted_goes_on_where_it_was(
    ending: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = SITTING.splitlines(keepends=True)
    typed(monkeypatch, "".join(lines[:8]) + ending)
    assert main(["survey", JOB, "--ask"]) == INTERRUPTED
    both = capsys.readouterr()
    assert "two-speed-wipers-survey.csv" in both.err and both.out == ""
    assert not Path(JOB).exists()
    assert main(["survey", JOB, "--ask"]) == NOT_USABLE  # it is there already
    assert "--ask --read two-speed-wipers-survey.csv" in capsys.readouterr().err
    typed(monkeypatch, "".join(lines[8:]))
    assert main(["survey", JOB, "--ask", "--read", "two-speed-wipers-survey.csv"]) == FINE
    assert own_loom().find("W33").known == "measured"


def test_every_answer_is_in_the_table_before_the_next_is_asked(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    class Cut(io.StringIO):
        def readline(self, size: int | None = -1) -> str:  # type: ignore[override]
            line = super().readline()
            if line == "yellow/black\n":
                raise KeyboardInterrupt
            return line

    monkeypatch.setattr("sys.stdin", Cut(SITTING))
    assert main(["survey", JOB, "--ask", "--write", "kept.xlsx"]) == INTERRUPTED
    capsys.readouterr()
    assert main(["survey", JOB, "--read", "kept.xlsx", "--json"]) == 1
    lines = json.loads(capsys.readouterr().out)["survey"]["lines"]
    assert [line["known"] for line in lines[:4]] == ["measured", "measured", "measured", "assumed"]


def test_blanks_are_measured_first_and_the_plan_says_what(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey", JOB, "--write", "blank.csv"]) == FINE
    assert main(["survey", JOB, "--read", "blank.csv", "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert document["verdict"] == "measure" and document["survey"]["open"] == 8
    assert any("wiper switch" in question["where"] for question in document["questions"])


def test_colours_alone_are_seen_and_still_measured_first(capsys: pytest.CaptureFixture[str]) -> None:
    survey = survey_of(JOB)
    colours = {
        f"{line.place.rpartition('.')[2].replace('-', '_')}_{line.mark}": (
            as_the_pattern(survey, line)[0],
            "",
        )
        for line in survey.asked
    }
    filled("colours.csv", **colours)
    assert main(["survey", JOB, "--read", "colours.csv", "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert document["verdict"] == "measure"
    assert {line["known"] for line in document["survey"]["lines"]} == {"seen", "assumed"}


def test_a_reading_against_the_pattern_wins_and_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    filled("mine.csv", wiper_motor_P=("blue", "12 V always"))
    main(["survey", JOB, "--read", "mine.csv", "--json"])
    document = json.loads(capsys.readouterr().out)
    (said, *_) = document["survey"]["overruled"]
    assert "P on the wiper motor" in said and "12 V with ignition" in said and "12 V always" in said
    loom = own_loom()
    wire = loom.find("W34")
    assert wire.ends[0].at == "scuttle.wiper-motor:P"
    assert loom.feeds[wire.ends[1].at].when == {} and wire.known == "measured"


def test_an_earth_that_is_live_is_not_taken_for_an_earth(capsys: pytest.CaptureFixture[str]) -> None:
    job = "interior-lamp-without-earth"
    filled("mine.csv", job, interior_lamp_E=("black", "12 V always"))
    main(["survey", job, "--read", "mine.csv", "--json"])
    document = json.loads(capsys.readouterr().out)
    assert any("0 ohms to body" in said and "12 V always" in said for said in document["survey"]["overruled"])
    wire = own_loom(job).find("W27")
    assert own_loom(job).feeds[wire.ends[1].at].role == "30"


def test_a_wire_that_is_not_there_and_one_that_is_too_many_are_taken_as_found(
    capsys: pytest.CaptureFixture[str],
) -> None:
    filled("mine.csv", wiper_switch_B_2=("none", ""), wiper_motor_P=("none", ""))
    with Path("mine.csv").open("a", encoding="utf-8") as table:
        table.write('"wiper switch, dash",M,2,pink,12 V with lights,,1.5 mm2,added by someone\r\n')
    assert main(["survey", JOB, "--read", "mine.csv", "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert len(document["survey"]["overruled"]) == 3
    loom = own_loom()
    assert "W34" not in loom.wire_index
    more = loom.find("X1")
    assert (more.colour, more.note, more.known) == (("PK",), "added by someone", "measured")
    assert loom.feeds[more.ends[1].at].role == "58"


def test_the_same_folder_is_read_into_again_until_something_in_it_is_changed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    filled("mine.csv")
    assert main(["survey", JOB, "--read", "mine.csv"]) == FINE
    (Path(JOB) / "notes.txt").write_text("mine", encoding="utf-8")
    Path("mine.csv").unlink()
    filled("mine.csv", wiper_motor_P=("blue", "12 V with ignition"))
    assert main(["survey", JOB, "--read", "mine.csv"]) == FINE
    assert "BU" in {colour for wire in own_loom().wires for colour in wire.colour}
    assert (Path(JOB) / "notes.txt").read_text(encoding="utf-8") == "mine"
    capsys.readouterr()
    loom = Path(JOB) / "loom.yaml"
    text = loom.read_text(encoding="utf-8") + "# checked at the vehicle\n"
    loom.write_text(text, encoding="utf-8")
    assert main(["survey", JOB, "--read", "mine.csv"]) == NOT_USABLE
    assert "loom.yaml was changed" in capsys.readouterr().err
    assert loom.read_text(encoding="utf-8") == text
    assert main(["survey", JOB, "--read", "mine.csv", "--into", "another"]) == FINE


def test_the_supply_that_was_typed_is_that_of_loom_and_plan(capsys: pytest.CaptureFixture[str]) -> None:
    filled("mine.csv")
    text = Path("mine.csv").read_text(encoding="utf-8")
    Path("mine.csv").write_text(text.replace(",negative,", ",plus,"), encoding="utf-8")
    main(["survey", JOB, "--read", "mine.csv", "--json"])
    document = json.loads(capsys.readouterr().out)
    assert document["survey"]["supply"] == {"volts": 12, "earthed": "positive", "is_said": True}
    assert own_loom().supply.words == "12 V, positive earth"
    Path("mine.csv").write_text(text.replace(",12 V,,", ",13 V,,", 1), encoding="utf-8")
    assert main(["survey", JOB, "--read", "mine.csv"]) == NOT_USABLE
    assert "mine.csv:2:" in capsys.readouterr().err


def test_a_supply_that_nobody_has_said_is_measured_first(capsys: pytest.CaptureFixture[str]) -> None:
    filled("mine.csv")
    text = Path("mine.csv").read_text(encoding="utf-8").replace(",negative,", ",,")
    Path("mine.csv").write_text(text, encoding="utf-8")
    assert main(["survey", JOB, "--read", "mine.csv", "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert document["verdict"] == "measure" and "negative earth" in document["questions"][0]["about"]


def test_what_amps_rest_on_and_nobody_read_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    filled("mine.csv")
    assert main(["survey", JOB, "--read", "mine.csv"]) == FINE
    said = " ".join(capsys.readouterr().out.split())
    assert "Assumed, since nobody has read it in this vehicle: the size in mm2" in said
    assert any("fuse" in text for text in own_loom().assumed)


def test_readings_that_a_wrong_clip_explains_never_end_in_no_loss(
    capsys: pytest.CaptureFixture[str],
) -> None:
    job = "interior-lamp-without-earth"
    filled("mine.csv", job, interior_lamp_B=("red", "nothing"), interior_lamp_E=("black", "12 V always"))
    assert main(["survey", job, "--read", "mine.csv", "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert document["verdict"] in ("measure", "unsafe", "unsettled")
    assert "clipped to the live pole" in document["questions"][0]["about"]


def test_a_doubt_is_asked_in_the_sitting_and_the_second_reading_counts(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    job = "interior-lamp-without-earth"
    reversed_ = "12\nnegative\nred\nnothing\nwhite\n\nblack\n12 V always\n"
    typed(monkeypatch, reversed_ + "12 V always\n0 ohms to body\n")
    main(["survey", job, "--ask", "--json"])
    both = capsys.readouterr()
    assert "clipped to the live pole" in both.err and "The others once more" in both.err
    document = json.loads(both.out)
    assert document["survey"]["doubts"] == [] and document["survey"]["overruled"] == []
    typed(monkeypatch, reversed_ + "nothing\n")
    main(["survey", job, "--ask", "--json", "--into", "again", "--write", "again.csv"])
    document = json.loads(capsys.readouterr().out)
    assert document["survey"]["doubts"] == [] and len(document["survey"]["overruled"]) == 2
    assert "nothing, read again" in Path("again.csv").read_text(encoding="utf-8")


def test_what_is_missing_of_an_answer_is_asked_for(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(monkeypatch, "12\nnegative\ngreen\n11.8\nwith ignition\nplan\n")
    main(["survey", JOB, "--ask"])
    assert "does not say when" in capsys.readouterr().err
    assert own_loom().find("W33").known == "measured"
    typed(monkeypatch, "12\nnegative\n\n11,8 V\nignition on\n\n\n\n\n\n4k7\nplan\n")
    main(["survey", JOB, "--ask", "--write", "two.csv", "--into", "two"])
    assert "4k7" in Path("two.csv").read_text(encoding="utf-8")


def test_a_folder_with_something_in_it_is_refused_before_anything_is_asked(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    Path(JOB).mkdir()
    (Path(JOB) / "keep.txt").write_text("mine", encoding="utf-8")
    typed(monkeypatch, SITTING)
    assert main(["survey", JOB, "--ask"]) == NOT_USABLE
    assert "--into DIR" in capsys.readouterr().err and list(Path(JOB).iterdir()) == [Path(JOB) / "keep.txt"]
    assert not Path("two-speed-wipers-survey.csv").exists()
    filled("mine.csv")
    assert main(["survey", JOB, "--read", "mine.csv", "--into", "other"]) == FINE
    assert sorted(path.name for path in Path("other").iterdir()) == ["job.yaml", "loom.yaml", "schemas"]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--into", "x"], "--into is for a plan"),
        (["--read", "missing.csv"], "cannot be read"),
        (["--read", "a.csv", "--write", "b.csv"], "--read and --write together"),
        (["--write", "a.ods"], "must end in .csv or .xlsx"),
        (["--ask", "--write", "a.pdf"], "must end in .csv or .xlsx"),
        (["--ask", "--into", "nowhere/at/all"], "there is no folder"),
    ],
)
def test_options_that_cannot_be_meant_are_said(
    options: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["survey", JOB, *options]) == NOT_USABLE
    assert said in capsys.readouterr().err
    assert not Path(JOB).exists()


def test_a_job_file_of_ones_own_is_surveyed_too(capsys: pytest.CaptureFixture[str]) -> None:
    Path("my.yaml").write_text(
        "job: mine\nloom: skarrow-8-turn-signals\nswaps: [{at: dash.flasher, fit: flasher-electronic}]\n",
        encoding="utf-8",
    )
    assert main(["survey", "my.yaml"]) == FINE
    assert "Survey: mine" in capsys.readouterr().out


def test_what_is_typed_never_becomes_a_formula(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    filled("mine.csv")
    with Path("mine.csv").open("a", encoding="utf-8") as table:
        table.write('"wiper switch, dash",M,2,pink,12 V always,,,"=1+1"\r\n')
    main(["survey", JOB, "--read", "mine.csv"])
    assert own_loom().find("X1").note == "=1+1"
    typed(monkeypatch, "plan\n")
    assert main(["survey", JOB, "--ask", "--read", "mine.csv", "--into", "again"]) in (0, 1)
    assert "'=1+1" in Path("mine.csv").read_text(encoding="utf-8-sig")
    assert own_loom("again").find("X1").note == "=1+1"


def test_wires_further_on_that_nobody_was_asked_about_are_known_to_have_the_patterns_colours(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(
        monkeypatch, "12\npositive\ngreen\n6.3 push-on\n12 V with key on\norange\nbeeps to F on turn switch\n"
    )
    assert main(["survey", "three-terminal-flasher", "--ask"]) == FINE
    out, err = (" ".join(text.split()) for text in capsys.readouterr())
    assert "'6.3 push-on' is how the end attaches" in err
    assert "12 V, positive earth, as you said" in out
    assert "Where no colour is known, the plan shows the pattern's: go by mark and tag there." in out


def test_a_bare_figure_in_a_table_is_of_what_its_line_asks_for(capsys: pytest.CaptureFixture[str]) -> None:
    job = "fuel-gauge-and-sender"
    headings = ("part", "terminal", "colour seen", "meter says")
    rows = [
        ("fuel gauge, dash", "I", "light grn", "12 with key"),
        ("fuel gauge, dash", "F", "green, black stripe", "beeps to the sender S"),
        ("tank sender", "S", "green w/ black stripe", "beeps to F on gauge"),
        ("tank sender", "mounting", "", "0,3"),
    ]
    supply = [("vehicle", "supply volts", "", "12"), ("vehicle", "earthed pole", "", "plus")]
    write_table(Path("own.csv"), headings, [*supply, *rows])
    assert main(["survey", job, "--read", "own.csv", "--json"]) == FINE
    lines = json.loads(capsys.readouterr().out)["survey"]["lines"]
    assert [line["known"] for line in lines] == ["measured"] * 4
