"""Settling what can be seen of a candidate loom: needs go to the rules, proposals are applied.

What leaves no choice is done at once; where rules offer more than one way, the caller chooses.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from planner.engine.case import Case
from planner.engine.costs import minutes
from planner.engine.judged import Branch, Candidate, signature
from planner.engine.needs import NeedFinder, swap_operations
from planner.engine.rule import Rule
from planner.engine.trace import Trace
from planner.model.catalogue import Catalogue
from planner.model.delta import Add, Cover, Cut, Join, Make, Move, Operation, Reason, Step, last_words
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import (
    BareTerminal,
    Emission,
    Fault,
    LooseEnd,
    Need,
    OtherPole,
    OtherVolts,
    Proposal,
    Question,
    Remark,
)

MOST_WAYS = 24  # ways to settle the visible needs that are all looked at; more: one choice at a time
MOST_NEEDS_ASKED = 400  # needs of one loom; more means that two rules undo each other
_SWAP = Reason("swap", ("the job asks for it",), "the job")


@dataclass
class Limits:
    """How far a search went, what it found on the way, and whether it had to stop before its end."""

    judged: int = 0
    hit: bool = False
    unsettled: list[str] = field(default_factory=list)
    verdicts: dict[object, tuple[Fault, ...]] = field(default_factory=dict)


class Bench:
    """Settles the visible needs of candidate looms of one job."""

    def __init__(
        self,
        before: Loom,
        catalogue: Catalogue,
        job: Job,
        rules: Sequence[Rule],
        facts: Facts,
        limits: Limits,
        trace: Trace,
    ) -> None:
        self.before, self.catalogue, self.job = before, catalogue, job
        self.rules, self.facts = tuple(rules), facts
        self.limits, self.trace = limits, trace
        self.needs = NeedFinder(before, catalogue, job)

    def start(self) -> Candidate:
        """The loom with all parts swapped and nothing connected."""
        operations = tuple(swap_operations(self.before, self.job, self.catalogue.parts))
        return self.apply(Candidate(self.before, (), 0.0), operations, _SWAP)

    def settle_with(
        self, start: Candidate, overrides: Mapping[Need, Proposal]
    ) -> tuple[Candidate, list[Branch]]:
        """One settled candidate, the first proposal taken at each need unless overridden; the choices met."""
        candidate = start
        branches: list[Branch] = []
        while True:
            children, candidate = self._next(candidate)
            if children is None:
                return candidate, branches
            need, proposals = children
            taken = overrides.get(need, proposals[0])
            branches.append(Branch(need, candidate, proposals, taken))
            candidate = self.take(candidate, need, taken)

    def settled_ways(self, start: Candidate) -> Iterator[Candidate]:
        """Yield every way to settle a candidate's visible needs, the first proposal at each need first.

        Depth first, so that a limit still leaves whole plans; equal looms are looked at once.
        """
        stack = [start]
        seen: set[object] = set()
        done: set[object] = set()
        while stack:
            candidate = stack.pop()
            key = (signature(candidate.loom), candidate.closed)
            if key in seen:
                continue
            seen.add(key)
            choice, candidate = self._next(candidate)
            if choice is None:
                settled = signature(candidate.loom)
                if settled not in done:
                    done.add(settled)
                    yield candidate
                    if len(done) >= MOST_WAYS:
                        self.limits.hit = bool(stack) or self.limits.hit
                        return
                continue
            need, proposals = choice
            stack += [self.take(candidate, need, proposal) for proposal in reversed(proposals)]

    def take(self, candidate: Candidate, need: Need, proposal: Proposal) -> Candidate:
        """The candidate with a proposal applied; a need of an end or a terminal is then answered."""
        taken = self.apply(candidate, proposal.operations, proposal.why)
        is_answered = isinstance(need, LooseEnd | BareTerminal | OtherVolts | OtherPole)
        return replace(taken, closed=taken.closed | {need}) if is_answered else taken

    def _next(self, candidate: Candidate) -> tuple[tuple[Need, list[Proposal]] | None, Candidate]:
        """The candidate with everything settled that leaves no choice, and the first real choice, if any."""
        for _ in range(MOST_NEEDS_ASKED):
            need, neutral = self._first_need(candidate)
            if need is None:
                return None, candidate
            emissions = self.emissions(candidate, need)
            candidate = self.noted(candidate, emissions)
            proposals = self._usable(candidate, need, emissions)
            self.trace.asked(need, tuple(proposals))
            if not proposals:
                candidate = replace(candidate, closed=candidate.closed | {need})
            elif neutral or (len(proposals) == 1 and not isinstance(need, BareTerminal)):
                candidate = self.take(candidate, need, proposals[0])
            else:
                return (need, proposals), candidate
        self.limits.hit = True
        self.limits.unsettled.append(f"two rules undo each other: {MOST_NEEDS_ASKED} needs asked in one loom")
        self.trace.stopped(self.limits.unsettled[-1])
        return None, candidate

    def _first_need(self, candidate: Candidate) -> tuple[Need | None, bool]:
        """The first open need, and whether its proposals are electrically equal (the cheapest is taken)."""
        loom, closed = candidate.loom, candidate.closed
        groups: tuple[tuple[Iterator[Need], bool], ...] = (
            (self.needs.kept_parts(loom), False),
            (self.needs.loose_ends(loom), False),
            (self.needs.full_terminals(loom), True),
            (self.needs.bare_terminals(loom), False),
            (self.needs.end_needs(loom, candidate.made, candidate.roles), True),
        )
        for needs, neutral in groups:
            for need in needs:
                if need not in closed:
                    return need, neutral
        return None, False

    def _usable(self, candidate: Candidate, need: Need, emissions: Sequence[Emission]) -> list[Proposal]:
        """Proposals to choose from, what connects before what covers, then the cheapest first.

        For a loose end, cover and cut count only where nothing else settles it.
        """
        first: dict[tuple[Operation, ...], Proposal] = {}
        for emission in emissions:
            if isinstance(emission, Proposal) and not emission.offer:
                first.setdefault(emission.operations, emission)  # two rules, one remedy: the first says why
        ranked = sorted(
            first.values(),
            key=lambda p: (
                all(isinstance(operation, Cover | Cut) for operation in p.operations),
                minutes(p.operations, self.before, candidate.loom, self.catalogue, self.job.minutes),
            ),
        )
        homes = [p for p in ranked if not all(isinstance(o, Cover | Cut) for o in p.operations)]
        return homes if homes and isinstance(need, LooseEnd) else ranked

    def case(self, candidate: Candidate, need: Need) -> Case:
        """What a rule is shown."""
        return Case(need, self.before, candidate.loom, self.catalogue, self.job, self.facts, candidate.taken)

    def emissions(self, candidate: Candidate, need: Need) -> list[Emission]:
        """What all rules say to a need of a candidate."""
        case = self.case(candidate, need)
        return [emission for rule in self.rules for emission in rule.propose(case)]

    def ask(self, candidate: Candidate, need: Need) -> list[Proposal]:
        """All proposals for a need, offers included."""
        proposals = [e for e in self.emissions(candidate, need) if isinstance(e, Proposal)]
        self.trace.asked(need, tuple(proposals))
        return proposals

    @staticmethod
    def noted(candidate: Candidate, emissions: Sequence[Emission]) -> Candidate:
        """The candidate with the questions and remarks that are new to it."""
        new = tuple(e for e in emissions if isinstance(e, Question | Remark) and e not in candidate.notes)
        return replace(candidate, notes=candidate.notes + new) if new else candidate

    def apply(self, candidate: Candidate, operations: Sequence[Operation], why: Reason) -> Candidate:
        """The candidate after some operations, each a step with its minutes and its reason."""
        loom = candidate.loom
        steps = list(candidate.steps)
        made, taken = set(candidate.made), set(candidate.taken)
        roles = {o.wire.wire: o.role for o in operations if isinstance(o, Add)}
        for operation in operations:
            loom = _uncovered(loom, steps, operation)
            cost = minutes((operation,), self.before, loom, self.catalogue, self.job.minutes)
            steps.append(Step(operation, why, cost))
            loom = operation.apply(loom)
            if isinstance(operation, Make):
                made.add(operation.wire.wire)
                if operation.lead is not None:
                    taken.add(f"stock-{operation.lead}")
        return replace(
            candidate,
            loom=loom,
            steps=tuple(steps),
            minutes=sum(step.minutes for step in last_words(steps)),
            made=frozenset(made),
            taken=frozenset(taken),
            roles={**candidate.roles, **roles},
        )


def _uncovered(loom: Loom, steps: list[Step], operation: Operation) -> Loom:
    """The loom without the plan's own covers on what is now used; their steps are dropped.

    They are on terminals that get an end, or on ends that go into a joiner.
    """
    joined = {end[:2] for end in operation.ends} if isinstance(operation, Join) else set()
    if isinstance(operation, Add):
        targets = {end.at for end in operation.wire.ends}
    else:
        targets = {operation.to} if isinstance(operation, Move) else set()
    for step in list(steps):
        cover = step.operation
        if isinstance(cover, Cover) and (
            (cover.wire, cover.end) in joined if cover.wire else cover.at in targets
        ):
            steps.remove(step)
            loom = cover.undo(loom)
    return loom
