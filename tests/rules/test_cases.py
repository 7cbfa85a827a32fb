"""Every case of every rule: what it yields, and when it stays quiet."""

import pytest
from harness import RuleCase, mismatches, prepare, rule_cases

from planner.engine.rule import Rule
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
