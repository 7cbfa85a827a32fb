"""What follows a plan, for jobs that nobody thought of: drawn by chance, and those that once went wrong."""

import re
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import pytest
from bench_work import earthed_posts, put_on, room, same
from followed import (
    bare_between_visits,
    named_too_early,
    new_ends_without_a_go,
    puts_a_fuse_in,
    with_the_wrong_terminal,
)
from planned import catalogue
from taken_back import undo

from planner.engine.packs import installed_rules
from planner.model.bench_sheet import BenchSheet
from planner.model.delta import Add, ChangeFuse, Cover, Fit, Insert, Join, Operation, Piggyback, ReEnd, Renew
from planner.model.elements import Fuse
from planner.model.job import Job
from planner.model.loom import Loom, split_address
from planner.model.plan import PlanStep
from planner.model.ticks import Tick
from planner.pipeline import settled
from planner.problems import FilePlace, InputError
from planner.proof.facts import conductor_facts
from planner.reading.catalogue import read_job, read_loom
from planner.sheets.build.bench import bench_sheet as as_sheet
from planner.sheets.render.markdown import as_markdown
from planner.telling.steps import work_list
from planner.workshop.bench import bench_sheet
from planner.workshop.ends.crimps import is_on_stud
from planner.workshop.halfway.halfway import half_done, ticked_ids
from planner.workshop.materials.pieces import pieces
from planner.workshop.papers.replay import replay
from planner.workshop.steps.worklist import WorkList
from planner.workshop.tasks.task import is_pull

# Jobs that once went wrong; each says how.
KNOWN: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "a relay takes over the end of a new wire": (
        "skarrow-8-doors",
        (
            "{at: cab.interior-lamp, fit: cabin-lamp}",
            "{at: dash.heater-fan, fit: twin-fan-220, mounting: insulated}",
        ),
    ),
    "a resistor in line with a coil that is turned round": (
        "merrowby-26",
        (
            "{at: hull.battery, fit: battery-6v-positive-earth}",
            "{at: hull.coil, fit: ignition-coil-after-ballast, mounting: doubtful}",
        ),
    ),
    "two piggybacks on one terminal": (
        "holmgarth-30",
        (
            "{at: bonnet.coil, fit: relay-make-40}",
            "{at: rear.winch-lamp, fit: headlamp-s1}",
            "{at: dash.lighting, fit: lighting-switch-rated}",
            "{at: dash.fuses, fit: small-car-fuse-block}",
        ),
    ),
    "what hung on a battery is insulated before one goes to the next place": (
        "skarrow-8-doors",
        ("{at: cab.interior-lamp, fit: nothing}", "{at: bay.battery, fit: headlamp-r2-blades}"),
    ),
    "a wire is pulled through from a battery's place before its ends go on": (
        "skarrow-8-instruments",
        (
            "{at: bay.battery, fit: fuse-box-blade-14, mounting: doubtful}",
            "{at: rear.tank-sender, fit: tail-stop-lamp-w21-5w}",
        ),
    ),
    "a wire laid anew to a battery that is out": (
        "brackmoor-20",
        ("{at: bonnet.battery, fit: battery-12v-negative-earth}",),
    ),
}
LOOMS = (
    "brackmoor-20", "drosk-500", "holmgarth-30", "merrowby-26", "skarrow-8-doors", "skarrow-8-indicators",
    "skarrow-8-turn-signals", "ternholm-nine", "vessing-m14", "skarrow-8-heater", "skarrow-8-charging",
)  # fmt: skip
DRAWN = 30
PLAIN = ("bare", "screw", "soldered")  # ends that nothing is crimped on


def read(text: str) -> tuple[Job, Loom]:
    """A job as it would be read from a file, and its loom."""
    with TemporaryDirectory() as folder:
        (Path(folder) / "job.yaml").write_text(text)
        return read_job(Path(folder) / "job.yaml", catalogue())


