"""The sheet that compares a part with the original it is to replace."""

from collections.abc import Mapping
from types import MappingProxyType

from planner.model.part import Part
from planner.model.plan import Plan
from planner.proof.part_compare import PartComparison
from planner.sheets.build.plan import plan_sheet
from planner.sheets.sheet import Block, Cell, Meaning, Section, Sheet, Table, bullets, say

VERDICTS: Mapping[str, Meaning] = MappingProxyType(
    {
        "drop-in": "good",
        "fits with rewiring": "note",
        "fits with losses": "warn",
        "does not fit": "bad",
    }
)
OUTCOMES: Mapping[str, tuple[str, Meaning]] = MappingProxyType(
    {
        "unintended": ("UNINTENDED", "bad"),
        "lost": ("LOST", "bad"),
        "changed": ("CHANGED", "warn"),
        "gained": ("GAINED", "good"),
        "weaker": ("WEAKER", "warn"),
        "heavier": ("HEAVIER", "warn"),
        "other": ("DIFFERS", "note"),
        "same": ("same", "quiet"),
        "unmeasured": ("NOT MEASURED", "note"),
    }
)

_FITTED = "Everything from here on is the plan of this one swap, in this loom."


def comparison_sheet(comparison: PartComparison) -> Sheet:
    """Verdict and reasons first, then terminals, behaviour and ratings."""
    original, other = comparison.original, comparison.other
    opening = (
        say(
            f"{comparison.verdict.upper()}: {other.part} in place of {original.part}",
            VERDICTS[comparison.verdict],
        ),
        bullets(comparison.reasons),
    )
    sections = [
        Section("", opening),
        Section("Terminals", (_terminals(comparison),)),
        Section("What differs", _behaviours(comparison)),
        Section("What is alike", _alike(comparison)),
        Section("Ratings", _ratings(comparison)),
    ]
    sections = [section for section in sections if section.blocks]
    notes = tuple(dict.fromkeys(f"{part.title}: {part.note}" for part in (original, other) if part.note))
    if notes:
        sections.append(Section("Notes", (bullets(notes, "note"),)))
    sections.append(Section("", (_limits(),)))
    return Sheet(f"{other.title}, in place of: {original.title}", tuple(sections))


def fitted_sheet(comparison: Sheet, plan: Plan) -> Sheet:
    """A comparison with the plan of the swap in one loom beneath it, whole."""
    heading = Section(f"Fitted: {plan.title}", (say(_FITTED, "quiet"),))
    return Sheet(comparison.title, (*comparison.sections, heading, *plan_sheet(plan).sections))


def _terminals(comparison: PartComparison) -> Table:
    rows = tuple(
        (
            Cell(_mark(comparison.original, line.original), "strong"),
            Cell(_mark(comparison.other, line.other), "strong"),
            Cell(line.why, "quiet"),
            Cell("; ".join(line.work) or "nothing", "warn" if line.work else "plain"),
        )
        for line in comparison.terminals
    )
    return Table(("Original", "Other", "Why", "To do"), rows)


def _mark(part: Part, mark: str | None) -> str:
    """A mark with its role, where that says more."""
    if mark is None:
        return "-"
    role = part.terminals[mark].role
    return mark if role in (None, mark) else f"{mark} ({role})"


def _behaviours(comparison: PartComparison) -> tuple[Block, ...]:
    kept = sum(row.outcome == "kept" for row in comparison.behaviours)
    rows = tuple(
        (
            Cell(*OUTCOMES[row.outcome]),
            Cell(row.what, "strong"),
            Cell(row.original),
            Cell(row.other),
            Cell(row.position),
        )
        for row in comparison.behaviours
        if row.outcome != "kept"
    )
    if not rows:
        return (say("Nothing: each joint and each load is where it was, in every position.", "good"),)
    said = "Nothing else differs." if kept else "Nothing is as it was."
    return (Table(("", "What", "Original", "Other", "When"), rows), say(said, "quiet"))


def _alike(comparison: PartComparison) -> tuple[Block, ...]:
    """What both parts do, one line for all that is so in the same positions."""
    when: dict[tuple[str, str], list[str]] = {}
    for row in comparison.behaviours:
        if row.outcome == "kept":
            when.setdefault((row.position, row.original), []).append(row.what)
    lines = [(position, f"{', '.join(what)} - {does}") for (position, does), what in when.items()]
    rows = tuple((Cell(position), Cell(said)) for position, said in lines)
    return (Table(("When", "Both"), rows),) if rows else ()


def _ratings(comparison: PartComparison) -> tuple[Block, ...]:
    rows = tuple(
        (Cell(*OUTCOMES[r.outcome]), Cell(r.what, "strong"), Cell(r.original), Cell(r.other), Cell(r.note))
        for r in comparison.ratings
    )
    if not rows:
        return (say("Neither part gives a figure that both have.", "quiet"),)
    return (Table(("", "What", "Original", "Other", "What it means"), rows),)


def _limits() -> Block:
    return say(
        "The parts were compared alone, joints counting as perfect and no current computed. What a "
        "difference means in a vehicle is what 'loomwright plan' says. The rating printed on a part or given "
        "by its maker outranks anything said here.",
        "quiet",
    )
