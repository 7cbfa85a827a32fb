"""Proving a loom: all behaviours over all positions and reachable start states, before against after."""

import time
from collections.abc import Iterator, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, replace
from functools import cached_property
from math import prod

from planner.circuit.compile import Compiled, compile_network
from planner.circuit.fitted import LoadKey
from planner.circuit.network import Network
from planner.circuit.store import Store
from planner.circuit.tree import Projector
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.job import Job, Wish
from planner.model.loom import Loom
from planner.model.need import Fault
from planner.proof.align import Alignment, JointSetting
from planner.proof.ammeters import shows_the_others
from planner.proof.behaviour import Behaviour, View, controls_product
from planner.proof.clean import CleanPaths, Found
from planner.proof.compare import Comparison, Finding, Moment, Seen
from planner.proof.elsewhere import Elsewhere
from planner.proof.facts import conductor_facts
from planner.proof.faults import FaultFinder
from planner.proof.hazards import Hazard, HazardFinder, bare_addresses, loose_nodes
from planner.proof.wishes import Meaning, is_as_wished, speaking_of


@dataclass(frozen=True)
class Proof:
    """What was found, and what the proof covered."""

    findings: tuple[Finding, ...]
    hazards: tuple[Hazard, ...]
    faults: tuple[Fault, ...]
    positions: int
    start_states: int
    solved: int
    compared: int
    seconds: float
    engine_needs_spark: bool  # settings were left out in which an engine would run without


class Prover:
    """Proves candidate looms against one loom before; blocks solved once serve all candidates."""

    def __init__(self, before: Loom, catalogue: Catalogue, job: Job) -> None:
        self.before_loom, self.catalogue, self.job = before, catalogue, job
        self.store = Store(before.supply.live_volts, by_class=True)
        self._stores = {self.store.volts: self.store}
        self.projector = Projector()
        self.seen = Seen()
        self.clean_paths: Found = {}
        self.compiled = Compiled()
        self.before = self._view(before, loose_nodes(before))
        self._proven = self.before  # the view of the loom proven last
        self._last: tuple[Job, Proof] | None = None  # and what was proven of it

    @cached_property
    def facts(self) -> Facts:
        """What each conductor is in the loom before."""
        return conductor_facts(self.before_loom, self.catalogue, self.compiled)

    def network(self, loom: Loom) -> Network:
        """The compiled network of a loom, for naming its variables."""
        return compile_network(loom, self.catalogue, compiled=self.compiled)

    def view(self, loom: Loom) -> View:
        """A loom with everything computed of it; that stands ready of the loom before and the last proven."""
        ready = next((view for view in (self.before, self._proven) if view.loom is loom), None)
        return ready or self._view(loom)

    def _view(self, loom: Loom, watched: frozenset[str] = frozenset()) -> View:
        """The same, worked out; ``watched`` are addresses whose potential is told."""
        store = self._store_of(loom)
        return View(loom, self.catalogue, store, self.projector, watched, self.compiled)

    def _store_of(self, loom: Loom) -> Store:
        """The store for the supply of a loom: that of a job may be another than before."""
        volts = loom.supply.live_volts
        if volts not in self._stores:
            self._stores[volts] = self.store.at_volts(volts)
        return self._stores[volts]

    @property
    def solved(self) -> int:
        """Operating points solved so far."""
        return sum(store.solved for store in self._stores.values())

    def prove(self, after: Loom, job: Job | None = None) -> Proof:
        """Compare a loom with the loom before, as the job wants it (or another job of the same loom).

        Joints are ideal: where nothing but lengths of wires differs from the loom proven last, what was
        proven of that holds.

        Raises TooLargeError if one block of the circuit has more positions than can be compared.
        """
        began, solved = time.perf_counter(), self.solved
        job = job or self.job
        if self._last is not None and self._last[0] is job and _differ_in_lengths(self._proven.loom, after):
            view = self._proven = copy(self._proven)
            view.loom = after
            proof = replace(self._last[1], solved=0, seconds=time.perf_counter() - began)
            self._last = (job, proof)
            return proof
        swapped = frozenset(swap.at for swap in job.swaps if swap.changes(self.before_loom))
        terminals = {
            place: tuple(
                mark
                for mark, terminal in self.catalogue.parts[fitted.part].terminals.items()
                if terminal.by == "wire" and not terminal.covered
            )
            for place, fitted in after.places.items()
            if place in swapped
        }
        watched = loose_nodes(after) | bare_addresses(after, swapped, terminals)
        self._last = None
        view = self._proven = self._view(after, watched)
        run = _Run(self, job, view, after, swapped)
        findings = run.settled()
        hazards = tuple(run.hazards())
        faults = tuple(run.faults(findings, hazards))
        proof = Proof(
            findings,
            hazards,
            faults,
            controls_product(view),
            _start_states(view),
            self.solved - solved,
            run.comparison.compared,
            time.perf_counter() - began,
            bool(run.comparison.passed),
        )
        self._last = (job, proof)
        return proof


def _differ_in_lengths(one: Loom, other: Loom) -> bool:
    """Whether two looms are the same but for the lengths of their wires."""
    names = (name for name in type(one).model_fields if name != "wires")
    if len(one.wires) != len(other.wires) or any(
        getattr(one, name) is not getattr(other, name) for name in names
    ):
        return False
    pairs = zip(one.wires, other.wires, strict=True)
    return all(a is b or a.model_copy(update={"metres": b.metres}) == b for a, b in pairs)


