"""Rule packs: found through entry points, so that the planner imports none of them."""

from importlib.metadata import entry_points

from planner.engine.rule import Rule, RuleError

GROUP = "loomwright.rules"


def installed_rules() -> tuple[Rule, ...]:
    """All rules of all installed packs, packs by name.

    Raises RuleError if a pack holds something else, or two rules have the same name.
    """
    rules: list[Rule] = []
    for entry in sorted(entry_points(group=GROUP), key=lambda e: e.name):
        pack = entry.load()
        for rule in pack:
            if not isinstance(rule, Rule):
                raise RuleError(f"rule pack {entry.name}: {rule!r} is not a rule")
            if any(known.name == rule.name for known in rules):
                raise RuleError(f"rule pack {entry.name}: a rule called {rule.name} is there already")
            rules.append(rule)
    return tuple(rules)
