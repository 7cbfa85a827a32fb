"""Checks of the house: every rule documented, registered and exercised, and blind to what it must not see."""

import ast
import re
import tomllib
from pathlib import Path
from typing import get_args

import pytest
from harness import case_files, rule_cases

import planner
import rules
from planner.circuit import part_network
from planner.circuit.fitted import is_load
from planner.currents import grid
from planner.engine.rule import HEADINGS, Rule
from planner.model.elements import AnyElement, Cam, Control, Flasher, Load, Step
from planner.proof import part_facts
from rules import RULES

RULE_FILES = sorted(p for p in Path(rules.__file__).parent.glob("*/*.py") if p.stem != "__init__")
NAMES = {rule.name for rule in RULES}
# What a rule may know: the models, the engine's case and what is read from it, and the exceptions.
RULES_MAY_IMPORT = (
    "planner.messages",  # the words of its questions; it knows nothing of circuit, proof or what a job says
    "planner.model.",
    "planner.engine.at_rest",
    "planner.engine.case",
    "planner.engine.drafting",
    "planner.engine.earthing",
    "planner.engine.exchanging",
    "planner.engine.feeding",
    "planner.engine.fuse_groups",
    "planner.engine.generators",
    "planner.engine.headlamps",
    "planner.engine.in_line",
    "planner.engine.instruments",
    "planner.engine.lamp_diodes",
    "planner.engine.making",
    "planner.engine.moved",
    "planner.engine.parking",
    "planner.engine.partners",
    "planner.engine.plain_contacts",
    "planner.engine.ready_relays",
    "planner.engine.relaying",
    "planner.engine.relieving",
    "planner.engine.resistors",
    "planner.engine.resupplying",
    "planner.engine.removed",
    "planner.engine.rule",
    "planner.engine.signals",
    "planner.engine.sizing",
    "planner.engine.suiting",
    "planner.engine.two_leads",
    "planner.engine.worked",
    "planner.problems",
    "rules",
)
OWN_PACKAGES = ("planner", "rules", "catalogs")


def _imports(file: Path) -> set[str]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    found = {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) and n.module}
    return found | {a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}


@pytest.mark.parametrize("file", RULE_FILES, ids=lambda file: file.stem)
def test_every_rule_file_is_registered(file: Path) -> None:
    assert file.stem.replace("_", "-") in NAMES


@pytest.mark.parametrize("file", RULE_FILES, ids=lambda file: file.stem)
def test_a_rule_sees_neither_circuit_nor_proof_nor_files(file: Path) -> None:
    own = {name for name in _imports(file) if name.partition(".")[0] in OWN_PACKAGES}
    assert {name for name in own if not name.startswith(RULES_MAY_IMPORT)} == set()


@pytest.mark.parametrize("file", RULE_FILES, ids=lambda file: file.stem)
def test_a_rule_has_at_most_two_helpers(file: Path) -> None:
    body = ast.parse(file.read_text(encoding="utf-8")).body
    helpers = [n.name for n in body if isinstance(n, ast.FunctionDef) and n.name != "propose"]
    assert len(helpers) <= 2, helpers


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_heading_of_a_rule_says_something_in_the_fixed_order(rule: Rule) -> None:
    lines = rule.manual.splitlines()
    at = [lines.index(heading) for heading in HEADINGS]
    assert at == sorted(at)
    assert all(lines[n + 1].strip() for n in at)
    assert rule.finding.endswith(".") and not lines[1].strip()


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_rule_fires_in_two_cases_and_is_quiet_in_two(rule: Rule) -> None:
    cases = [case for case in rule_cases() if case.rule == rule.name]
    assert sum(case.is_firing for case in cases) >= 2
    assert sum(not case.is_firing for case in cases) >= 2


def test_nobody_who_plans_goes_through_all_parts() -> None:
    """Each part is read when it is asked for: a family or a kind of element is."""
    root = Path(planner.__file__).parent
    layers = ("engine", "circuit", "proof", "currents")
    files = [
        root / "pipeline.py",
        root / "sheet_pipeline.py",
        *RULE_FILES,
        *(f for layer in layers for f in (root / layer).rglob("*.py")),
    ]
    going = re.compile(r"catalogue\.parts\.(values|items)\(")
    assert [file.name for file in files if going.search(file.read_text(encoding="utf-8"))] == []


def test_every_case_file_belongs_to_a_rule() -> None:
    assert {file.stem for file in case_files()} <= NAMES


def test_no_two_test_files_share_a_name() -> None:
    """They are imported by their names alone, so the second of two would not be run."""
    names = [file.name for file in Path(__file__).parent.rglob("test_*.py")]
    assert sorted(set(names)) == sorted(names)


def test_every_kind_of_element_has_its_builder() -> None:
    """In both views: one that the second lacks would have no amps, and no limit would be missed."""
    assert set(part_network._BUILDERS) == set(get_args(AnyElement))
    assert set(grid._BUILDERS) == set(get_args(AnyElement)) - {Control, Step, Cam}


def test_every_kind_of_element_is_told_and_compared() -> None:
    between = {kind for kind in get_args(AnyElement) if "between" in kind.model_fields}
    assert set(part_facts._BETWEEN_TWO) == between
    assert all(is_load(kind.model_construct()) for kind in set(get_args(Load)) - {Flasher})


def test_every_part_of_the_planner_stands_in_the_import_contract() -> None:
    root = Path(planner.__file__).parent
    found = {p.stem for p in root.iterdir() if p.suffix == ".py" or (p / "__init__.py").exists()}
    contracts = tomllib.loads((root.parent / "pyproject.toml").read_text(encoding="utf-8"))["tool"][
        "importlinter"
    ]
    layers = " | ".join(contracts["contracts"][0]["layers"]).split(" | ")
    named = {layer.removeprefix("planner.") for layer in layers if layer.startswith("planner.")}
    assert found - {"__init__", "__main__"} == named
