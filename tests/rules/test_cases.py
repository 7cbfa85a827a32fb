"""Every case of every rule: what it yields, and when it stays quiet."""

import re
from pathlib import Path
from types import ModuleType

import pytest
from harness import RuleCase, mismatches, prepare, rule_cases

import rules
from planner.engine.rule import Rule, rule_from
from planner.reading.yaml_source import read_document
from rules import RULES

BY_NAME: dict[str, Rule] = {rule.name: rule for rule in RULES}


@pytest.mark.parametrize("case", rule_cases(), ids=lambda case: f"{case.rule}: {case.name}")
def test_rule_yields_what_its_case_says(case: RuleCase) -> None:
    shown = prepare(case)
    emitted = list(BY_NAME[case.rule].propose(shown))
    assert mismatches(case.data["expect"], emitted, case.rule) == []


@pytest.mark.parametrize("case", rule_cases(), ids=lambda case: f"{case.rule}: {case.name}")
def test_proposals_can_be_applied_and_undone(case: RuleCase) -> None:
    shown = prepare(case)
    for emission in BY_NAME[case.rule].propose(shown):
        loom = shown.loom
        for operation in getattr(emission, "operations", ()):
            loom = operation.apply(loom)
        for operation in reversed(getattr(emission, "operations", ())):
            loom = operation.undo(loom)
        assert loom == shown.loom


def test_the_rule_that_the_readme_shows_works_as_it_stands_there(tmp_path: Path) -> None:
    text = (Path(rules.__file__).parent / "README.md").read_text(encoding="utf-8")
    blocks = dict(reversed(re.findall(r"^```(\w+)\n(.*?)^```$", text, re.M | re.S)))
    code, cases = blocks["python"], blocks["yaml"]  # the first of each kind
    shown = ModuleType("shown.heater_without_switch")
    exec(compile(code, "README.md", "exec"), shown.__dict__)
    rule = rule_from(shown)
    file = tmp_path / f"{rule.name}.yaml"
    file.write_text(cases, encoding="utf-8")
    asked = [RuleCase(rule.name, file, n) for n in range(len(read_document(file).data["cases"]))]
    assert [case.is_firing for case in asked] == [True, True, False, False]
    for case in asked:
        assert mismatches(case.data["expect"], list(rule.propose(prepare(case))), rule.name) == [], case.name