def drawn(number: int) -> tuple[Job, Loom]:
    """One to four swaps in a vehicle, most of them for a part of the same family."""
    chance = Random(number)
    while True:
        name = chance.choice(LOOMS)
        loom, parts = read_loom(name, catalogue()), list(catalogue().parts.values())
        swaps = []
        for place in chance.sample(sorted(loom.places), min(chance.randint(1, 4), len(loom.places))):
            family = catalogue().parts[loom.places[place].part].family
            kin = [part.part for part in parts if part.family == family]
            fit = chance.choice(kin) if chance.random() < 0.85 else chance.choice(["nothing", *kin])
            mounting = chance.choice(["", "", ", mounting: metal", ", mounting: insulated"])
            swaps.append(f"{{at: {place}, fit: {fit}{mounting if fit != 'nothing' else ''}}}")
        cut = chance.choice(["true", "false"])
        try:
            return read(f"job: drawn\nloom: {name}\nallow_cutting: {cut}\nswaps: [{', '.join(swaps)}]\n")
        except InputError:
            continue  # a part that no vehicle of this supply takes, or the same once more


@lru_cache
def worked(case: str | int) -> tuple[BenchSheet, WorkList, Loom, Loom]:
    """The bench sheet and the work list of a job, and its loom before and after."""
    if isinstance(case, str):
        name, swaps = KNOWN[case]
        job, loom = read(f"job: known\nloom: {name}\nswaps: [{', '.join(swaps)}]\n")
    else:
        job, loom = drawn(case)
    done = settled(job, loom, catalogue(), installed_rules())
    after = done.candidate.loom
    work = work_list(job, loom, catalogue(), done.candidate, done.facts)
    facts = conductor_facts(after, catalogue(), done.compiled)
    return bench_sheet(done.plan, work, job, catalogue(), facts), work, loom, after


pytestmark = pytest.mark.parametrize("case", [*KNOWN, *range(DRAWN)])


def test_done_step_by_step_it_is_the_vehicle_that_was_proven_and_back_the_one_before(case: str | int) -> None:
    _, work, before, after = worked(case)
    done = replay(work.work, work.ordered)
    assert same(done[-1].after if done else before, catalogue()) == same(after, catalogue())
    for stop in range(len(done)):
        back = undo(done[: stop + 1], done[stop].after)
        assert same(back, catalogue()) == same(before, catalogue())


def test_every_end_goes_on_a_terminal_that_is_there_and_has_room(case: str | int) -> None:
    _, work, loom, after = worked(case)
    found = {at: len(ends) for at, ends in loom.ends_at.items()}  # more than it takes, as found: stays so
    for one in replay(work.work, work.ordered):
        for operation in one.operations:
            loom = operation.apply(loom)
            for at in put_on(operation) if not isinstance(operation, Join | Renew) else ():
                if split_address(at)[0] not in ("earth", "joint", "feed", "loose", "unknown"):
                    most = max(room(loom, at, catalogue()), found.get(at, 0), len(after.ends_at.get(at, ())))
                    assert len(loom.ends_at[at]) <= most, (one.task, at)


def test_what_goes_on_the_earthed_post_of_a_battery_goes_on_last(case: str | int) -> None:
    _, work, _, after = worked(case)
    posts = earthed_posts(after, catalogue())
    steps = [
        any(at in posts for operation in one.operations for at in put_on(operation))
        for one in replay(work.work, work.ordered)
        if not isinstance(one.task.operation, Fit)
    ]
    assert steps == sorted(steps)


def test_every_new_wire_is_put_on_once_at_each_end_and_leads_from_one_point_to_another(
    case: str | int,
) -> None:
    _, work, before, after = worked(case)
    goes = Counter(
        (task.wire, end)
        for task in work.ordered
        if isinstance(task.operation, Add) and not is_pull(task, work.work.tasks)
        for end in ((0, 1) if task.end is None else (task.end,))
    )
    leads = {t.operation.lead.wire for t in work.ordered if isinstance(t.operation, Insert)}
    for wire in after.wires:
        if wire.wire not in before.wire_index and wire.wire not in leads:
            assert (goes[wire.wire, 0], goes[wire.wire, 1]) == (1, 1)
            assert len({end.at for end in wire.ends}) == len(wire.ends) == 2
            assert "loose" not in {end.at for end in wire.ends}


