"""The sheet of a plan: what a restorer has to know, in the order in which it is needed at the bench."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from planner.messages import tr
from planner.model.plan import WORSE, AlternativeLine, Plan, ProofLine, QuestionLine, RoadFit
from planner.model.vehicle_kind import having
from planner.model.wording import counted
from planner.sheets.build.plan_changes import behaviour_words, changes
from planner.sheets.build.plan_currents import currents
from planner.sheets.build.plan_leads import lead_blocks
from planner.sheets.build.plan_work import card_sections, minutes_words, wires_to_make, work_list
from planner.sheets.build.verdict_words import verdict_words
from planner.sheets.sheet import (
    Block,
    Cell,
    Item,
    Listing,
    Meaning,
    Paragraph,
    Section,
    Sheet,
    Table,
    bullets,
    say,
)

ROAD: Mapping[RoadFit, tuple[str, Meaning]] = MappingProxyType(
    {"yes": ("YES", "good"), "no": ("NO", "bad"), "not-known": ("NOT KNOWN", "warn")}
)
# Beyond this a count is said by its power of ten.
_LONGEST_COUNT = 10**15
_MOST_LOSSES_BESIDE = 5


def plan_sheet(plan: Plan, with_reasons: bool = False, everything: bool = False) -> Sheet:
    """The whole sheet.

    With reasons, the work list gives the facts that each step stands on; with everything, all amps and volts
    are shown and not only the tightest.
    """
    sections = (
        Section("", tuple(_opening(plan))),
        *card_sections(plan),
        Section("Wires to make", wires_to_make(plan)),
        Section("Leads of the kit", lead_blocks(plan.leads)),
        Section("What stops working, what changes, what is gained", changes(plan, with_reasons)),
        Section("What to measure: questions to settle", tuple(questions(plan))),
        Section("Still to settle", (bullets(plan.unsettled, "bad"),) if plan.unsettled else ()),
        Section(
            "May it be driven like this?" if having(plan.kind).road else "May it go out like this?",
            tuple(_road(plan)),
        ),
        Section("Work list", work_list(plan, with_reasons)),
        Section("Alternatives, side by side", tuple(_alternatives(plan))),
        Section("Remarks", _remarks(plan)),
        Section("What this plan does not see", (bullets(plan.not_seen, "warn"),) if plan.not_seen else ()),
        Section("Amps and volts", currents(plan, everything=everything)),
        Section("Cautions", (cautions(plan),)),
        Section("", (_footnote(plan),)),
    )
    return Sheet(plan.title, tuple(section for section in sections if section.blocks))


def _opening(plan: Plan) -> Iterator[Block]:
    word, said, meaning = verdict_words(plan)
    count = len(plan.steps)
    yield Paragraph(
        (
            Cell(tr("Verdict: {word}", word=word), meaning),
            Cell(f"- {said}."),
        )
    )
    steps = counted(count, "step")
    yield say(f"Job: {plan.job}. Loom: {plan.loom}. {steps}, {minutes_words(plan.minutes)} at the bench.")
    if plan.is_demonstration:
        yield say("This is the built-in demonstration, an invented vehicle: no job was named.", "note")


def questions(plan: Plan, write_in: str = "") -> Iterator[Block]:
    """Yield each reading that has to be taken and what each answer means; ``write_in`` names room for it."""
    for number, question in enumerate(plan.questions, 1):
        yield Listing((_question(number, question, write_in),))
        answers = tuple((Cell(reading), Cell(means)) for reading, means in question.answers)
        if answers:
            yield Table((tr("If you find"), tr("it means")), answers)


def _question(number: int, question: QuestionLine, write_in: str) -> Item:
    source = tr(question.source)
    # On paper a rule's name says nothing: there is nobody to ask 'loomwright rule' about it.
    why = (
        tr("source: {source}", source=source)
        if write_in
        else tr("why: {why} ({source})", why=question.because, source=source)
    )
    below = (
        Cell(tr("where: {where}", where=question.where)),
        Cell(tr("how: {how}", how=question.how)),
        Cell(why, "quiet"),
    )
    return Item(Cell(f"{number}.", "warn"), Cell(question.about, "strong"), below, write_in=write_in)


def _road(plan: Plan) -> Iterator[Block]:
    word, meaning = ROAD[plan.road]
    yield say(word, meaning)
    if plan.road_why:
        yield bullets(plan.road_why)
    checked = (
        "lighting, brakes and signalling before the vehicle goes on the road"
        if having(plan.kind).road
        else "navigation lights, horn and bilge pump before the boat leaves its mooring"
    )
    yield say(
        "This is the view of the wiring alone. Local regulations decide, and a licensed or competent person "
        f"has to check {checked}.",
        "note",
    )


def _alternatives(plan: Plan) -> Iterator[Block]:
    if not plan.alternatives:
        return
    rows = [("this plan", plan.minutes, _what_is_lost(plan))]
    rows += [(f"{_letter(n)}: {a.title}", a.minutes, a.loses) for n, a in enumerate(plan.alternatives)]
    yield Table(
        ("Plan", "Bench time", "What it loses"),
        tuple(
            (Cell(title), Cell(minutes_words(minutes)), Cell(_losses(loses)))
            for title, minutes, loses in rows
        ),
    )
    yield Listing(tuple(_alternative(_letter(n), a) for n, a in enumerate(plan.alternatives)))


def _losses(loses: Sequence[str]) -> str:
    """The first few losses and how many more there are, so that plans are seen beside one another."""
    more = len(loses) - _MOST_LOSSES_BESIDE
    told = [*loses[:_MOST_LOSSES_BESIDE], *([f"and {more} more"] if more > 0 else [])]
    return "; ".join(told) or "nothing"


def _what_is_lost(plan: Plan) -> tuple[str, ...]:
    """What the plan itself loses, each once; a memory counts only through the loads it moves."""
    lines = [b for b in plan.behaviours if b.outcome in WORSE | {"missing"} and not b.is_memory]
    hazards = [hazard.text for hazard in plan.hazards if not hazard.was_before]
    strains = [line.text for line in plan.strains if line.is_new and not line.is_wearing]
    return tuple(dict.fromkeys([*map(behaviour_words, lines), *hazards, *strains]))


def _alternative(letter: str, alternative: AlternativeLine) -> Item:
    below = [Cell(f"- {step}") for step in alternative.steps]
    facts = [fact for fact in alternative.facts if fact != alternative.title]
    below += [Cell(f"why: {'; '.join([alternative.because, *facts])}", "quiet")]
    body = (
        "steps of its own; others of this plan may fall away:"
        if alternative.steps
        else "no steps of its own; it leaves out steps of this plan"
    )
    return Item(Cell(f"{letter}:", "strong"), Cell(body), tuple(below))


def _letter(number: int) -> str:
    return chr(ord("A") + number)


def _remarks(plan: Plan) -> tuple[Block, ...]:
    remarks = dict.fromkeys(r for r in plan.remarks if not r.is_open)  # those are still to settle
    items = tuple(
        Item(Cell("-"), Cell(r.text), (Cell(f"why: {r.because} ({r.source})", "quiet"),)) for r in remarks
    )
    return (Listing(items),) if items else ()


def cautions(plan: Plan) -> Listing:
    """Every caution by its number."""
    return Listing(
        tuple(Item(Cell(f"{n}.", "warn"), Cell(tr(text))) for n, text in enumerate(plan.cautions, 1))
    )


def _footnote(plan: Plan) -> Paragraph:
    cheapest = (
        "No cheaper plan does as well: proven."
        if plan.is_proven_cheapest
        else "Not proven cheapest: the search reached its limit."
    )
    return Paragraph((Cell(f"{_proof_words(plan.proof)} {cheapest}", "quiet"),))


def _proof_words(proof: ProofLine) -> str:
    starts = counted(proof.start_states, "start state")
    looms = f"{counted(proof.looms, 'way')} of wiring judged"
    left_out = (
        " Left out is what only shows until the engine stands: without its spark it does not run."
        if proof.engine_needs_spark
        else ""
    )
    return (
        f"Every switch position checked: {_count_words(proof.positions)} positions from {starts}, "
        f"{proof.solved:,} circuits solved, {looms}.{left_out}"
    )


def _count_words(count: int) -> str:
    if count < _LONGEST_COUNT:
        return f"{count:,}"
    digits = str(count)
    return f"about {digits[0]}.{digits[1]} x 10^{len(digits) - 1}"
