"""One file lists all that can be translated; another language's words stand on the sheet in place of ours.

``LOOMWRIGHT_REFRESH=1`` writes the list anew.
"""

import ast
import json
import os
import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

import pytest
from planned import catalogue, planned
from pydantic import BaseModel

from planner.cautions import CAUTIONS
from planner.commands import main
from planner.messages import MESSAGES, later, spoken, tr, tr_count
from planner.model.bench_sheet import BenchSheet
from planner.problems import InputError
from planner.reading.messages_file import read_messages
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.build.bench_tables import bench_tables
from planner.sheets.build.bench_why import why_sheet
from planner.sheets.render.layout import lay_out
from planner.sheets.render.page.page import as_page
from planner.sheets.render.terminal import as_text

ROOT = Path(__file__).parent.parent
TEXTS = {"tr": 1, "later": 1, "tr_count": 2}  # how many of the first arguments are texts


def messages() -> dict[str, str]:
    """Every text that the program gives to a translation, in the order of files and lines."""
    found = dict.fromkeys(CAUTIONS)
    for file in sorted(file for folder in ("planner", "rules") for file in (ROOT / folder).rglob("*.py")):
        found |= dict.fromkeys(_texts(file))
    return {text: text for text in found}


def _texts(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in TEXTS:
            for argument in node.args[: TEXTS[node.func.id]]:
                for part in ast.walk(argument):
                    if isinstance(part, ast.Constant) and isinstance(part.value, str):
                        yield part.value
                # A text that is put together from others, or filled in from elsewhere, would be in no list.
                is_own = isinstance(argument, ast.Constant | ast.IfExp)
                assert is_own or not node.keywords, f"{file}:{node.lineno}"
                assert not isinstance(argument, ast.JoinedStr | ast.BinOp), f"{file}:{node.lineno}"


def test_the_list_for_translators_holds_every_text_and_no_other() -> None:
    if os.environ.get("LOOMWRIGHT_REFRESH") == "1":
        MESSAGES.write_text(json.dumps(messages(), indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    assert json.loads(MESSAGES.read_text(encoding="utf-8")) == messages()


def test_every_remark_of_a_rule_can_be_translated() -> None:
    """A remark that only one kind of job brings forth would be missed by the jobs that are spoken below."""
    told = 0
    for file in sorted((ROOT / "rules").rglob("*.py")):
        for function in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(function, ast.FunctionDef):
                for text in _remarks(function):
                    assert _is_of_the_list(text), f"{file}:{text.lineno}"
                    told += 1
    assert told > 20


def _remarks(function: ast.FunctionDef) -> Iterator[ast.expr]:
    """Yield the texts of a function's remarks, those with a name from where they get it."""
    for node in ast.walk(function):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Remark":
            text = node.args[0]
            if not isinstance(text, ast.Name):
                yield text
                continue
            for other in ast.walk(function):
                if isinstance(other, ast.Assign) and ast.unparse(other.targets[0]) == text.id:
                    yield other.value


def _is_of_the_list(text: ast.expr) -> bool:
    if isinstance(text, ast.IfExp):
        return _is_of_the_list(text.body) and _is_of_the_list(text.orelse)
    return isinstance(text, ast.Call) and ast.unparse(text.func) in TEXTS


def test_a_text_is_its_own_english_and_fills_in_its_values() -> None:
    assert tr("Place {number}: {title}", number=3, title="{dash}") == "Place 3: {dash}"
    assert tr_count("{count} step", "{count} steps", 1) == "1 step"
    assert tr_count("{count} step", "{count} steps", 2) == "2 steps" and later("x") == "x"


def test_another_language_is_spoken_for_a_while_only() -> None:
    with spoken({"Labels": "Schildchen"}):
        assert tr("Labels") == "Schildchen" and tr("Materials") == "Materials"
    assert tr("Labels") == "Labels"


# Between them: every kind of question, a positive earth, what is unsafe, what is lost, a kit of many parts.
SPOKEN_JOBS = (
    "whole-van",
    "feed-of-unknown-nature",
    "minibus-standard-radio",
    "car-to-negative-earth-new-radio",
    "fuse-box-with-larger-fuses",
    "alternator-with-led-charge-lamp",
    "launch-torpedo-to-blade",
    "stronger-heater-on-a-piggyback",
)
NAMES = frozenset(("awg", "loomwright", "plan", "meter"))  # said alike in every language


@pytest.mark.parametrize("job", SPOKEN_JOBS)
def test_every_word_of_the_sheet_can_be_translated(job: str) -> None:
    """Spoken in a language of marks only, nothing is left in English but what the files say."""
    with spoken({text: _marked(text) for text in messages()}):
        bench = sheet_job(job, catalogue(), with_pictures=True, with_states=True)
        left = {form: _words(said) for form, said in _said(bench)}
    known = _words(" ".join(_said_by_files(bench))) | NAMES | _words(job)
    known |= {rule for question in bench.plan.questions for rule in _words(question.because)}
    assert {form: words - known for form, words in left.items()} == {form: set() for form in left}


def test_a_plan_in_another_language_is_the_same_plan() -> None:
    with spoken({text: _marked(text) for text in messages()}):
        steps = sheet_job("feed-of-unknown-nature", catalogue()).plan.steps
    own = planned("feed-of-unknown-nature").steps
    assert [(step.id, step.do, step.place) for step in steps] == [(s.id, s.do, s.place) for s in own]


def _said(bench: BenchSheet) -> Iterator[tuple[str, str]]:
    """Yield what each form of a sheet says; wire lists and the names of steps are read by programs."""
    sheet = bench_sheet(bench)
    yield "sheet", as_text(lay_out(sheet, 2000))
    last = len(bench.plan.steps)
    pairs = {*((demand.first, demand.then) for demand in bench.demands), *((n, last) for n in range(1, last))}
    answers = (as_text(lay_out(why_sheet(bench, *pair), 2000)) for pair in sorted(pairs))
    yield "why", " ".join(answers)
    whole = (
        re.sub(r"-</text>\s*<text[^>]*>", "-", picture.svg) for picture in bench.pictures
    )  # broken words
    yield "pictures", " ".join(re.sub(r"<[^>]*>|\S*…", " ", svg) for svg in whole)
    page = as_page(sheet, "", bench.states)
    yield "page", re.sub(r"<(style|script|svg).*?</\1>|<[^>]*>", " ", page, flags=re.DOTALL)
    assert bench.states is not None
    rows = (bench.states.loads, bench.states.terminals, bench.states.wires, bench.states.alarms)
    yield "live picture", " ".join(row.title for own in rows for row in own)
    names = {name for step in bench.plan.steps for name in (step.do, ", ".join(step.because), step.id)}
    for table in bench_tables(bench):
        if not table.name.startswith("wires"):
            cells = (str(cell) for row in table.rows for cell in row)
            yield (
                table.name,
                " ".join((table.purpose, *table.headings, *(c for c in cells if c not in names))),
            )


def _words(text: str) -> set[str]:
    return set(re.findall(r"[a-z]{3,}", text.lower()))


def _said_by_files(bench: BenchSheet) -> Iterator[str]:
    """Yield everything that the sheet repeats from the job, its loom and its parts."""
    yield from (bench.plan.title, bench.plan.loom)
    yield from (role.meaning for role in catalogue().roles.values())
    for loom in (bench.before, bench.after):
        yield from _values(loom)
        for place in loom.places.values():
            yield from _values(bench.parts[place.part])


def _values(data: object) -> Iterator[str]:
    """Yield every text in a record, and the names of what it lists by name."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, BaseModel):
        for _, value in data:
            yield from _values(value)
    elif isinstance(data, Mapping):
        yield from map(str, data)
        for value in data.values():
            yield from _values(value)
    elif isinstance(data, Iterable):
        for value in data:
            yield from _values(value)


def _marked(text: str) -> str:
    """A text of marks and of the names that it fills in."""
    return "«" + " ".join(re.findall(r"\{[^}]*\}", text)) + "»"


def file_with(tmp_path: Path, words: object) -> Path:
    path = tmp_path / "words.json"
    path.write_text(json.dumps(words, indent=1), encoding="utf-8")
    return path


def test_a_translation_is_spoken_by_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = file_with(tmp_path, {"Labels": "Schildchen", "Place {number}: {title}": "{number}. Ort: {title}"})
    assert main(["sheet", "route-recorder", "--words", str(path)]) == 0
    said = capsys.readouterr().out
    assert "\nSchildchen\n" in said and "\n1. Ort: route recorder, dash (dashboard)\n" in said
    assert "\nMaterials\n" in said


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        ({"Materials": "M", "Labls": "x"}, ":3:2: there is no English text 'Labls'\n    try Labels"),
        (
            {"Place {number}: {title}": "Ort {nummer}"},
            ":2:2: the text for 'Place {number}: {title}' has to fill in",
        ),
        ({"Place {number}: {title}": "Ort {"}, "has to fill in {number}, {title}"),
        ([1], "expected one JSON object"),
        ({"Labels": 1}, "expected one JSON object"),
    ],
)
def test_a_translation_that_cannot_be_used_is_told_with_its_line(
    tmp_path: Path, words: object, fault: str
) -> None:
    with pytest.raises(InputError) as caught:
        read_messages(file_with(tmp_path, words))
    assert fault in str(caught.value)


def test_what_is_left_empty_stays_english(tmp_path: Path) -> None:
    assert read_messages(file_with(tmp_path, {"Labels": "", "Materials": "M"})) == {"Materials": "M"}