def test_the_steps_can_be_followed(case: str | int) -> None:
    _, work, before, after = worked(case)
    assert list(named_too_early(work)) == []
    assert list(new_ends_without_a_go(work)) == []
    assert list(bare_between_visits(work)) == []
    assert list(puts_a_fuse_in(work, catalogue())) == []
    assert list(with_the_wrong_terminal(before, after, catalogue())) == []


def own_fuses(work: WorkList, operation: Operation) -> list[Fuse]:
    """The fuses that a fitted part takes, but for those that the plan changes for others."""
    if not isinstance(operation, Fit | Insert):
        return []
    changed = {o.at for o in (task.operation for task in work.ordered) if isinstance(o, ChangeFuse)}
    part = catalogue().parts[operation.place.part]
    sides = (
        (e, {f"{operation.at}:{mark}" for mark in e.between}) for e in part.inside if isinstance(e, Fuse)
    )
    return [fuse for fuse, addresses in sides if not addresses & changed]


def ends_off_for_a_while(step: PlanStep) -> int:
    """The ends that a step insulates until another, or because the old wire may stay, by its words."""
    both = 2 * step.text.count("tie both its ends back")
    return (step.do == "hold") + len(re.findall(r" until step \d+", step.text)) + both


def test_what_is_needed_is_what_the_steps_use(case: str | int) -> None:
    sheet, work, *_ = worked(case)
    # What must not be live stays off at first power, insulated: that is step 0.
    used: Counter[tuple[int, str]] = Counter({(0, "cap"): sum(len(off.ends) for off in sheet.left_off)})
    kinds = {Fit: "part", Insert: "part", Piggyback: "piggyback", ChangeFuse: "fuse", Cover: "cap"}
    for number, task in enumerate(work.ordered, 1):
        used[number, kinds.get(type(task.operation), "")] += 1
        if isinstance(task.operation, ReEnd) and task.operation.fitting not in PLAIN:
            legs = work.names.wire(task.operation.wire).areas_at(task.operation.end)
            # On a stud that joins, each wire of a leg to either side has a ring of its own.
            used[number, "terminal"] += len(legs) if is_on_stud(work.names, task.operation) else 1
        used[number, "fuse"] += len(own_fuses(work, task.operation))
        used[number, "cap"] += ends_off_for_a_while(sheet.step(number))
    for piece in pieces(work.names, work.ordered):
        for end in piece.ends:
            is_its_own = end.at not in piece.goes_with and not piece.from_stock
            used[end.step, "terminal"] += end.fitting not in PLAIN and is_its_own
    named = {*kinds.values(), "terminal"}
    needed = Counter({(u.step, m.kind): 0 for m in sheet.materials for u in m.uses})
    for line in sheet.materials:
        for use in line.uses:
            needed[use.step, line.kind] += int(use.amount) if line.kind in named else 0
    assert +needed == +Counter({key: count for key, count in used.items() if key[1] in named})


def test_however_far_one_is_the_rest_is_told_and_nothing_that_is_done(case: str | int) -> None:
    sheet, *_ = worked(case)
    ids = [step.id for step in sheet.plan.steps]
    assert len(ids) == len(set(ids))
    for stop in {0, len(ids) // 2, len(ids)}:
        ticks = [Tick(str(n), FilePlace("done.txt", n, 1)) for n in range(1, stop + 1)]
        half = half_done(sheet, ticked_ids(sheet, ticks), sheet)
        assert half.done == tuple(range(1, stop + 1)) and not half.warnings and not half.taken_back
        assert all(step > stop for line in half.materials for step in line.steps)
        assert all(label.step > stop for label in half.labels)
        assert "new-" not in as_markdown(as_sheet(half))
