"""The log of a meter page, read and written: ``readings:`` with the id of each test and what was typed."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from planner.model.meter_page import MeterTest
from planner.problems import InputError, Problem
from planner.reading.meter_answers import read_answer
from planner.reading.typed_values import NotUnderstood
from planner.reading.validate import met
from planner.reading.yaml_source import read_document
from planner.reading.yaml_text import scalar_text

_HINT = "readings: and below it the id of each test and what was read, as loomwright meter writes it"


def read_log(path: Path, tests: Sequence[MeterTest], supply_volts: float) -> dict[str, str]:
    """What was typed by the ids of the tests; raises InputError with the place of what cannot be used."""
    document = read_document(path)
    data = document.data
    lines = data.get("readings") if isinstance(data, dict) else None
    if not isinstance(lines, dict):
        raise InputError([Problem(document.value_place(()), f"this is no log, got {met(data)}", hint=_HINT)])
    known = {test.id: test for test in tests}
    problems = []
    for name, typed in lines.items():
        place = document.value_place(("readings", name))
        if name not in known:
            problems.append(
                Problem(place, f"this job has no test {name!r}", hint="its own log, or a new one")
            )
        elif not isinstance(typed, str):
            problems.append(
                Problem(place, f"expected what was read, got {met(typed)}", hint="11.8, open or lit")
            )
        else:
            try:
                read_answer(typed, known[name], supply_volts)
            except NotUnderstood as error:
                problems.append(Problem(place, error.message, hint=error.hint))
    if problems:
        raise InputError(problems)
    return {name: typed for name, typed in lines.items() if isinstance(typed, str)}


def log_text(title: str, typed: Mapping[str, str]) -> str:
    """A log as text, which reads back as the same."""
    lines = [f"  {scalar_text(name)}: {scalar_text(said)}" for name, said in typed.items()]
    head = f"# What the meter read: {' '.join(title.split())}"
    return "\n".join([head, "readings:" if lines else "readings: {}", *lines]) + "\n"
