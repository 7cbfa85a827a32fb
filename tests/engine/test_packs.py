"""Rule packs: found by their entry points, refused by name where one is broken."""

from collections.abc import Iterator
from importlib.metadata import EntryPoint
from types import ModuleType
from typing import Any

import pytest
from choice import make_rule

from planner.engine import packs
from planner.engine.case import Case
from planner.engine.rule import HEADINGS, RuleError, rule_from, rule_set
from planner.model.need import Emission


def silent(case: Case) -> Iterator[Emission]:
    yield from ()


MANUAL = "Finds nothing.\n\n" + "\n\n".join(f"{heading}\nsomething said" for heading in HEADINGS)


def module(name: str = "pack.nothing_found", manual: str = MANUAL, propose: Any = silent) -> ModuleType:
    made = ModuleType(name, manual)
    if propose is not None:
        made.propose = propose  # type: ignore[attr-defined]
    return made


def install(monkeypatch: pytest.MonkeyPatch, **found: Any) -> None:
    """Install packs by name; an exception stands for a pack that fails to load."""

    def load(entry: EntryPoint) -> Any:
        if isinstance(found[entry.name], Exception):
            raise found[entry.name]
        return found[entry.name]

    entries = [EntryPoint(name, f"{name}_pack:RULES", packs.GROUP) for name in found]
    monkeypatch.setattr(packs, "entry_points", lambda group: entries if group == packs.GROUP else [])
    monkeypatch.setattr(EntryPoint, "load", load)


def test_rules_of_all_packs_are_found_pack_by_pack_in_the_order_of_their_names(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    install(monkeypatch, zoo=(make_rule("z", silent),), abc=[make_rule("b", silent), make_rule("a", silent)])
    assert [rule.name for rule in packs.installed_rules()] == ["b", "a", "z"]


def test_the_standard_pack_is_installed() -> None:
    assert "lands-on-same-role" in {rule.name for rule in packs.installed_rules()}


@pytest.mark.parametrize(
    "error", [ImportError("no such module"), AttributeError("no RULES"), SyntaxError("?")]
)
def test_a_pack_that_cannot_be_loaded_is_named(monkeypatch: pytest.MonkeyPatch, error: Exception) -> None:
    install(monkeypatch, broken=error)
    with pytest.raises(RuleError, match=r"rule pack 'broken' \(broken_pack:RULES\) cannot be loaded"):
        packs.installed_rules()


def test_a_pack_that_is_no_sequence_of_rules_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch, broken="lands-on-same-role")
    with pytest.raises(RuleError, match=r"'broken'.* must be a tuple of rules, got str"):
        packs.installed_rules()


def test_a_pack_that_holds_something_else_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch, broken=(make_rule("a", silent), silent))
    with pytest.raises(RuleError, match=r"'broken'.* must hold rules only, got function"):
        packs.installed_rules()


def test_a_name_that_two_packs_use_is_refused_with_both(monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch, mine=(make_rule("a", silent),), yours=(make_rule("a", silent),))
    with pytest.raises(RuleError, match="rule a: both the rule pack 'mine' and the rule pack 'yours'"):
        packs.installed_rules()


def test_a_rule_is_made_of_its_module() -> None:
    rule = rule_from(module())
    assert (rule.name, rule.finding, rule.source) == ("nothing-found", "Finds nothing.", "something said")
    assert rule.propose is silent


@pytest.mark.parametrize("heading", HEADINGS)
def test_a_rule_whose_manual_lacks_a_heading_is_refused_by_name(heading: str) -> None:
    with pytest.raises(RuleError, match=f"rule nothing-found: .*lacks the heading {heading}"):
        rule_from(module(manual=MANUAL.replace(f"{heading}\n", "")))


@pytest.mark.parametrize(
    "propose", [None, "a word", lambda: None, lambda case, more: None, lambda need: None]
)
def test_a_rule_without_the_right_propose_is_refused_by_name(propose: Any) -> None:
    with pytest.raises(RuleError, match=r"rule nothing-found: must define propose\(case\)"):
        rule_from(module(propose=propose))


def test_two_rules_of_one_name_in_a_pack_are_refused() -> None:
    with pytest.raises(RuleError, match="rule nothing-found: two rules have this name"):
        rule_set([module(), module("other.nothing_found")])
    assert [rule.name for rule in rule_set([module(), module("other.found")])] == ["nothing-found", "found"]