class _Run:
    """One proof under way."""

    def __init__(self, prover: Prover, job: Job, view: View, after: Loom, swapped: frozenset[str]) -> None:
        self.prover, self.job, self.view, self.after_loom = prover, job, view, after
        self.swapped = swapped
        self.removed = frozenset(swap.at for swap in job.swaps if swap.fit == "nothing")
        self.before = prover.before
        numbers = self.before.variable_number, view.variable_number
        self.alignment = Alignment(self.before.net, view.net, *numbers, self.removed)
        self.comparison = Comparison(self.before, view, self.alignment, prover.seen)
        self.meaning = Meaning(self.alignment)

    @cached_property
    def clean(self) -> CleanPaths:
        """The judge of clean paths; only asked if something is gained."""
        prover = self.prover
        before, catalogue = prover.before_loom, prover.catalogue
        return CleanPaths(
            before, self.after_loom, self.view.net, catalogue, prover.facts, prover.clean_paths,
            self.before.net,
        )  # fmt: skip

    def findings(self) -> Iterator[Finding]:
        """Yield every outcome of every load, cam and memory."""
        for old_all, new_all in ((self.before.loads, self.view.loads), (self.before.cams, self.view.cams)):
            for key in dict.fromkeys((*old_all, *new_all)):
                yield from self._of_one(key, old_all.get(key), new_all.get(key))
        yield from self.comparison.memory_changes()

    def settled(self) -> tuple[Finding, ...]:
        """Every outcome, what another control works now told apart from what is lost."""
        findings = tuple(self.findings())
        if all(finding.outcome == "kept" or finding.accepted for finding in findings):
            return findings
        return tuple(Elsewhere(self.comparison, self.alignment).settled(findings))

    def _of_one(self, key: LoadKey, old: Behaviour | None, new: Behaviour | None) -> Iterator[Finding]:
        wanted = speaking_of(self.job.wants, key)

        def is_wanted(setting: JointSetting, names: tuple[str, ...], appearance: str) -> bool:
            if not wanted:
                return False
            position = dict(zip(names, setting.labels, strict=True))
            fitting = (wish for wish in wanted if is_as_wished(wish, appearance))
            return any(self.meaning.is_meant(wish, position) for wish in fitting)

        def is_clean(moment: Moment, let_go: frozenset[str]) -> bool:
            return self.clean.explains(key, self.view.position(moment), let_go)

        is_shown = shows_the_others(key, self.after_loom, self.prover.catalogue, new)
        for finding in self.comparison.findings(old, new, is_wanted, is_clean):
            if finding.outcome == "kept" or not is_shown:
                yield from self._split_accepted(finding, key)

    def _split_accepted(self, finding: Finding, key: LoadKey) -> Iterator[Finding]:
        if finding.outcome == "lost" and key[0] in self.removed:
            yield finding._replace(accepted=True)  # the job takes the part out: what only it did goes with it
            return
        if finding.outcome not in ("lost", "changed"):
            yield finding
            return
        off = [wish for wish in speaking_of(self.job.wants, key) if wish.is_ == finding.after == "off"]
        wishes = [wish for wish in off if wish.when]
        accepts = [*speaking_of(self.job.accepts, key), *(wish for wish in off if not wish.when)]
        if not wishes and not accepts:
            yield finding
            return
        position_of = {row: dict(zip(finding.names, row, strict=True)) for row in finding.rows}
        wished = frozenset(r for r, at in position_of.items() if self._is_one(wishes, at, wholly=True))
        accepted = frozenset(r for r, at in position_of.items() if self._is_one(accepts, at)) - wished
        if wished:
            yield finding._replace(rows=wished, accepted=True, as_wished=True)
        if accepted:
            yield finding._replace(rows=accepted, accepted=True)
        if rest := finding.rows - wished - accepted:
            yield finding._replace(rows=rest)

    def _is_one(self, wishes: Sequence[Wish], position: Mapping[str, str], *, wholly: bool = False) -> bool:
        """Whether one of some wishes means a position; ``wholly``: and all that it names is known there."""
        return any(
            self.meaning.is_meant(wish, position)
            and not (wholly and self.meaning.leaves_open(wish, position))
            for wish in wishes
        )

    def hazards(self) -> Iterator[Hazard]:
        """Yield every hazard, old ones marked."""
        catalogue, swapped = self.prover.catalogue, self.swapped
        yield from HazardFinder(
            self.comparison, self.alignment, catalogue, swapped, self._is_wanted_off
        ).find()

    def _is_wanted_off(self, key: LoadKey, name: str, label: str) -> bool:
        """Whether the job wants a load off at a position of a control, and not at every one."""
        return any(
            wish.is_ == "off"
            and self.meaning.is_meant(wish, {name: label})
            and not all(self.meaning.is_meant(wish, {name: other}) for other in self.alignment.values(name))
            for wish in speaking_of(self.job.wants, key)
        )

    def faults(self, findings: tuple[Finding, ...], hazards: tuple[Hazard, ...]) -> Iterator[Fault]:
        """Yield everything that is not as it should be."""
        yield from FaultFinder(self.job, self.comparison, self.meaning).find(findings, hazards)


def _start_states(view: View) -> int:
    """Number of combinations of reachable hidden states, independent groups multiplied."""
    left = set(view.states.hidden)
    counts = []
    while left:
        group = view.states.group(frozenset((min(left),)))
        counts.append(len({start for starts in group.starts().values() for start in starts}))
        left -= set(group.hidden)
    return prod(counts)
