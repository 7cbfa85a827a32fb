"""The sheet that is taken to the vehicle: cautions, steps by place, first power, materials, the way back."""

from collections.abc import Iterator

from planner.model.bench_sheet import BenchSheet, Visit
from planner.model.picture import PictureKind
from planner.model.plan import PlanStep
from planner.model.wording import counted
from planner.sheets.build.bench_materials import cutting, labels, making, materials
from planner.sheets.build.bench_power import before_work, first_power
from planner.sheets.build.bench_undo import way_back
from planner.sheets.build.listed import listed
from planner.sheets.build.plan import VERDICTS, cautions, questions
from planner.sheets.build.plan_changes import behaviour_words
from planner.sheets.build.plan_work import CONCERNS, minutes_words
from planner.sheets.sheet import (
    Block,
    Cell,
    Figure,
    Item,
    Listing,
    Paragraph,
    Section,
    Sheet,
    bullets,
    say,
    ticked,
)


def bench_sheet(bench: BenchSheet) -> Sheet:
    """The whole sheet."""
    plan = bench.plan
    sections = (
        Section("", tuple(_opening(bench))),
        Section("Cautions", (cautions(plan),)),
        Section("What to measure first", tuple(questions(plan))),
        Section("Still to settle", (bullets(plan.unsettled, "bad"),) if plan.unsettled else ()),
        Section("What has been done", tuple(_done(bench))),
        Section("Before the work", before_work(bench)),
        *_visits(bench),
        Section("First power", first_power(bench), starts_page=True),
        Section("The circuits, before and after", _pictures(bench, "circuit"), starts_page=True),
        Section("The whole loom", _pictures(bench, "loom"), starts_page=True),
        Section("Wires to make", making(bench), starts_page=True),
        Section("Materials", materials(bench)),
        Section("Cutting plan", cutting(bench)),
        Section("Labels", labels(bench), starts_page=True),
        *way_back(bench),
    )
    return Sheet(f"Bench sheet: {plan.title}", tuple(section for section in sections if section.blocks))


def _opening(bench: BenchSheet) -> Iterator[Block]:
    plan = bench.plan
    word, said, meaning = VERDICTS[plan.verdict]
    yield Paragraph((Cell(f"Verdict: {word}", meaning), Cell(f"- {said}.")))
    if plan.verdict == "unsafe":
        hazards = [hazard.text for hazard in plan.hazards if not hazard.was_before]
        strains = [line.text for line in plan.strains if line.is_new and line.is_dangerous]
        yield bullets((*hazards, *strains), "bad")
        yield say("Settle this first: what follows are the steps of a plan that must not be done.", "bad")
    left = [step for step in plan.steps if step.n not in bench.done]
    minutes = minutes_words(sum(step.minutes for step in left))
    yield say(
        f"Job: {plan.job}. Loom: {plan.loom}. {counted(len(left), 'step')}"
        f"{' left' if bench.done else ''}, {minutes} at the bench. "
        f"What works afterwards, and what does not: loomwright plan {plan.job}."
    )
    worse = [line for line in plan.behaviours if line.outcome not in ("kept", "gained")]
    if worse:
        yield say("After these steps something no longer works as it did:", "warn")
        yield bullets(tuple(behaviour_words(line) for line in worse), "warn")
    if plan.steps:
        yield say(_walk_words(bench), "quiet")
    if plan.questions:
        yield say("Take the readings below first: an answer may change these steps.", "warn")
    if plan.is_demonstration:
        yield say("This is the built-in demonstration, an invented vehicle: no job was named.", "note")


def _walk_words(bench: BenchSheet) -> str:
    words = f"The steps are grouped by place: {counted(bench.changes, 'change')} of place"
    if bench.is_shortest and bench.changes == bench.changes_at_least:
        return f"{words}, and no order that keeps what must come first has fewer (proven)."
    return f"{words}; no order has fewer than {bench.changes_at_least}, fewer than this was not found."


def _done(bench: BenchSheet) -> Iterator[Block]:
    if bench.warnings:
        yield bullets(bench.warnings, "warn")
    if bench.mends:
        yield say("To be mended before the next step:", "warn")
        yield ticked(bench.mends, "mend")
    if bench.taken_back:
        yield say("Steps that are ticked and that this plan has no more: take them back first.", "warn")
        yield ticked((line.text for line in bench.taken_back), "take back")
    if bench.done:
        items = tuple(_item(bench, bench.step(number), ()) for number in bench.done)
        yield Listing(items)


def _visits(bench: BenchSheet) -> Iterator[Section]:
    """Yield one section for each place that there still is something to do at."""
    said: set[int] = set()
    for number, visit in enumerate(bench.visits, 1):
        left = [bench.step(n) for n in visit.steps if n not in bench.done]
        if left:
            steps = Listing(tuple(_steps(bench, left, said)))
            blocks: tuple[Block, ...] = (steps, *_pictures(bench, "place", visit.place))
            yield Section(_heading(number, visit), blocks, starts_page=True)


def _pictures(bench: BenchSheet, kind: PictureKind, place: str = "") -> tuple[Figure, ...]:
    """The pictures of a kind; of places those of one place."""
    return tuple(Figure(p) for p in bench.pictures if p.kind == kind and p.place == place)


def _heading(number: int, visit: Visit) -> str:
    where = f" ({visit.zone})" if visit.zone and visit.zone not in visit.title else ""
    return f"Place {number}: {visit.title}{where}"


def _steps(bench: BenchSheet, steps: list[PlanStep], said: set[int]) -> Iterator[Item]:
    for step in steps:
        concern = [n for n in CONCERNS.get(step.do, ()) if n not in said]
        said |= set(concern)
        yield _item(bench, step, tuple(concern))


def _item(bench: BenchSheet, step: PlanStep, concern: tuple[int, ...]) -> Item:
    is_done = step.n in bench.done
    below = [Cell(f"caution {n}: {bench.plan.cautions[n - 1]}", "warn") for n in concern]
    if not step.reversible:
        below.append(Cell("this cannot be undone", "warn"))
    text, ends = (step.text, ()) if is_done else listed(step.text, step.ends)
    body = Cell(text, "quiet" if is_done else "plain")
    return Item(Cell(f"{step.n}.", "strong"), body, (*ends, *below), tick=step.id, is_ticked=is_done)
