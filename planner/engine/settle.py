"""The choice: from the needs a swap opens to the loom with the least faults and the least work.

Looms are judged, not paths: one loom has one verdict however it was reached. First all needs that can be
seen are settled, branching where rules offer more than one way; then the loom is judged, and each fault is a
need again. A repair is kept only if the loom it makes is better. The engine is handed the judge - a function
from job and loom to faults - and knows nothing of circuits.
"""

import heapq
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from math import prod

from planner.engine.case import Case
from planner.engine.costs import minutes
from planner.engine.leaning import leaned_on
from planner.engine.needs import NeedFinder, swap_operations
from planner.engine.rule import Rule
from planner.engine.trace import Trace
from planner.engine.without import steps_without
from planner.model.catalogue import Catalogue
from planner.model.delta import Add, Cover, Cut, Hold, Make, Move, Operation, Reason, Step, last_words
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import (
    BareTerminal,
    Emission,
    Fault,
    Fitted,
    LooseEnd,
    Need,
    Proposal,
    Question,
    Remark,
    ShortReach,
    WireToMake,
    WrongFitting,
)
from planner.model.wording import address_words, wire_words

ROAD_DUTIES = ("head", "tail", "stop", "signal", "hazard")
MOST_LOOMS = 400  # looms judged before the search stops and says so
MOST_WAYS = (
    24  # ways to settle the visible needs that are all looked at; more are searched one choice at a time
)
MOST_NEEDS_ASKED = 400  # needs of one loom; more means that two rules undo each other
MOST_REPAIRS = 8  # of one loom, one after another
MOST_REPAIRED = 8  # looms judged, after which only the best so far are repaired further
MOST_ALTERNATIVES = 3
TRADES = ("less work", "another loss instead")

Weight = tuple[float, ...]
Judge = Callable[[Job, Loom], tuple[Fault, ...]]
_SWAP = Reason("swap", ("the job asks for it",), "the job")


@dataclass(frozen=True)
class Candidate:
    """A loom on the way to a plan, and how it came about."""

    loom: Loom
    steps: tuple[Step, ...]
    minutes: float
    closed: frozenset[Need] = frozenset()  # bare terminals that need nothing
    made: frozenset[str] = frozenset()
    taken: frozenset[str] = frozenset()
    roles: Mapping[str, str | None] = field(default_factory=dict)  # of new wires
    repairs: int = 0
    notes: tuple[Question | Remark, ...] = ()


@dataclass(frozen=True)
class Branch:
    """A real choice met on the way: the candidate before it, and what could be done."""

    need: Need
    before: Candidate
    proposals: Sequence[Proposal]
    taken: Proposal


@dataclass(frozen=True)
class Judged:
    """A settled loom with its faults."""

    candidate: Candidate
    faults: tuple[Fault, ...]
    parent: "Judged | None" = None
    title: str = ""

    @property
    def has_faults(self) -> bool:
        """Whether anything is wrong that is not accepted."""
        return any(not fault.accepted for fault in self.faults)

    @property
    def weight(self) -> Weight:
        """Less is better: faults in the order of severity, then minutes."""
        return (*fault_weight(self.faults), round(self.candidate.minutes, 6))


@dataclass(frozen=True)
class Alternative:
    """A plan that is shown beside the chosen one."""

    title: str
    judged: Judged
    why: Reason
    job: Job | None = None  # if it answers another job, such as keeping an old part


@dataclass(frozen=True)
class Choice:
    """The chosen plan, what stands beside it, and how the search ended."""

    chosen: Judged
    alternatives: tuple[Alternative, ...]
    notes: tuple[Question | Remark, ...]
    looms_judged: int
    is_proven_cheapest: bool
    unsettled: tuple[str, ...] = ()


def fault_weight(faults: Sequence[Fault]) -> Weight:
    """Faults as numbers, most severe first: unsafe; road lamps unintended, lost, changed; then the rest.

    Within a class the share of positions counts, so that a repair of half the positions is an improvement.
    Accepted losses do not count.
    """
    weight = [0.0] * 7
    for fault in faults:
        if fault.accepted:
            continue
        amount = 1.0 + fault.share
        if fault.kind == "hazard" and fault.hazard != "dead-position":
            weight[0] += amount
            continue
        base = 1 if fault.duty in ROAD_DUTIES else 4
        if fault.kind == "unintended":
            weight[base] += amount
        elif fault.kind == "changed":
            weight[base + 2] += amount
        else:
            weight[base + 1] += amount
    return tuple(round(w, 9) for w in weight)


