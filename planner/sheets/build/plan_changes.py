"""What a plan changes: behaviours lost, changed, unintended and gained, and hazards."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from planner.messages import later, tr
from planner.model.plan import BehaviourLine, HazardLine, Plan
from planner.model.wording import appearance_words, task_words
from planner.sheets.sheet import Block, Cell, Item, Listing, Meaning, say

OUTCOMES: Mapping[str, tuple[str, Meaning]] = MappingProxyType(
    {
        "unintended": ("UNINTENDED", "bad"),
        "lost": ("LOST", "bad"),
        "missing": ("MISSING", "bad"),
        "changed": ("CHANGED", "warn"),
        "gained": ("GAINED", "good"),
        "unused": ("NOT USED", "note"),
    }
)
STEPS: tuple[str, Meaning] = ("STEPS", "note")  # a memory: what it moves is told of the loads
AS_WISHED: tuple[str, Meaning] = ("AS WISHED", "good")
OUTCOME_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "kept": later("kept"),
        "unintended": later("unintended"),
        "lost": later("lost"),
        "missing": later("missing"),
        "changed": later("changed"),
        "gained": later("gained"),
        "unused": later("not used"),
        "otherwise": later("worked otherwise"),
    }
)
HAZARDS: Mapping[str, str] = MappingProxyType(
    {
        "short": "short circuit",
        "feeds-tied": "two feeds tied together",
        "live-loose-end": "live loose end",
        "bare-live-terminal": "bare live terminal",
        "back-feed": "back-feed",
        "drain": "current with everything at rest",
        "chatter": "chatter",
        "dead-position": "dead position",
    }
)

# What a memory does now, from every state that it starts in, and how it is said against what it did before.
_STEPPED: Mapping[str, str] = MappingProxyType(
    {
        "steps on": later("it stayed as it was, now it steps on"),
        "stays as it was": later("it stepped on, now it stays as it was"),
    }
)


def changes(plan: Plan, with_reasons: bool) -> tuple[Block, ...]:
    """Hazards first, then every behaviour that is not as before; conditions in words."""
    new = [hazard for hazard in plan.hazards if not hazard.was_before]
    old = [hazard for hazard in plan.hazards if hazard.was_before]
    blocks: list[Block] = []
    if new:
        blocks.append(Listing(tuple(_hazard(h, "HAZARD", "bad", with_reasons) for h in new)))
    lines = [line for name in OUTCOMES for line in plan.behaviours if line.outcome == name]
    otherwise = [line for line in plan.behaviours if line.outcome == "otherwise"]
    if lines or otherwise:
        items = (*_behaviours(lines, with_reasons), *map(_otherwise, worked_otherwise(otherwise)))
        blocks.append(Listing(items))
        blocks.append(say("Everything that is not listed here works as before.", "quiet"))
    elif new:
        blocks.append(say("Everything that worked before works as before.", "quiet"))
    elif plan.questions:
        blocks.append(say("Nothing, if what is assumed is true: everything then works as before.", "warn"))
    elif any(remark.but for remark in plan.remarks):
        blocks.append(say("Nothing of what worked; what has to be known beside it: see 'Remarks'.", "warn"))
    else:
        blocks.append(say("Nothing: everything works as before.", "good"))
    if any(line.is_new and not line.is_wearing for line in plan.strains):
        text = (
            "So the wiring alone; what is too much, too little or the wrong way round: see 'Amps and volts'."
        )
        blocks.append(say(text, "warn"))
    if old:
        blocks.append(say("These hazards were there before the work:", "note"))
        blocks.append(Listing(tuple(_hazard(h, "BEFORE", "note", with_reasons) for h in old)))
    return tuple(blocks)


def behaviour_words(line: BehaviourLine) -> str:
    """An outcome in a few words: ``lost: main beam (left headlamp)``."""
    return f"{_outcome_words(line)}: {task_words(line.what)} ({line.title})"


def with_when(lines: Iterable[BehaviourLine]) -> tuple[str, ...]:
    """Outcomes with when they show; what has the same outcome in the same settings is one line."""
    found: dict[tuple[str, str, str], dict[str, None]] = {}
    for line in lines:
        said = _before_and_after(line) if line.is_memory else line.because
        said = line.after if line.outcome == "missing" else said
        outcome = "" if line.is_memory else _outcome_words(line)
        when = "" if line.outcome == "unused" else line.when
        found.setdefault((outcome, said, when), {})[f"{task_words(line.what)} ({line.title})"] = None
    return tuple(
        "; ".join(filter(None, (": ".join(filter(None, (outcome, ", ".join(loads), said))), when)))
        for (outcome, said, when), loads in found.items()
    )


def _outcome_words(line: BehaviourLine) -> str:
    said = "{outcome}"
    if line.accepted:
        said = tr("{outcome}, as wished") if line.as_wished else tr("{outcome}, accepted")
    return said.format(outcome=tr(OUTCOME_WORDS[line.outcome]))


def worked_otherwise(lines: Sequence[BehaviourLine]) -> Iterator[tuple[str, str]]:
    """Yield by what something is worked now that another control worked, and all that is."""
    by_what: dict[str, dict[str, dict[str, None]]] = {}
    for line in lines:
        by_what.setdefault(line.instead, {}).setdefault(task_words(line.what), {})[line.title] = None
    for instead, loads in by_what.items():
        yield instead, ", ".join(f"{what} ({tr(' and ').join(titles)})" for what, titles in loads.items())


def _otherwise(worked: tuple[str, str]) -> Item:
    instead, loads = worked
    return Item(
        Cell("OTHERWISE", "note"),
        Cell(instead, "strong"),
        (Cell(f"as before, but worked this way now: {loads}"),),
    )


def _behaviours(lines: Sequence[BehaviourLine], with_path: bool) -> Iterator[Item]:
    """Yield one item for all places at which the same thing happens in the same positions."""
    alike: dict[BehaviourLine, dict[str, None]] = {}
    for line in lines:
        key = replace(line, at="", title="", positions=(), path=line.path if with_path else ())
        alike.setdefault(key, {})[line.title] = None
    for line, titles in alike.items():
        word, meaning = STEPS if line.is_memory else OUTCOMES[line.outcome]
        if line.as_wished:
            word, meaning = AS_WISHED
        below = [Cell(_what_and_when(line))]
        if line.because:
            below.append(Cell(line.because))
        if line.accepted:
            said = "the job wants it off then" if line.as_wished else "the job accepts this"
            below.append(Cell(said, "quiet"))
        if line.in_new_position:
            below.append(Cell("in a position that only the new part has", "quiet"))
        if line.path:
            below.append(Cell(f"path: {' > '.join(line.path)}", "quiet"))
        where = " and ".join(titles)
        yield Item(Cell(word, meaning), Cell(f"{line.what} - {where}", "strong"), tuple(below))


def _what_and_when(line: BehaviourLine) -> str:
    said = _before_and_after(line)
    # "It never runs; always" would say the same thing twice and puzzle.
    never = line.outcome in ("missing", "unused") and line.when == "always"
    return f"{said}; {line.when}" if line.when and not never else said


def _before_and_after(line: BehaviourLine) -> str:
    if line.outcome in ("missing", "unused"):
        return line.after
    before, after = (appearance_words(word) for word in (line.before, line.after))
    if line.is_memory:
        if line.after in _STEPPED:
            return tr(_STEPPED[line.after])
        return tr("it ended at {before}, now it ends at {after}", before=before, after=after)
    return f"was {before}, now {after}"


def _hazard(hazard: HazardLine, word: str, meaning: Meaning, with_path: bool) -> Item:
    below = [Cell(hazard.when)] if hazard.when else []
    if with_path and hazard.path:
        below.append(Cell(f"path: {' > '.join(hazard.path)}", "quiet"))
    kind = HAZARDS.get(hazard.kind, hazard.kind)
    return Item(Cell(word, meaning), Cell(f"{kind} - {hazard.text}", meaning), tuple(below))
