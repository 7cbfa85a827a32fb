"""The plans of the shipped jobs, each made once, and what a plan says in sets that a test can compare."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import product

from planner.currents.currents import Currents
from planner.engine.packs import installed_rules
from planner.model.bench_sheet import BenchSheet
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.plan import BehaviourLine, Plan, PlanStep, StrainLine
from planner.model.reach import conductor
from planner.pipeline import open_catalogue, settle
from planner.proof.facts import conductor_facts
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job
from planner.telling.describe import describe
from planner.telling.steps import work_list
from planner.workshop.bench import bench_sheet
from planner.workshop.steps.worklist import WorkList

Position = frozenset[tuple[str, str]]
Positions = frozenset[Position]

JOBS = (
    "two-speed-wipers",
    "two-speed-switch-only",
    "two-speed-motor-only",
    "dip-relay-five-to-four",
    "dip-relay-four-to-five",
    "fuse-box-without-tap",
    "fuse-box-mirrored",
    "interior-lamp-without-earth",
    "hazard-flasher",
    "hazard-flasher-insulated-panel",
    "lighting-switch-one-feed",
    "ignition-switch-without-accessory",
    "ignition-switch-accessory-drops",
    "trailer-socket-13",
    "changeover-relay-layout",
    "horn-earthed-by-body",
    "horn-and-push",
    "horn-and-relay",
    "two-ends-trade",
    "feed-of-unknown-nature",
    "tractor-to-12-volts",
    "tractor-to-12-volts-new-wiper",
    "car-to-negative-earth",
    "car-to-negative-earth-new-radio",
    "hauler-to-12-volts",
    "tractor-to-negative-earth",
    "whole-van",
    "brighter-headlamps",
    "headlamps-of-the-old-watts",
    "electric-fan",
    "small-electric-fan",
    "stronger-heater-on-a-piggyback",
    "heater-like-the-old-one",
    "fuse-box-with-larger-fuses",
    "fuse-box-with-like-fuses",
    "lamp-on-a-poor-earth",
    "lamp-on-a-sound-earth",
    "stronger-foot-heater",
    "foot-heater-like-the-old-one",
    "led-rear-lamps",
    "led-rear-lamps-and-flasher",
    "led-indicators",
    "led-indicators-own-earth",
    "dynamo-to-alternator",
    "dynamo-to-small-alternator",
    "alternator-with-led-charge-lamp",
    "fuel-gauge-of-another-year",
    "fuel-gauge-and-sender",
    "route-recorder",
    "route-recorder-ignition",
    "door-warning-lamp",
    "door-warning-lamp-always-live",
    "gauge-stabiliser-lost",
    "gauge-with-own-stabiliser",
    "ballast-coil",
    "sports-coil",
    "fan-in-a-bundle",
    "fan-on-its-own-wire",
    "launch-horn-earthed-by-body",
    "launch-battery-isolator",
    "launch-earthed-tank-sender",
    "launch-wiper-switched-in-its-feed",
    "launch-two-speed-wiper",
    "launch-to-negative-earth",
    "launch-torpedo-to-blade",
    "launch-led-navigation-lamps",
    "launch-magnet-bilge-pump",
    "forestry-horn-relay-of-12-volts",
    "forestry-electronic-ignition",
    "minibus-alternator-built-in",
    "minibus-standard-radio",
    "minibus-courtesy-delay",
    "minibus-led-tail-lamps",
    "minibus-oil-gauge-on-the-switch",
    "minibus-oil-gauge-and-sender",
    "minibus-electronic-ignition",
    "minibus-inhibitor-start-only",
    "minibus-bulb-check-out",
    "three-terminal-flasher",
    "trailer-socket-converter",
    "regulator-of-three-units",
    "regulator-of-two-units",
    "trailer-led-lamps",
    "hazard-switch-of-all-poles",
    "headlamps-with-two-relays",
    "wipers-switched-in-their-return",
    "launch-push-meant-for-the-feed",
    "key-switch-and-starter-push",
)
_WORK: dict[str, WorkList] = {}  # by job, of those that are settled


@lru_cache
def catalogue() -> Catalogue:
    """The shipped catalogue, read once."""
    return open_catalogue()


@lru_cache
def settled(job: str) -> tuple[Plan, Loom]:
    """The plan of a shipped job and the loom that it leaves behind, made once in a run of the tests."""
    read, loom = read_job(job, catalogue())
    prover = Prover(loom, catalogue(), read)
    currents = Currents(prover)
    choice = settle(read, loom, catalogue(), installed_rules(), prover, currents)
    candidate = choice.chosen.candidate
    strains = currents.strains(candidate.loom)
    _WORK[job] = work_list(read, loom, catalogue(), candidate, prover.facts, strains)
    proof = prover.prove(candidate.loom)
    return describe(read, loom, catalogue(), choice, prover, proof, currents), candidate.loom


def planned(job: str) -> Plan:
    """The plan of a shipped job."""
    return settled(job)[0]


@lru_cache
def conductor_before(job: str, address: str) -> frozenset[str]:
    """Every address on one conductor of a job's loom before."""
    _, loom = read_job(job, catalogue())
    return frozenset(conductor(loom, address))