@dataclass
class _Limits:
    judged: int = 0
    hit: bool = False
    unsettled: list[str] = field(default_factory=list)
    verdicts: dict[object, tuple[Fault, ...]] = field(default_factory=dict)


class Settler:
    """Settles one job."""

    def __init__(
        self,
        before: Loom,
        catalogue: Catalogue,
        job: Job,
        rules: Sequence[Rule],
        facts: Facts,
        judge: Judge,
        trace: Trace | None = None,
        most_looms: int = MOST_LOOMS,
    ) -> None:
        self.before, self.catalogue, self.job = before, catalogue, job
        self.rules, self.facts, self.judge = tuple(rules), facts, judge
        self.trace = trace or Trace()
        self.most_looms = most_looms
        self.needs = NeedFinder(before, catalogue, job)
        self._limits = _Limits()

    # -- the whole choice ----------------------------------------------------------------------------------

    def settle(self) -> Choice:
        """Choose the plan."""
        best, judged = self._search()
        best, notes, offers = self._reviewed(best)
        offers += self._offers(best)
        offers += self._old_parts_kept(best)
        return Choice(
            best,
            tuple(self._beside(best, judged, offers)),
            notes,
            self._limits.judged,
            not self._limits.hit,
            (*self._limits.unsettled, *self._still_open(best.candidate)),
        )

    def _reviewed(self, best: Judged) -> tuple[Judged, tuple[Question | Remark, ...], list[Alternative]]:
        """The chosen plan before the rules once more: holds, questions, remarks and offers for each part."""
        candidate = best.candidate
        needs: list[Need] = [Fitted(place) for place in self.needs.places if place in candidate.loom.places]
        needs += leaned_on(self.before, candidate.steps, self.job)
        offers: list[Alternative] = []
        for need in needs:
            for emission in self._emissions(best.candidate, need):
                if isinstance(emission, Question | Remark):
                    candidate = self._noted(candidate, (emission,))
                elif emission.offer:
                    offers += self._proven_offer(best, emission)
                elif all(isinstance(operation, Hold) for operation in emission.operations):
                    candidate = self._apply(candidate, emission.operations, emission.why)
        return replace(best, candidate=candidate), candidate.notes, offers

    def _still_open(self, candidate: Candidate) -> Iterator[str]:
        """Yield in words what no rule answered: a plan that says nothing of it would pass for done."""
        loom = candidate.loom
        for end in self.needs.loose_ends(loom):
            wire = wire_words(loom.find(end.wire), end.end)
            yield f"{wire} ({end.wire}) that was on {address_words(self.before, end.was)} has nowhere to go"
        for full in self.needs.full_terminals(loom):
            yield f"{address_words(loom, full.at)} carries {len(full.ends)} ends, more than it takes"
        for need in self.needs.end_needs(loom, candidate.made, candidate.roles):
            if isinstance(need, WrongFitting | ShortReach):
                wire = wire_words(loom.find(need.wire), need.end)
                what = "does not fit" if isinstance(need, WrongFitting) else "does not reach"
                yield f"{wire} ({need.wire}) {what} {address_words(loom, need.at)}"
            elif isinstance(need, WireToMake):
                yield f"how {wire_words(loom.find(need.wire))} is made"

    def _proven_offer(self, best: Judged, proposal: Proposal) -> Iterator[Alternative]:
        changed = self._apply(best.candidate, proposal.operations, proposal.why)
        settled, _ = self._settle_with(changed, {})
        yield Alternative(proposal.why.facts[0], self._judge(settled), proposal.why)

    def start(self) -> Candidate:
        """The loom with all parts swapped and nothing connected."""
        operations = tuple(swap_operations(self.before, self.job))
        return self._apply(Candidate(self.before, (), 0.0), operations, _SWAP)

    def _search(self) -> tuple[Judged, list[Judged]]:
        judged = [self._judge(candidate) for candidate in self._settled_ways(self.start())]
        ticket = count()
        queue = [(item.weight, next(ticket), item) for item in judged]
        heapq.heapify(queue)
        seen = {signature(item.candidate.loom) for item in judged}
        best = min(judged, key=lambda item: item.weight)
        left: list[
            Judged
        ] = []  # not looked at further, though a repair of theirs might have been the lightest
        while queue and not self._is_over():
            _, _, item = heapq.heappop(queue)
            if not item.has_faults or not _may_be_lighter(item, best):
                continue  # nothing to repair, or a repair would only add minutes to too many
            is_late = self._limits.hit or len(judged) > MOST_REPAIRED
            heavy = best.has_faults and item.weight > best.weight and is_late
            if heavy or item.candidate.repairs >= MOST_REPAIRS:
                left.append(item)
                continue
            for child in self._repairs(item, best):
                key = signature(child.candidate.loom)
                if key in seen:
                    continue
                seen.add(key)
                if child.weight[:-1] >= item.weight[:-1]:
                    left.append(child)
                    continue
                judged.append(child)
                heapq.heappush(queue, (child.weight, next(ticket), child))
                best = min(best, child, key=lambda j: j.weight)
        if any(_may_be_lighter(item, best) and self._can_be_repaired(item) for item in left):
            self._limits.hit = True
            self.trace.stopped("repairs that bring nothing at once were not followed further")
        return best, judged

    def _settled_ways(self, start: Candidate) -> Iterator[Candidate]:
        """Yield settled candidates to judge: all ways if they are few, else each choice turned on its own.

        With many choices their product is not looked at: from the best loom so far one choice at a time is
        taken the other way, until none makes it better. The plan then says that it is not proven cheapest.
        """
        first, branches = self._settle_with(start, {})
        yield first
        best = self._judge(first)
        chosen: dict[Need, Proposal] = {}
        if prod(len(branch.proposals) for branch in branches) <= MOST_WAYS:
            done = {signature(first.loom)}
            for candidate in self._settled(start):
                if signature(candidate.loom) not in done:
                    done.add(signature(candidate.loom))
                    yield candidate
                    best = min(best, self._judge(candidate), key=lambda judged: judged.weight)
        else:
            self._limits.hit = True
            self.trace.stopped("the choices are too many to look at every combination")
            improved = True
            while improved and not self._is_over():
                improved = False
                for index, branch in enumerate(branches):
                    for proposal in branch.proposals:
                        if proposal is branch.taken:
                            continue
                        overrides = {**chosen, branch.need: proposal}
                        turned_here = self._take(branch.before, branch.need, proposal)
                        candidate, more = self._settle_with(turned_here, overrides)
                        yield candidate
                        turned = self._judge(candidate)
                        if turned.weight < best.weight:
                            best, chosen, improved = turned, overrides, True
                            branches = [*branches[:index], replace(branch, taken=proposal), *more]
                            break
                    if improved:
                        break
        if any(fault.kind in ("hazard", "unintended") and not fault.accepted for fault in best.faults):
            yield from self._left_bare(branches, chosen)

    def _left_bare(self, branches: Sequence[Branch], chosen: Mapping[Need, Proposal]) -> Iterator[Candidate]:
        """Yield candidates in which one bare terminal is left as it is: what is not done cannot harm."""
        for branch in branches:
            if isinstance(branch.need, BareTerminal):
                left = replace(branch.before, closed=branch.before.closed | {branch.need})
                yield self._settle_with(left, chosen)[0]

    def _settle_with(
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
            candidate = self._take(candidate, need, taken)

    def _can_be_repaired(self, item: Judged) -> bool:
        """Whether any rule has an answer to a fault of a judged loom."""
        return any(
            not proposal.offer
            for fault in item.faults
            if not fault.accepted
            for proposal in self.ask(item.candidate, fault)
        )

    def _is_over(self) -> bool:
        if self._limits.judged < self.most_looms:
            return False
        self._limits.hit = True
        self.trace.stopped(f"{self.most_looms} looms judged")
        return True

    def _repairs(self, item: Judged, best: Judged) -> Iterator[Judged]:
        """Looms in which one fault of a judged loom is answered, if they can be lighter than the best."""
        for fault in item.faults:
            if fault.accepted:
                continue
            for proposal in self.ask(item.candidate, fault):
                if proposal.offer or self._is_over():
                    continue
                changed = self._apply(item.candidate, proposal.operations, proposal.why)
                changed = replace(changed, repairs=item.candidate.repairs + 1)
                settled, _ = self._settle_with(changed, {})
                if best.has_faults or settled.minutes < best.candidate.minutes:
                    yield replace(self._judge(settled), parent=item)

    # -- settling what can be seen -------------------------------------------------------------------------

    def _settled(self, start: Candidate) -> Iterator[Candidate]:
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
                        self._limits.hit = bool(stack) or self._limits.hit
                        return
                continue
            need, proposals = choice
            stack += [self._take(candidate, need, proposal) for proposal in reversed(proposals)]

    def _take(self, candidate: Candidate, need: Need, proposal: Proposal) -> Candidate:
        taken = self._apply(candidate, proposal.operations, proposal.why)
        is_answered = isinstance(need, LooseEnd | BareTerminal)
        return replace(taken, closed=taken.closed | {need}) if is_answered else taken

    def _next(self, candidate: Candidate) -> tuple[tuple[Need, list[Proposal]] | None, Candidate]:
        """The candidate with everything settled that leaves no choice, and the first real choice, if any."""
        for _ in range(MOST_NEEDS_ASKED):
            need, neutral = self._first_need(candidate)
            if need is None:
                return None, candidate
            emissions = self._emissions(candidate, need)
            candidate = self._noted(candidate, emissions)
            proposals = self._usable(candidate, need, emissions)
            self.trace.asked(need, tuple(proposals))
            if not proposals:
                candidate = replace(candidate, closed=candidate.closed | {need})
            elif neutral or (len(proposals) == 1 and not isinstance(need, BareTerminal)):
                candidate = self._take(candidate, need, proposals[0])
            else:
                return (need, proposals), candidate
        self._limits.hit = True
        self._limits.unsettled.append(
            f"two rules undo each other: {MOST_NEEDS_ASKED} needs asked in one loom"
        )
        self.trace.stopped(self._limits.unsettled[-1])
        return None, candidate

    def _first_need(self, candidate: Candidate) -> tuple[Need | None, bool]:
        """The first open need, and whether its proposals are electrically equal (the cheapest is taken)."""
        loom, closed = candidate.loom, candidate.closed
        groups: tuple[tuple[Iterator[Need], bool], ...] = (
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
                minutes(p.operations, candidate.loom, self.catalogue, self.job.minutes),
            ),
        )
        homes = [p for p in ranked if not all(isinstance(o, Cover | Cut) for o in p.operations)]
        return homes if homes and isinstance(need, LooseEnd) else ranked

    # -- asking rules --------------------------------------------------------------------------------------

    def case(self, candidate: Candidate, need: Need) -> Case:
        """What a rule is shown."""
        return Case(need, self.before, candidate.loom, self.catalogue, self.job, self.facts, candidate.taken)

    def _emissions(self, candidate: Candidate, need: Need) -> list[Emission]:
        case = self.case(candidate, need)
        return [emission for rule in self.rules for emission in rule.propose(case)]

    def ask(self, candidate: Candidate, need: Need) -> list[Proposal]:
        """All proposals for a need, offers included."""
        proposals = [e for e in self._emissions(candidate, need) if isinstance(e, Proposal)]
        self.trace.asked(need, tuple(proposals))
        return proposals

    @staticmethod
    def _noted(candidate: Candidate, emissions: Sequence[Emission]) -> Candidate:
        new = tuple(e for e in emissions if isinstance(e, Question | Remark) and e not in candidate.notes)
        return replace(candidate, notes=candidate.notes + new) if new else candidate

    # -- applying and judging ------------------------------------------------------------------------------

    def _apply(self, candidate: Candidate, operations: Sequence[Operation], why: Reason) -> Candidate:
        loom = candidate.loom
        steps = list(candidate.steps)
        made, taken = set(candidate.made), set(candidate.taken)
        roles = {o.wire.wire: o.role for o in operations if isinstance(o, Add)}
        for operation in operations:
            loom = _uncovered(loom, steps, operation)
            cost = minutes((operation,), loom, self.catalogue, self.job.minutes)
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

    def _judge(self, candidate: Candidate) -> Judged:
        key = wiring(candidate.loom)
        faults = self._limits.verdicts.get(key)
        if faults is None:
            self._limits.judged += 1
            faults = self._limits.verdicts[key] = self.judge(self.job, candidate.loom)
            self.trace.judged(faults, candidate.minutes)
        return Judged(candidate, faults)

    # -- what stands beside the plan -----------------------------------------------------------------------

    def _offers(self, best: Judged) -> Iterator[Alternative]:
        """Proposals that are shown, not made, each proven."""
        for fault in best.faults:
            for proposal in self.ask(best.candidate, fault):
                if proposal.offer:
                    yield from self._proven_offer(best, proposal)

    def _old_parts_kept(self, best: Judged) -> Iterator[Alternative]:
        """The plan without one of the swaps, for each swap whose part lies on the way of something lost."""
        lost = [fault for fault in best.faults if fault.kind in ("lost", "changed")]
        for swap in self.job.swaps:
            on_the_way = any(
                swap.at == fault.at or any(node.startswith(f"{swap.at}:") for node in fault.path)
                for fault in lost
            )
            if not on_the_way or swap.at not in self.before.places:
                continue
            job = self.job.model_copy(update={"swaps": tuple(s for s in self.job.swaps if s is not swap)})
            other = Settler(self.before, self.catalogue, job, self.rules, self.facts, self.judge)
            other._limits = self._limits  # one loom, one verdict
            steps = steps_without(best.candidate.steps, swap.at, frozenset(self.needs.places))
            if steps is None:
                candidate, _ = other._settle_with(other.start(), {})
            else:
                candidate = Candidate(self.before, (), 0.0)
                for step in steps:
                    candidate = other._apply(candidate, (step.operation,), step.why)
            judged = other._judge(candidate)
            if judged.weight[:-1] < best.weight[:-1]:
                title = f"keep the old part at {self.before.place_title(swap.at)}"
                yield Alternative(title, judged, Reason("keep-the-old-part", (title,)), job)

    def _beside(
        self, best: Judged, judged: Sequence[Judged], offers: Sequence[Alternative]
    ) -> Iterator[Alternative]:
        """At most three: the plan before a repair that brought its own fault, offers, then trades."""
        candidates = [a for a in offers if a.judged.weight[:2] <= best.weight[:2]]  # none that is less safe
        brought = {f.identity for f in best.faults}
        if best.parent and brought - {f.identity for f in best.parent.faults}:
            why = Reason("choice", ("the repair brings a fault of its own",))
            candidates.insert(0, Alternative("without the last repair", best.parent, why))
        candidates += [
            Alternative(trade, other, Reason("choice", (trade,)))
            for other in sorted(judged, key=lambda j: j.weight)
            if (trade := self._fair_trade(best, other))
        ]
        shown = [wiring(best.candidate.loom)]
        for alternative in candidates:
            key = wiring(alternative.judged.candidate.loom)
            if key not in shown and len(shown) <= MOST_ALTERNATIVES:
                shown.append(key)
                yield alternative

    @staticmethod
    def _fair_trade(best: Judged, other: Judged) -> str:
        """What may be traded: less work with nothing more lost, or another loss of the same class; else "".

        Never less safe, and nothing unintended on a signal lamp.
        """
        kept_out = ("lost", "changed", "unintended", "hazard")
        worse = {f.identity for f in other.faults if f.kind in kept_out} - {f.identity for f in best.faults}
        if not worse:
            return TRADES[0] if other.weight[-1] < best.weight[-1] else ""
        classes = [sorted((f.kind, f.duty in ROAD_DUTIES) for f in j.faults) for j in (best, other)]
        alike = other.weight[:2] <= best.weight[:2] and classes[0] == classes[1]
        return TRADES[1] if alike else ""


