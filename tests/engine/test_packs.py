"""Rule packs are found through entry points, in a fixed order, and a broken one is named."""

from importlib.metadata import EntryPoint
from types import SimpleNamespace

import pytest

from planner.engine import packs
from planner.engine.packs import GROUP, installed_rules
from planner.engine.rule import Rule, RuleError


def rule(name: str) -> Rule:
    return Rule(name, "Found.", "Found.", "invented", lambda case: iter(()))


PACKS = SimpleNamespace(
    ONE=(rule("b"), rule("a")), TWO=(rule("c"),), SAME=(rule("a"),), MIXED=("x",), WORD="x"
)


def install(monkeypatch: pytest.MonkeyPatch, *packs_named: tuple[str, str]) -> None:
    """Let these packs (name, attribute of PACKS) be all that is installed."""
    found = [EntryPoint(name, f"{__name__}:PACKS.{attribute}", GROUP) for name, attribute in packs_named]
    monkeypatch.setattr(packs, "entry_points", lambda group: found if group == GROUP else [])


def test_packs_come_by_name_and_rules_in_the_order_of_their_pack(monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch, ("second", "TWO"), ("first", "ONE"))
    assert [r.name for r in installed_rules()] == ["b", "a", "c"]


def test_no_pack_means_no_rules(monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch)
    assert installed_rules() == ()


def test_the_standard_rules_are_installed() -> None:
    assert "lands-on-same-role" in {r.name for r in installed_rules()}


@pytest.mark.parametrize(
    ("attribute", "words"),
    [
        ("SAME", "rule a: both the rule pack 'first' and the rule pack 'second' have a rule of this name"),
        ("MIXED", "must hold rules only, got str"),
        ("WORD", "must be a tuple of rules, got str"),
        ("MISSING", "cannot be loaded: "),
    ],
)
def test_a_broken_pack_is_named(monkeypatch: pytest.MonkeyPatch, attribute: str, words: str) -> None:
    install(monkeypatch, ("first", "ONE"), ("second", attribute))
    with pytest.raises(RuleError) as caught:
        installed_rules()
    assert words in str(caught.value)
    assert "second" in str(caught.value)