# -- the work ------------------------------------------------------------------------------------------------


def steps(plan: Plan, do: str) -> list[PlanStep]:
    """The steps of one kind, in their order."""
    return [step for step in plan.steps if step.do == do]


def moved(plan: Plan) -> set[tuple[str, str, str]]:
    """Wire, old and new terminal of each end that is moved."""
    return {(s.fields["wire"], s.fields["from"], s.fields["to"]) for s in steps(plan, "move")}


def made(plan: Plan) -> dict[frozenset[str], PlanStep]:
    """The new wires by the pair of their ends."""
    wires = {frozenset((s.fields["from"], s.fields["to"])): s for s in steps(plan, "add")}
    assert len(wires) == len(steps(plan, "add")), "two new wires between the same terminals"
    return wires


def pair(one: str, other: str) -> frozenset[str]:
    """The two ends of a new wire, whichever is named first."""
    return frozenset((one, other))


def covered(plan: Plan) -> set[tuple[str | None, str]]:
    """What is insulated: a wire's end by the terminal it came from, or a bare terminal (no wire)."""
    return {(s.fields.get("wire"), s.fields["at"]) for s in steps(plan, "cover")}


def piggybacked(plan: Plan) -> list[str]:
    """The terminals that are given one more tab."""
    return sorted(s.fields["at"] for s in steps(plan, "piggyback"))


def joined(plan: Plan) -> set[frozenset[str]]:
    """The wires of each joiner that is made of loose ends."""
    return {frozenset(step.fields["wires"]) for step in steps(plan, "join")}


def held(plan: Plan) -> set[tuple[str, str]]:
    """Ends that are taken off and kept aside, insulated, by wire and terminal."""
    return {(s.fields["wire"], s.fields["at"]) for s in steps(plan, "hold")}


def staying(plan: Plan, place: str) -> set[tuple[str, str]]:
    """Wire and mark of each end that goes on the same mark of the new part."""
    (card,) = [card for card in plan.cards if card.at == place]
    return {(row.wire, row.was_on) for row in card.rows if row.wire and not row.is_changed}


def fitted(plan: Plan) -> dict[str, str]:
    """The part that is fitted at each place, whoever asks for it."""
    return {step.fields["at"]: step.fields["part"] for step in steps(plan, "fit")}


def inserted(plan: Plan) -> dict[str, str]:
    """The part that is put in line at each terminal."""
    return {step.fields["at"]: step.fields["part"] for step in steps(plan, "insert")}


# -- what comes of it ----------------------------------------------------------------------------------------


