"""Choices small enough to try every way: one part swapped, rules and judge read from tables.

The old part has terminals ``a``, ``b``, ...; on each hangs one end (number 0) of a wire of the same letter in
capitals. The new part has ``x``, ``y`` and ``z``, each with room for all.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import product

from planner.engine.case import Case
from planner.engine.costs import MINUTES
from planner.engine.judged import signature
from planner.engine.needs import swap_operations
from planner.engine.rule import Rule
from planner.engine.settle import Choice, Settler
from planner.engine.trace import Trace
from planner.engine.weight import weigh
from planner.model.catalogue import Catalogue
from planner.model.delta import Cover, Extend, Operation, Reason
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import Emission, Fault, LooseEnd, Need, Proposal
from planner.model.part import Part

Answer = Callable[[Case], Iterator[Emission]]
Homes = Mapping[str, Sequence[str]]  # wire: where it may go, "x", "x+" with 7 minutes more, "cover"
EXTENDED_FROM = 0.05  # what an end can spare as it is
Where = Mapping[str, str]  # wire: terminal of the new part, or "loose"


def make_part(name: str, marks: Sequence[str], **terminal: object) -> Part:
    """A part with terminals and nothing inside."""
    return Part.model_validate(
        {
            "part": name,
            "title": f"The {name} part",
            "family": "small",
            "source": "invented",
            "terminals": {mark: dict(terminal) for mark in marks},
        }
    )


def make_rule(name: str, answer: Answer) -> Rule:
    """A rule from a function."""
    return Rule(name, f"{name}.", f"{name}.", "invented", answer)


def why(name: str) -> Reason:
    """A reason with one fact."""
    return Reason(name, (f"because of {name}",), "invented")


def lost(what: str, duty: str = "none", at: str = "p", **fields: object) -> Fault:
    """A behaviour that is lost."""
    return Fault("lost", what, at, duty, **fields)  # type: ignore[arg-type]


@dataclass
class Bench:
    """One tiny job: what rules offer for ends and faults, and what the judge says of where ends are."""

    wires: str = "A"
    homes: Homes = field(default_factory=dict)
    repairs: Mapping[str, Sequence[tuple[str, str]]] = field(default_factory=dict)  # fault: wire, terminal
    faults: Callable[[Where], Sequence[Fault]] = lambda where: ()
    strains: Callable[[Where], Sequence[Fault]] | None = None  # asked of looms that would be accepted
    rules: Sequence[Rule] = ()
    covered_terminals: bool = True
    own_minutes: Mapping[str, float] = field(default_factory=dict)
    judged: list[object] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.parts = {
            "old": make_part("old", [wire.lower() for wire in self.wires]),
            "new": make_part("new", "xyz", holds=9, covered=self.covered_terminals),
        }
        self.catalogue = Catalogue({}, {}, self.parts, {}, {}, {})
        ends = {wire: [f"p:{wire.lower()}", "earth:zone"] for wire in self.wires}
        self.loom = Loom.model_validate(
            {
                "loom": "tiny",
                "supply": {"volts": 12, "earthed": "negative"},
                "zones": {"zone": {}},
                "places": {"p": {"part": "old", "zone": "zone"}},
                "wires": [
                    {"wire": wire, "colour": "BK", "mm2": 1, "metres": 1, "ends": at}
                    for wire, at in ends.items()
                ],
            }
        )
        self.job = Job.model_validate(
            {
                "job": "tiny",
                "loom": "tiny",
                "swaps": [{"at": "p", "fit": "new"}],
                "minutes": dict(self.own_minutes),
            }
        )

    # -- what the tables say -------------------------------------------------------------------------------

    def where(self, loom: Loom) -> Where:
        """Where each end is now, by the mark alone."""
        return {w.wire: w.ends[0].at.removeprefix("p:") for w in loom.wires}

    def judge(self, job: Job, loom: Loom) -> tuple[Fault, ...]:
        """The faults of a loom; each judging is remembered."""
        self.judged.append(signature(loom))
        return tuple(self.faults(self.where(loom)))

    def options(self, case: Case, wire: str) -> Iterator[Proposal]:
        """The ways to settle an end."""
        for said in self.homes.get(wire, ()):
            mark = said.rstrip("+")
            if mark == "cover":
                operations: tuple[Operation, ...] = (Cover(f"p:{wire.lower()}", wire, 0),)
            else:
                operations = (case.put(wire, 0, f"p:{mark}"),)
            if said.endswith("+"):
                operations += (Extend(wire, 0, f"p:{mark}", 0.5, 0.05, (1.0,)),)
            yield Proposal(operations, why("home"))

    def home(self, case: Case) -> Iterator[Emission]:
        """The rule for loose ends."""
        if isinstance(case.need, LooseEnd):
            yield from self.options(case, case.need.wire)

    def repair(self, case: Case) -> Iterator[Emission]:
        """The rule for faults."""
        if isinstance(case.need, Fault):
            for wire, mark in self.repairs.get(case.need.what, ()):
                yield Proposal((case.put(wire, 0, f"p:{mark}"),), why("repair"))

    # -- settling ------------------------------------------------------------------------------------------

    def settler(self, trace: Trace | None = None, most_looms: int = 400) -> Settler:
        """A settler of this job."""
        rules = [make_rule("home", self.home), make_rule("repair", self.repair), *self.rules]
        strains = self.strains
        return Settler(
            self.loom,
            self.catalogue,
            self.job,
            rules,
            Facts(),
            self.judge,
            trace,
            most_looms,
            strainer=(lambda loom: tuple(strains(self.where(loom)))) if strains else None,
        )

    def settle(self, trace: Trace | None = None, most_looms: int = 400) -> Choice:
        """The choice."""
        return self.settler(trace, most_looms).settle()

    def chosen(self) -> Where:
        """Where the chosen plan puts each end."""
        return self.where(self.settle().chosen.candidate.loom)

    # -- every way -----------------------------------------------------------------------------------------

    def least_weight(self) -> tuple[float, ...]:
        """The least weight of all looms: every combination of homes, every chain of helpful repairs."""
        start = self.loom
        for operation in swap_operations(self.loom, self.job, self.catalogue.parts):
            start = operation.apply(start)
        needs = {w: LooseEnd(w, 0, f"p:{w.lower()}") for w in self.wires}
        ways = [list(self.options(self._case(start, needs[w]), w)) for w in self.wires if self.homes.get(w)]
        looms = [
            _done(start, [o for p in combination for o in p.operations]) for combination in product(*ways)
        ]
        best = min(self._weight(loom) for loom in looms)
        while looms:
            loom = looms.pop()
            for fault in self.faults(self.where(loom)):
                for proposal in self.repair(self._case(loom, fault)):
                    assert isinstance(proposal, Proposal)
                    after = _done(loom, proposal.operations)
                    if self._weight(after)[:-1] < self._weight(loom)[:-1] and not fault.accepted:
                        looms.append(after)
                        best = min(best, self._weight(after))
        return best

    def _case(self, loom: Loom, need: Need) -> Case:
        return Case(need, self.loom, loom, self.catalogue, self.job, Facts())

    def _weight(self, loom: Loom) -> tuple[float, ...]:
        """Faults, then minutes as the loom shows them: parts changed, ends put somewhere, ends extended."""
        ends = [wire.ends[0] for wire in loom.wires]
        cost = MINUTES["remove"] + self.parts["new"].minutes
        cost += sum(MINUTES["move"] for end in ends if end.at != "loose")
        cost += sum(MINUTES["extend"] for end in ends if end.spare_metres > EXTENDED_FROM)
        return weigh(self.faults(self.where(loom)), round(cost, 6))


def _done(loom: Loom, operations: Sequence[Operation]) -> Loom:
    for operation in operations:
        loom = operation.apply(loom)
    return loom


class Told(Trace):
    """A trace that remembers."""

    def __init__(self) -> None:
        self.asks: list[tuple[Need, tuple[Proposal, ...]]] = []
        self.verdicts: list[tuple[Fault, ...]] = []
        self.reasons: list[str] = []

    def asked(self, need: Need, proposals: tuple[Proposal, ...]) -> None:
        self.asks.append((need, proposals))

    def judged(self, faults: tuple[Fault, ...], minutes: float) -> None:
        self.verdicts.append(faults)

    def stopped(self, reason: str) -> None:
        self.reasons.append(reason)


def without_repairs(bench: Bench) -> Bench:
    """The same tables without repairs."""
    return replace(bench, repairs={}, judged=[])
