"""Lists the installed rules, or prints one rule's manual."""

import argparse
from difflib import get_close_matches

from planner.commands.work.output import put_json, put_sheet
from planner.engine.packs import installed_rules
from planner.engine.rule import Rule
from planner.problems import UsageError
from planner.sheets.build.rule import rule_sheet, rules_sheet


def run(args: argparse.Namespace) -> int:
    """Print the list, or the manual of the rule named."""
    rules = installed_rules()
    if args.name is None:
        if args.json:
            put_json({"rules": [_as_json(rule) for rule in rules]})
        else:
            put_sheet(rules_sheet(rules))
        return 0
    rule = _find(args.name, rules)
    if args.json:
        put_json({**_as_json(rule), "manual": rule.manual})
    else:
        put_sheet(rule_sheet(rule))
    return 0


def _as_json(rule: Rule) -> dict[str, str]:
    return {"rule": rule.name, "finding": rule.finding, "source": rule.source}


def _find(name: str, rules: tuple[Rule, ...]) -> Rule:
    for rule in rules:
        if rule.name == name:
            return rule
    near = get_close_matches(name, [rule.name for rule in rules], n=3, cutoff=0.5)
    hint = f"try {' or '.join(near)}" if near else "'loomwright rule' lists them all"
    raise UsageError(f"no rule is called {name!r}; {hint}")
