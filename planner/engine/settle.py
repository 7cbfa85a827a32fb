"""The choice: from the needs a swap opens to the loom with the least faults and the least work.

Looms are judged, not paths: one loom has one verdict however it was reached. First all needs that can be
seen are settled, branching where rules offer more than one way; then the loom is judged, and each fault is a
need again. A repair is kept only if the loom it makes is better. What would be accepted is then strained: its
currents and voltages are held against their limits, and what is over is a need again as well. The engine is
handed the judge and the strainer - functions from a loom to faults - and knows nothing of circuits.
"""

import heapq
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count
from math import prod

from planner.engine.bench import MOST_WAYS, Bench, Limits
from planner.engine.dead_ends import dead_ends
from planner.engine.judged import Branch, Candidate, Judged, signature, wiring
from planner.engine.leaning import leaned_on
from planner.engine.rule import Rule
from planner.engine.still_open import still_open
from planner.engine.trace import Trace
from planner.engine.trades import Alternative, is_fair, suggestions
from planner.engine.without import steps_without, steps_without_wire
from planner.engine.withstanding import MOST_REPAIRS, Withstanding, strains
from planner.model.catalogue import Catalogue
from planner.model.delta import Hold, Make, Operation, Reason
from planner.model.elements import Source
from planner.model.facts import Facts
from planner.model.job import Job, Swap
from planner.model.loom import Loom
from planner.model.need import (
    BareTerminal,
    Fault,
    Fitted,
    Need,
    Proposal,
    Question,
    Remark,
)

MOST_LOOMS = 400  # looms judged before the search stops and says so
MOST_REPAIRED = 8  # looms judged, after which only the best so far are repaired further
MOST_ALTERNATIVES = 3

Judge = Callable[[Job, Loom], tuple[Fault, ...]]
Strainer = Callable[[Loom], tuple[Fault, ...]]


