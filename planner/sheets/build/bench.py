"""The sheet that is taken to the vehicle: cautions, steps by place, first power, materials, the way back."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from planner.messages import later, tr, tr_count
from planner.model.bench_sheet import BenchSheet, Visit
from planner.model.picture import PictureKind
from planner.model.plan import WORSE, Plan, PlanStep, Verdict
from planner.model.vehicle_kind import having
from planner.sheets.build.bench_engine import blind_words, engine_tests
from planner.sheets.build.bench_materials import cutting, labels, making, materials
from planner.sheets.build.bench_meter import dead_tests, live_tests
from planner.sheets.build.bench_power import before_work, first_power
from planner.sheets.build.bench_undo import way_back
from planner.sheets.build.flashers import flashers_staying
from planner.sheets.build.listed import listed
from planner.sheets.build.plan import cautions, questions
from planner.sheets.build.plan_changes import with_when, worked_otherwise
from planner.sheets.build.plan_work import concerns, minutes_words
from planner.sheets.build.step_reasons import reason_words
from planner.sheets.build.to_buy import to_buy
from planner.sheets.build.verdict_words import verdict_words
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

# What stands on every page of a plan that is not to be carried out as it is.
WARNINGS: Mapping[Verdict, str] = MappingProxyType(
    {
        "unsafe": later("UNSAFE: these steps must not be done. See the first page."),
        "unsettled": later("UNSETTLED: this plan is not complete. See the first page."),
        "measure": later("MEASURE FIRST: a reading may change these steps. See the first page."),
    }
)

_SAID_OF = ": "  # between a place and what is said of it


def bench_sheet(bench: BenchSheet) -> Sheet:
    """The whole sheet."""
    plan = bench.plan
    sections = (
        Section("", tuple(_opening(bench))),
        Section(tr("Cautions"), (cautions(plan),)),
        Section(tr("What to measure first"), tuple(questions(plan, tr("reading")))),
        Section(tr("Still to settle"), (bullets(plan.unsettled, "bad"),) if plan.unsettled else ()),
        Section(tr("Bear in mind"), _remarks(plan)),
        Section(tr("What has been done"), tuple(_done(bench))),
        Section(tr("Before the work"), before_work(bench)),
        *_visits(bench),
        Section(tr("Meter page: with the battery off"), dead_tests(bench), begins="whole"),
        Section(tr("First power"), first_power(bench), begins="whole"),
        Section(tr("Meter page: at full power"), live_tests(bench), begins="whole"),
        Section(tr("Starting and charging"), engine_tests(bench), begins="whole"),
        Section(tr("The circuits, before and after"), _pictures(bench, "circuit")),
        Section(tr("The whole loom"), _pictures(bench, "loom")),
        Section(tr("Wires to make"), making(bench), begins="whole"),
        Section(tr("Materials"), materials(bench)),
        Section(tr("Cutting plan"), cutting(bench), begins="together"),
        Section(tr("Labels"), labels(bench), begins="together"),
        *way_back(bench),
    )
    return Sheet(
        tr("Bench sheet: {title}", title=plan.title),
        tuple(section for section in sections if section.blocks),
        tr(WARNINGS[plan.verdict]) if plan.verdict in WARNINGS else "",
    )


def _opening(bench: BenchSheet) -> Iterator[Block]:
    plan = bench.plan
    word, said, meaning = verdict_words(plan)
    yield Paragraph((Cell(tr("Verdict: {word}", word=word), meaning), Cell(f"- {said}.")))
    if plan.verdict == "unsafe":
        hazards = [hazard.text for hazard in plan.hazards if not hazard.was_before]
        strains = [line.text for line in plan.strains if line.is_new and line.is_dangerous]
        yield bullets((*hazards, *strains), "bad")
        yield say(tr("Settle this first: what follows are the steps of a plan that must not be done."), "bad")
    left = [step for step in plan.steps if step.n not in bench.done]
    minutes = minutes_words(sum(step.minutes for step in left))
    count = len(left)
    steps = tr_count("{count} step", "{count:,} steps", count)
    if bench.done:
        steps = tr_count("{count} step left", "{count:,} steps left", count)
    yield say(
        tr(
            "Job: {job}. Loom: {loom}. {steps}, {minutes} at the bench.",
            job=plan.job,
            loom=plan.loom,
            steps=steps,
            minutes=minutes,
        )
    )
    if bench.done and not left:
        yield say(tr("Every step is done: what is left is the meter page and first power."), "good")
    otherwise = [line for line in plan.behaviours if line.outcome == "otherwise"]
    if otherwise:
        yield say(tr("After these steps another control works this:"), "note")
        yield bullets(tuple(f"{instead}: {loads}" for instead, loads in worked_otherwise(otherwise)), "note")
    dead = [hazard for hazard in plan.hazards if not hazard.was_before and plan.verdict != "unsafe"]
    if dead:
        yield say(tr("After these steps, and not before:"), "warn")
        yield bullets(tuple(f"{hazard.text}; {hazard.when}" for hazard in dead), "warn")
    yield from _worse(plan)
    told = plan.verdict == "unsafe"
    over = [
        line.text
        for line in plan.strains
        if line.is_new and not line.is_wearing and not (told and line.is_dangerous)
    ]
    if over:
        yield say(tr("After these steps this is too much, too little or the wrong way round:"), "warn")
        yield bullets(tuple(dict.fromkeys(over)), "warn")
    yield from _wears(plan)
    yield from _of_the_supply(bench)
    yield from _stays_put(plan)
    for gauge in bench.engine.oil_blind if bench.engine is not None else ():
        yield say(tr("Do not run the engine like that: {blind}.", blind=blind_words(gauge)), "bad")
    yield from _new(plan)
    yield from to_buy(bench)
    for staying in flashers_staying(bench):
        yield say(staying, "note")
    if plan.steps and not bench.done:  # changes of place are counted and proven for the whole list
        yield say(_walk_words(bench), "quiet")
    yield from _readings(plan)
    if plan.is_demonstration:
        yield say(tr("This is the built-in demonstration, an invented vehicle: no job was named."), "note")


def _is_all(plan: Plan) -> bool:
    """Whether what is lost is all: where the volts change, or a limit is passed, more is not as it was."""
    passed = any(line.is_new and not line.is_wearing for line in plan.strains)
    return not passed and all(step.do != "supply" for step in plan.steps)


def _worse(plan: Plan) -> Iterator[Block]:
    """Yield what does not work as it did, and what was wanted and does not come of the steps."""
    all_worse = [line for line in plan.behaviours if line.outcome in WORSE and not line.is_memory]
    if wished := [line for line in all_worse if line.as_wished]:
        yield say(tr("After these steps, as the job wants it:"))
        yield bullets(with_when(wished))
    worse = [line for line in all_worse if not line.as_wished]
    if worse:
        is_known = all(line.accepted for line in worse)
        wanted = tr("What goes with the old parts, which the job knows of:")
        yield say(
            wanted if is_known else tr("After these steps something no longer works as it did:"), "warn"
        )
        yield bullets(with_when(worse), "warn")
        if plan.verdict in ("losses", "no-loss") and _is_all(plan):
            yield say(tr("Everything else works as it did."))
    if missing := [line for line in plan.behaviours if line.outcome == "missing"]:
        yield say(tr("What is wanted, and these steps do not bring:"), "warn")
        yield bullets(with_when(missing), "warn")


def _new(plan: Plan) -> Iterator[Block]:
    """Yield what is new, and what is neither better nor worse for it."""
    if gained := [line for line in plan.behaviours if line.outcome == "gained"]:
        yield say(tr("What is new then:"))
        yield bullets(with_when(gained))
    if unused := [line for line in plan.behaviours if line.outcome == "unused"]:
        yield say(
            tr("What a new part could do besides, and nothing here has it do; nothing is lost by it:"), "note"
        )
        yield bullets(with_when(unused), "note")
    if stepping := [line for line in plan.behaviours if line.is_memory]:
        yield say(
            tr("What steps otherwise than before; what a load does otherwise for it is told above:"), "note"
        )
        yield bullets(with_when(stepping), "note")


def _readings(plan: Plan) -> Iterator[Block]:
    """Yield when the readings are taken: first, but for those that want the work done."""
    if not all(question.after_work for question in plan.questions):
        yield say(tr("Take the readings below first: an answer may change these steps."), "warn")
    if any(question.after_work for question in plan.questions):
        yield say(
            tr(
                "A reading below can only be taken when all steps are done: it tells whether something has "
                "to be added then."
            ),
            "warn",
        )


def _wears(plan: Plan) -> Iterator[Block]:
    """Yield what passes a usual limit and works as before, which the verdict does not name."""
    lines = [line for line in plan.strains if line.is_new and line.is_wearing]
    if hot := [f"{line.text}; {line.when}" for line in lines if line.gets_hot]:
        yield say(
            tr(
                "After these steps this gets hot while all of it is on, and its spring goes soft with time. "
                "Where it has more than one blade, the wire that brings most goes on a blade of its own, the "
                "others on the other; else let a relay carry the heaviest load. Feel it after ten minutes "
                "with all of it on: what cannot be touched for long is not left so:"
            ),
            "warn",
        )
        yield bullets(tuple(hot), "warn")
    if worn := [f"{line.text}; {line.when}" for line in lines if not line.gets_hot]:
        only = tr("After these steps this is past what is usual: it wears sooner, or dims:")
        yield say(only, "note")
        yield bullets(tuple(worn), "note")


def _of_the_supply(bench: BenchSheet) -> Iterator[Block]:
    """Yield what a battery of other volts does to what this loom does not show, and which pole feeds.

    With the positive pole earthed a red wire on a minus looks wrong.
    """
    if bench.after.supply.earthed == "positive":
        yield say(
            tr(
                "The positive pole is earthed here: every feed is minus, whatever its colour. A part that is "
                "marked + and - has its - on the feed and its + on the way to earth; where a step says "
                "otherwise, ask its maker before it is fed whether it works either way round, unless the "
                "step says that it does."
            ),
            "note",
        )
    was, now = bench.before.supply.volts, bench.after.supply.volts
    if was != now:
        yield say(
            tr(
                "What this loom does not show, such as dynamo or alternator, starter and ignition, is still "
                "made for {was:g} V: see to it that each is changed or off before the battery of {now:g} V "
                "goes on, and start no engine whose generator gives {was:g} V.",
                was=was,
                now=now,
            ),
            "warn",
        )


def _stays_put(plan: Plan) -> Iterator[Block]:
    """Yield what follows where lights, signals, horn or wipers are lost; an unsafe plan says more."""
    if plan.road == "no" and plan.verdict != "unsafe":
        yield say(
            tr("As long as that is so, do not take it on the road, and tow no trailer with it.")
            if having(plan.kind).road
            else tr("As long as that is so, do not leave the mooring with it."),
            "bad",
        )


def _walk_words(bench: BenchSheet) -> str:
    words = tr_count(
        "The steps are grouped by place: {count} change of place",
        "The steps are grouped by place: {count:,} changes of place",
        bench.changes,
    )
    if bench.is_shortest and bench.changes == bench.changes_at_least:
        return tr("{words}, and no order that keeps what must come first has fewer (proven).", words=words)
    least = bench.changes_at_least
    return tr(
        "{words}; no order has fewer than {least}, fewer than this was not found.", words=words, least=least
    )


def _remarks(plan: Plan) -> tuple[Block, ...]:
    """What the plan remarks on, such as a dynamo to be polarised: at the vehicle one has this sheet only.

    What is said of several places in the same words is said once.
    """
    places: dict[str, dict[str, None]] = {}
    for line in plan.remarks:
        if line.because != "proof" and not line.is_open:
            place, _, said = line.text.partition(_SAID_OF)
            places.setdefault(said or line.text, {})[place if said else ""] = None
    texts = tuple(_SAID_OF.join(filter(None, (", ".join(of), said))) for said, of in places.items())
    return (bullets(texts),) if texts else ()


def _done(bench: BenchSheet) -> Iterator[Block]:
    if bench.warnings:
        yield bullets(bench.warnings, "warn")
    if bench.mends:
        yield say(tr("To be mended, in the order in which you come by it:"), "warn")
        yield ticked(bench.mends, "mend")
    if bench.taken_back:
        yield say(tr("Steps that are ticked and that this plan has no more: take them back first."), "warn")
        yield ticked((line.text for line in bench.taken_back), "take back")
    if bench.done:
        items = tuple(_item(bench, bench.step(number), ()) for number in bench.done)
        yield Listing(items)


def _visits(bench: BenchSheet) -> Iterator[Section]:
    """Yield one section for each place that there still is something to do at."""
    said: set[int] = set()
    drawn: dict[str, int] = {}
    zone: str | None = None
    for number, visit in enumerate(bench.visits, 1):
        left = [bench.step(n) for n in visit.steps if n not in bench.done]
        if left:
            steps = Listing(tuple(_steps(bench, left, said)))
            # At a later visit the same pictures would only take room: it says where they are.
            seen = drawn.setdefault(visit.place, number)
            pictures: tuple[Block, ...] = _pictures(bench, "place", visit.place)
            if seen != number and pictures:
                pictures = (say(tr("Its terminals are drawn at place {number}", number=seen), "quiet"),)
            # A place without pictures is a few steps: it may stand below the place before, and so may one in
            # the same part of the vehicle, and the first below what is done before the work.
            is_apart = zone is not None and bool(pictures) and seen == number and visit.zone != zone
            yield Section(_heading(number, visit), (steps, *pictures), "page" if is_apart else "whole")
            zone = visit.zone if visit.place else zone  # what is done anywhere stands above the next place


def _pictures(bench: BenchSheet, kind: PictureKind, place: str = "") -> tuple[Figure, ...]:
    """The pictures of a kind; of places those of one place."""
    return tuple(Figure(p) for p in bench.pictures if p.kind == kind and p.place == place)


def _heading(number: int, visit: Visit) -> str:
    where = f" ({visit.zone})" if visit.zone and visit.zone not in visit.title else ""
    return tr("Place {number}: {title}", number=number, title=f"{visit.title}{where}")


def _steps(bench: BenchSheet, steps: list[PlanStep], said: set[int]) -> Iterator[Item]:
    for step in steps:
        yield _item(bench, step, concerns(step, said))


def _item(bench: BenchSheet, step: PlanStep, concern: tuple[int, ...]) -> Item:
    is_done = step.n in bench.done
    below = [
        Cell(tr("caution {n}: {text}", n=n, text=tr(bench.plan.cautions[n - 1])), "warn") for n in concern
    ]
    if not is_done:
        below += [Cell(said, "quiet") for said in reason_words(step)]
    if not step.reversible:
        below.append(Cell(tr("this cannot be undone"), "warn"))
    text, ends = (step.text, ()) if is_done else listed(step.text, step.ends)
    body = Cell(text, "quiet" if is_done else "plain")
    return Item(Cell(f"{step.n}.", "strong"), body, (*ends, *below), tick=step.id, is_ticked=is_done)
