"""Rule packs: the rules of every installed package, found through entry points."""

from importlib.metadata import EntryPoint, entry_points

from planner.engine.rule import Rule, RuleError

GROUP = "loomwright.rules"


def installed_rules() -> tuple[Rule, ...]:
    """The rules of all installed packs, pack by pack in the order of their names.

    Raises RuleError if a pack cannot be loaded, holds something else, or has a rule of a name already taken.
    """
    found: dict[str, tuple[Rule, str]] = {}
    for pack in sorted(entry_points(group=GROUP), key=lambda e: (e.name, e.value)):
        for rule in _rules_of(pack):
            if rule.name in found:
                raise RuleError(
                    f"rule {rule.name}: both the rule pack {found[rule.name][1]!r} and the rule pack "
                    f"{pack.name!r} have a rule of this name"
                )
            found[rule.name] = (rule, pack.name)
    return tuple(rule for rule, _ in found.values())


def _rules_of(pack: EntryPoint) -> tuple[Rule, ...]:
    called = f"the installed rule pack {pack.name!r} ({pack.value})"
    try:
        rules = pack.load()
    except (ImportError, AttributeError, SyntaxError) as error:
        raise RuleError(f"{called} cannot be loaded: {error}") from error
    if not isinstance(rules, tuple | list):
        raise RuleError(f"{called} must be a tuple of rules, got {type(rules).__name__}")
    for rule in rules:
        if not isinstance(rule, Rule):
            raise RuleError(f"{called} must hold rules only, got {type(rule).__name__}")
    return tuple(rules)