@dataclass(frozen=True)
class Choice:
    """The chosen plan, what stands beside it, and how the search ended."""

    chosen: Judged
    alternatives: tuple[Alternative, ...]
    notes: tuple[Question | Remark, ...]
    looms_judged: int
    is_proven_cheapest: bool
    unsettled: tuple[str, ...] = ()


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
        limits: Limits | None = None,
        strainer: Strainer | None = None,
    ) -> None:
        self.before, self.catalogue, self.job = before, catalogue, job
        self.rules, self.facts, self.judge = tuple(rules), facts, judge
        self.strainer = strainer
        self.trace = trace or Trace()
        self.most_looms = most_looms
        self.limits = limits or Limits()
        self.bench = Bench(before, catalogue, job, self.rules, facts, self.limits, self.trace)

    # -- the whole choice ----------------------------------------------------------------------------------

    def settle(self, *, with_alternatives: bool = True) -> Choice:
        """Choose the plan. What may stand beside it takes a third of the time: not every caller shows it."""
        best, judged = self._search()
        best = self._spared(self._withstanding(best, judged))
        chosen, notes, offered = self._reviewed(best)
        unsettled = (*self.limits.unsettled, *still_open(self.bench, chosen.candidate))
        alone = Choice(chosen, (), notes, self.limits.judged, not self.limits.hit, unsettled)
        if not with_alternatives:
            return alone
        offers = [each for proposal in offered for each in self._proven_offer(best, proposal)]
        offers += self._offers(chosen)
        offers += self._old_parts_kept(chosen)
        beside = tuple(self._beside(chosen, judged, offers))
        return replace(alone, alternatives=beside, looms_judged=self.limits.judged)

    def _spared(self, best: Judged) -> Judged:
        """The chosen plan without the new wires in which no current can ever flow, if none is missed."""
        for wire in tuple(dead_ends(self.before, best.candidate.loom, self.catalogue)):
            steps = steps_without_wire(best.candidate.steps, wire)
            candidate = Candidate(self.before, (), 0.0, notes=best.candidate.notes)
            for step in steps or ():
                candidate = self.bench.apply(candidate, (step.operation,), step.why)
            if steps is None:
                continue
            spared = self._strained(self._judge(candidate))
            if spared.weight <= best.weight:
                best = spared
        return best

    def _reviewed(self, best: Judged) -> tuple[Judged, tuple[Question | Remark, ...], list[Proposal]]:
        """The chosen plan before the rules once more: holds, questions, remarks and offers for each part."""
        candidate = best.candidate
        own = sorted(set(candidate.loom.places) - set(self.before.places) - set(self.bench.needs.places))
        needs: list[Need] = [
            Fitted(place) for place in (*self.bench.needs.places, *own) if place in candidate.loom.places
        ]
        needs += leaned_on(self.before, candidate.steps, self.job, self.catalogue.parts)
        offers: list[Proposal] = []
        strains = [fault for fault in best.faults if fault.strain]  # their repairs have been looked at
        for need in (*needs, *strains):
            for emission in self.bench.emissions(best.candidate, need):
                if isinstance(emission, Question | Remark):
                    candidate = self.bench.noted(candidate, (emission,))
                elif isinstance(need, Fault):
                    continue
                elif emission.offer:
                    offers.append(emission)
                elif all(isinstance(operation, Hold) for operation in emission.operations):
                    candidate = self.bench.apply(candidate, emission.operations, emission.why)
        return replace(best, candidate=candidate), candidate.notes, offers

    def _proven_offer(self, best: Judged, proposal: Proposal) -> Iterator[Alternative]:
        changed = self.bench.apply(best.candidate, proposal.operations, proposal.why)
        settled, _ = self.bench.settle_with(changed, {})
        title, gives_up = proposal.why.facts[0], proposal.gives_up
        yield Alternative(title, self._judge(settled), proposal.why, gives_up=gives_up)

    def _search(self) -> tuple[Judged, list[Judged]]:
        judged = [self._judge(candidate) for candidate in self._ways(self.bench.start())]
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
            is_late = self.limits.hit or len(judged) > MOST_REPAIRED
            heavy = best.has_faults and item.weight > best.weight and is_late
            if heavy or item.candidate.repairs >= MOST_REPAIRS:
                left.append(item)
                continue
            for child in self._repairs(item, best):
                key = signature(child.candidate.loom)
                if key in seen:
                    continue
                seen.add(key)
                if child.weight.faults >= item.weight.faults:
                    left.append(child)
                    continue
                judged.append(child)
                heapq.heappush(queue, (child.weight, next(ticket), child))
                best = min(best, child, key=lambda j: j.weight)
        if any(_may_be_lighter(item, best) and self._can_be_repaired(item) for item in left):
            self.limits.hit = True
            self.trace.stopped("repairs that bring nothing at once were not followed further")
        return best, judged

    def _withstanding(self, best: Judged, judged: Sequence[Judged]) -> Judged:
        """The lightest judged loom when currents and voltages count as well, repaired where that helps."""
        if self.strainer is None:
            return best
        search = Withstanding(self._strained, self._is_answered, self._repairs, len(self.before.wires))
        best = search.lightest((best, *judged))
        if search.stopped_at is not None:
            self.limits.hit = True
            self.trace.stopped(f"{search.stopped_at} looms strained")
        return best

    def _strained(self, item: Judged) -> Judged:
        """A judged loom with its strains among its faults."""
        if self.strainer is None or strains(item):
            return item
        return replace(item, faults=(*item.faults, *self.strainer(item.candidate.loom)))

    def _ways(self, start: Candidate) -> Iterator[Candidate]:
        """Yield settled candidates to judge: all ways if they are few, else each choice turned on its own.

        With many choices their product is not looked at: from the best loom so far one choice at a time is
        taken the other way, until none makes it better. The plan then says that it is not proven cheapest.
        """
        first, branches = self.bench.settle_with(start, {})
        yield first
        best = self._judge(first)
        chosen: dict[Need, Proposal] = {}
        if prod(len(branch.proposals) for branch in branches) <= MOST_WAYS:
            done = {signature(first.loom)}
            for candidate in self.bench.settled_ways(start):
                if signature(candidate.loom) not in done:
                    done.add(signature(candidate.loom))
                    yield candidate
                    best = min(best, self._judge(candidate), key=lambda judged: judged.weight)
        else:
            self.limits.hit = True
            self.trace.stopped("the choices are too many to look at every combination")
            improved = True
            while improved and not self._is_over():
                improved = False
                for index, branch in enumerate(branches):
                    for proposal in branch.proposals:
                        if proposal is branch.taken:
                            continue
                        overrides = {**chosen, branch.need: proposal}
                        turned_here = self.bench.take(branch.before, branch.need, proposal)
                        candidate, more = self.bench.settle_with(turned_here, overrides)
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
                yield self.bench.settle_with(left, chosen)[0]

    def _can_be_repaired(self, item: Judged) -> bool:
        """Whether any rule has an answer to a fault of a judged loom."""
        return any(not fault.accepted and self._is_answered(item, fault) for fault in item.faults)

    def _is_answered(self, item: Judged, fault: Fault) -> bool:
        """Whether any rule has an answer to this fault of a judged loom."""
        return any(not proposal.offer for proposal in self.bench.ask(item.candidate, fault))

    def _is_over(self) -> bool:
        if self.limits.judged < self.most_looms:
            return False
        self.limits.hit = True
        self.trace.stopped(f"{self.most_looms} looms judged")
        return True

    def _repairs(self, item: Judged, best: Judged, faults: Sequence[Fault] | None = None) -> Iterator[Judged]:
        """Looms in which one fault of a judged loom is answered, if they can be lighter than the best."""
        for fault in item.faults if faults is None else faults:
            if fault.accepted:
                continue
            for proposal in self.bench.ask(item.candidate, fault):
                if proposal.offer or self._is_over():
                    continue
                changed = self.bench.apply(item.candidate, proposal.operations, proposal.why)
                changed = replace(changed, repairs=item.candidate.repairs + 1)
                settled, _ = self.bench.settle_with(changed, {})
                if best.has_faults or settled.minutes < best.candidate.minutes:
                    yield replace(self._judge(settled), parent=item)

    # -- judging ------------------------------------------------------------------------------

    def _judge(self, candidate: Candidate) -> Judged:
        key = wiring(candidate.loom)
        faults = self.limits.verdicts.get(key)
        if faults is None:
            self.limits.judged += 1
            faults = self.limits.verdicts[key] = self.judge(self.job, candidate.loom)
            self.trace.judged(faults, candidate.minutes)
        return Judged(candidate, faults)

    # -- what stands beside the plan -----------------------------------------------------------------------

    def _offers(self, best: Judged) -> Iterator[Alternative]:
        """Proposals that are shown, not made, each proven; also those beside a repair that was made."""
        at: Judged | None = best
        made: set[tuple[Operation, ...]] = set()  # four dark lamps have one remedy
        while at is not None:
            for fault in at.faults:
                for proposal in self.bench.ask(at.candidate, fault):
                    if proposal.offer and proposal.operations not in made:
                        made.add(proposal.operations)
                        yield from self._proven_offer(at, proposal)
            at = at.parent

    def _old_parts_kept(self, best: Judged) -> Iterator[Alternative]:
        """The plan without one of the swaps, for each swap whose part lies on the way of something lost."""
        lost = [fault for fault in best.faults if fault.kind in ("lost", "changed")]
        for swap in self.job.swaps:
            on_the_way = any(
                swap.at == fault.at or any(node.startswith(f"{swap.at}:") for node in fault.path)
                for fault in lost
            )
            if not on_the_way or swap.at not in self.before.places or self._brings_supply(swap):
                continue
            job = self.job.model_copy(update={"swaps": tuple(s for s in self.job.swaps if s is not swap)})
            other = Settler(  # with the limits of this one: one loom, one verdict
                self.before, self.catalogue, job, self.rules, self.facts, self.judge, limits=self.limits
            )
            steps = steps_without(best.candidate.steps, swap.at, frozenset(self.bench.needs.places))
            if steps is None:
                candidate, _ = other.bench.settle_with(other.bench.start(), {})
            else:
                candidate = Candidate(self.before, (), 0.0)
                for step in steps:
                    candidate = other.bench.apply(candidate, (step.operation,), step.why)
            judged = other._judge(candidate)
            if not _loses_less(judged, best):
                continue  # strains only add to what is wrong
            judged = self._strained(judged)
            if _loses_less(judged, best):
                title = f"keep the old part at {self.before.place_title(swap.at)}"
                yield Alternative(title, judged, Reason("keep-the-old-part", (title,)), job)

    def _brings_supply(self, swap: Swap) -> bool:
        """Whether a swap is part of a change of supply: its battery and generator cannot be kept."""
        part = self.catalogue.parts[self.before.places[swap.at].part]
        return self.job.supply is not None and any(isinstance(e, Source) for e in part.inside)

    def _beside(
        self, best: Judged, judged: Sequence[Judged], offers: Sequence[Alternative]
    ) -> Iterator[Alternative]:
        """At most three: the plan before a repair that brought its own fault, offers, then trades.

        What is shown is strained like the plan itself.
        """
        shown = [wiring(best.candidate.loom)]
        for alternative in suggestions(best, judged, offers):
            key = wiring(alternative.judged.candidate.loom)
            if len(shown) > MOST_ALTERNATIVES:
                return
            if key in shown:
                continue
            strained = replace(alternative, judged=self._thick_enough(self._strained(alternative.judged)))
            if is_fair(best, strained):
                shown.append(key)
                yield strained

    def _thick_enough(self, item: Judged) -> Judged:
        """A strained loom in which the wires that it makes itself are as thick as a strain asks of them."""
        for _ in range(MOST_REPAIRS):
            answers = (p for fault in strains(item) for p in self.bench.ask(item.candidate, fault))
            answer = next((p for p in answers if all(isinstance(o, Make) for o in p.operations)), None)
            if answer is None:
                break
            changed = self.bench.apply(item.candidate, answer.operations, answer.why)
            item = self._strained(self._judge(self.bench.settle_with(changed, {})[0]))
        return item


def _loses_less(item: Judged, best: Judged) -> bool:
    """Whether less is wrong with a loom, apart from what only wears, and from what a new part could do."""
    return item.weight.losses < best.weight.losses


def _may_be_lighter(item: Judged, best: Judged) -> bool:
    """Whether a repair of a judged loom could still be lighter than the best: it only adds minutes."""
    return best.has_faults or item.candidate.minutes < best.candidate.minutes
