"""The sheets of the rules: all of them, or one rule's manual."""

from collections.abc import Iterator, Sequence

from planner.engine.rule import HEADINGS, Rule
from planner.sheets.sheet import Cell, Item, Listing, Section, Sheet, say


def rules_sheet(rules: Sequence[Rule]) -> Sheet:
    """Every rule with its one-sentence finding, in the order in which they are asked."""
    items = tuple(Item(Cell("-"), Cell(rule.name, "strong"), (Cell(rule.finding),)) for rule in rules)
    hint = say("'loomwright rule NAME' shows a rule's manual.", "quiet")
    blocks = (Listing(items), hint) if items else (say("No rule pack is installed.", "warn"),)
    return Sheet("Rules, in the order in which they are asked", (Section("", blocks),))


def rule_sheet(rule: Rule) -> Sheet:
    """One rule's manual: what its file says about it."""
    sections = (Section(title, tuple(say(text) for text in texts)) for title, texts in _parts_of(rule.manual))
    return Sheet(rule.name, tuple(sections))


def _parts_of(manual: str) -> Iterator[tuple[str, list[str]]]:
    """Yield each heading of a manual with its paragraphs; what stands before the first has none."""
    heading, lines = "", list[str]()
    for line in manual.splitlines():
        if line in HEADINGS:
            yield heading, _paragraphs(lines)
            heading, lines = line, []
        else:
            lines.append(line)
    yield heading, _paragraphs(lines)


def _paragraphs(lines: Sequence[str]) -> list[str]:
    return [" ".join(text.split()) for text in "\n".join(lines).split("\n\n") if text.strip()]