def _uncovered(loom: Loom, steps: list[Step], operation: Operation) -> Loom:
    """The loom without the plan's own covers on terminals that now get an end; their steps are dropped."""
    if isinstance(operation, Add):
        targets = {end.at for end in operation.wire.ends}
    else:
        targets = {operation.to} if isinstance(operation, Move) else set()
    for step in list(steps):
        cover = step.operation
        if isinstance(cover, Cover) and cover.wire is None and cover.at in targets:
            steps.remove(step)
            loom = cover.undo(loom)
    return loom


def _may_be_lighter(item: Judged, best: Judged) -> bool:
    """Whether a repair of a judged loom could still be lighter than the best: it only adds minutes."""
    return best.has_faults or item.candidate.minutes < best.candidate.minutes


def signature(loom: Loom) -> object:
    """Equal for equal looms, however they were reached."""
    return (
        tuple(sorted((name, p.part, p.mounting) for name, p in loom.places.items())),
        frozenset(
            (
                w.wire,
                w.colour,
                w.mm2,
                w.metres,
                tuple((e.at, e.fitting, e.covered, e.spare_metres) for e in w.ends),
            )
            for w in loom.wires
        ),
        tuple(sorted(loom.piggybacks)),
        tuple(sorted(loom.covered)),
    )


def wiring(loom: Loom) -> object:
    """Equal for looms that are connected alike, whatever their wires are made of: they have one verdict."""
    return (
        tuple(sorted((name, p.part, p.mounting) for name, p in loom.places.items())),
        frozenset((w.wire, tuple((e.at, e.covered) for e in w.ends)) for w in loom.wires),
        tuple(sorted(loom.covered)),
    )
