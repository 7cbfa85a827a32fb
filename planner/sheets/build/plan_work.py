"""Cards per part, wires to make and the work list of a plan."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from planner.messages import tr
from planner.model.plan import Card, CardRow, Plan, PlanStep
from planner.sheets.sheet import Block, Cell, Item, Listing, Meaning, Section, Table, say

MOUNTINGS: Mapping[str, str] = MappingProxyType(
    {
        "metal": "mounted on metal",
        "insulated": "mounted on something that does not conduct",
        "doubtful": "mounted where nobody knows whether it is earthed: measure",
    }
)
_BATTERY_OFF = 1  # the caution that concerns every step
# The other cautions, by number, that concern a kind of step; each stands again at the first step it concerns.
_CONCERNS: Mapping[str, tuple[int, ...]] = MappingProxyType(
    {
        "remove": (4,),
        "cut": (3, 6, 8),
        "re-end": (3, 8),
        "extend": (3, 8, 9),
        "piggyback": (8,),
        "hold": (4, 6),
        "move": (3, 4),
        "join": (6, 8),
        "insert": (7, 8, 9),
        "add": (7, 8, 9),
        "connect": (8,),
        "cover": (6,),
        "renew": (3, 7, 8, 9),
        "fuse": (7,),
        "supply": (2,),
    }
)
_MADE = ("add", "insert", "renew")


def card_sections(plan: Plan) -> tuple[Section, ...]:
    """One section for each part that is fitted, changed or removed."""
    return tuple(Section(f"Part: {card.title}", tuple(_card(card))) for card in plan.cards)


def wires_to_make(plan: Plan) -> tuple[Block, ...]:
    """Every wire that is not there yet, or that none is needed."""
    items = tuple(
        Item(Cell(f"{step.n}.", "strong"), Cell(step.text), (Cell(minutes_words(step.minutes), "quiet"),))
        for step in plan.steps
        if step.do in _MADE
    )
    if not items:
        return (say("None: the wires that are there are enough.", "good"),)
    return (say("Numbered as in the work list.", "quiet"), Listing(items))


def work_list(plan: Plan, with_reasons: bool) -> tuple[Block, ...]:
    """The steps in order, each with its why; a caution stands again at the first step it concerns."""
    if not plan.steps:
        return (say("Nothing to do."),)
    said: set[int] = set()
    items = []
    for step in plan.steps:
        concern = [n for n in concerns(step, said) if n <= len(plan.cautions)]
        minds = tuple(Cell(f"caution {n}: {plan.cautions[n - 1]}", "warn") for n in concern)
        items.append(_step(step, minds, with_reasons))
    steps = Listing(tuple(items))
    if plan.questions:
        return (say("Take the readings above first: an answer may change these steps.", "warn"), steps)
    return (steps,)


def concerns(step: PlanStep, said: set[int]) -> tuple[int, ...]:
    """The cautions that a step is the first to concern; they are added to those that were ``said``."""
    found = tuple(n for n in sorted({_BATTERY_OFF, *_CONCERNS.get(step.do, ())}) if n not in said)
    said.update(found)
    return found


def minutes_words(minutes: float) -> str:
    """Bench time as people say it: ``about 40 min``."""
    whole = max(1, round(minutes)) if minutes else 0
    hours, rest = divmod(whole, 60)
    if not hours:
        return tr("about {minutes} min", minutes=rest)
    if not rest:
        return tr("about {hours} h", hours=hours)
    return tr("about {hours} h {minutes} min", hours=hours, minutes=rest)


def _card(card: Card) -> Iterator[Block]:
    yield say(_swap_words(card))
    if card.rows:
        headings = ("Mark", "Wire", "Was on", "Goes to", "Step")
        yield Table(headings, tuple(_row(row) for row in card.rows))


def _swap_words(card: Card) -> str:
    mounting = MOUNTINGS.get(card.mounting, card.mounting)
    if not card.old_part:
        return f"New here: {card.new_part}; {mounting}."
    if not card.new_part:
        return f"Comes out: {card.old_part}."
    return f"Out: {card.old_part}. In: {card.new_part}; {mounting}."


def _row(row: CardRow) -> tuple[Cell, ...]:
    wire = f"{row.colour} ({row.wire})" if row.wire else "no wire"
    meaning: Meaning = "strong" if row.is_changed else "quiet"
    steps = ", ".join(str(n) for n in row.steps) or "-"
    return (
        Cell(row.mark, meaning),
        Cell(wire, meaning),
        Cell(row.was_on or "-", meaning),
        Cell(row.goes_to, meaning),
        Cell(steps, "quiet"),
    )


def _step(step: PlanStep, minds: tuple[Cell, ...], with_reasons: bool) -> Item:
    below = list(minds)
    if not step.reversible:
        below.append(Cell("this cannot be undone", "warn"))
    if with_reasons:
        below += [Cell(f"fact: {fact}", "quiet") for fact in step.facts]
    below.append(Cell(f"why: {', '.join(step.because)} ({step.source})", "quiet"))
    return Item(Cell(f"{step.n}.", "strong"), Cell(step.text), tuple(below))
