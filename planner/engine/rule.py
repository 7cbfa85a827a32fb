"""The contract of a rule: a pure function from a case to proposals, questions and remarks."""

import inspect
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from types import ModuleType

from planner.engine.case import Case
from planner.model.need import Emission
from planner.problems import PlannerError

HEADINGS = ("What it looks for", "Why it matters", "Before", "After", "Limits", "Source")


class RuleError(PlannerError):
    """A rule that does not keep the contract; says which rule and what is wrong."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A situation and its remedies. ``name`` is the file's, with dashes, stable for ever."""

    name: str
    finding: str  # one sentence, printed on the sheet
    manual: str
    source: str
    propose: Callable[[Case], Iterator[Emission]]


def rule_from(module: ModuleType) -> Rule:
    """Make a rule of a module: its file name, its docstring, its ``propose``.

    Raises RuleError if a heading is missing or ``propose`` has not the signature ``propose(case)``.
    """
    name = module.__name__.rpartition(".")[2].replace("_", "-")
    manual = inspect.getdoc(module) or ""
    missing = [heading for heading in HEADINGS if f"\n{heading}\n" not in manual]
    if missing:
        raise RuleError(f"rule {name}: its docstring lacks the heading {', '.join(missing)}")
    propose = getattr(module, "propose", None)
    if not callable(propose) or list(inspect.signature(propose).parameters) != ["case"]:
        raise RuleError(f"rule {name}: must define propose(case)")
    finding = manual.partition("\n")[0]
    source = " ".join(manual.rpartition("\nSource\n")[2].split())
    return Rule(name, finding, manual, source, propose)


def rule_set(modules: Sequence[ModuleType]) -> tuple[Rule, ...]:
    """Make rules of modules, in their order.

    Raises RuleError if one breaks the contract or two have the same name.
    """
    rules = tuple(rule_from(module) for module in modules)
    names = [rule.name for rule in rules]
    for name in names:
        if names.count(name) > 1:
            raise RuleError(f"rule {name}: two rules have this name")
    return rules