def lines(plan: Plan, outcome: str, memory: bool = False) -> list[BehaviourLine]:
    """The lines of one outcome: of loads and cams, or of memories."""
    return [line for line in plan.behaviours if line.outcome == outcome and line.is_memory is memory]


def loads(plan: Plan, outcome: str) -> set[tuple[str, str]]:
    """What and where of every load or cam with one outcome."""
    return {(line.what, line.at) for line in lines(plan, outcome)}


def outcomes(plan: Plan, what: str, at: str) -> set[str]:
    """Every outcome of one behaviour."""
    found = {line.outcome for line in plan.behaviours if (line.what, line.at) == (what, at)}
    assert found, f"nothing is said of {what} at {at}"
    return found


def positions(plan: Plan, outcome: str, what: str, at: str) -> Positions:
    """Where one outcome of one behaviour shows, all its lines together."""
    chosen = [line for line in plan.behaviours if (line.outcome, line.what, line.at) == (outcome, what, at)]
    assert chosen, f"{what} at {at} is not {outcome}: {outcomes(plan, what, at)}"
    return frozenset(frozenset(p.items()) for line in chosen for p in line.positions)


def without(found: Positions, *names: str) -> Positions:
    """Positions with some variables left out, such as the state a relay started from."""
    return frozenset(frozenset((n, v) for n, v in position if n not in names) for position in found)


def every(settings: Mapping[str, str | Sequence[str]]) -> Positions:
    """Every combination of some variables' labels."""
    labels = [[said] if isinstance(said, str) else list(said) for said in settings.values()]
    return frozenset(frozenset(zip(settings, row, strict=True)) for row in product(*labels))


def worse(plan: Plan) -> list[BehaviourLine]:
    """Every line of something lost, changed or unintended in a load that the job does not accept."""
    return [
        line for kind in ("lost", "changed", "unintended") for line in lines(plan, kind) if not line.accepted
    ]


def new_hazards(plan: Plan) -> set[tuple[str, str]]:
    """Kind and address of each hazard that was not there before."""
    return {(hazard.kind, hazard.at) for hazard in plan.hazards if not hazard.was_before}


def nothing_is_worse(plan: Plan) -> bool:
    """Nothing lost, changed or unintended in any load, and no hazard that was not there before."""
    assert worse(plan) == []
    assert new_hazards(plan) == set()
    return True


def strains(plan: Plan, kind: str) -> dict[str, StrainLine]:
    """The values of one kind that are held against a limit, the tightest at each place."""
    found: dict[str, StrainLine] = {}
    for line in plan.strains:
        if line.kind == kind:
            found.setdefault(line.at, line)
    return found


def new_strains(plan: Plan) -> set[tuple[str, str]]:
    """Kind and place of everything over a limit that it kept before."""
    return {(line.kind, line.at) for line in plan.strains if line.is_new}


def says(plan: Plan, *words: str) -> bool:
    """Whether one line of what the plan tells, apart from its steps and what is kept, has all these words."""
    told = [*plan.unsettled, *plan.cautions, *plan.not_seen]
    told += [remark.text for remark in plan.remarks]
    told += [f"{q.about} {q.where} {q.how}" for q in plan.questions]
    told += [f"{h.text} {h.when}" for h in plan.hazards]
    told += [
        f"{line.outcome} {line.what} {line.title} {line.when}"
        for line in plan.behaviours
        if line.outcome != "kept"
    ]
    return any(all(word.lower() in line.lower() for word in words) for line in told)


# -- the sheet for the bench ---------------------------------------------------------------------------------


def worked(job: str) -> WorkList:
    """The work list of a shipped job."""
    settled(job)
    return _WORK[job]


@lru_cache
def benched(job: str) -> BenchSheet:
    """The bench sheet of a shipped job."""
    read, _ = read_job(job, catalogue())
    work, plan = worked(job), planned(job)
    return bench_sheet(plan, work, read, catalogue(), conductor_facts(work.names.after, catalogue()))
