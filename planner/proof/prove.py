"""Proving a loom: all behaviours over all positions and reachable start states, before against after."""

import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import prod

from planner.circuit.compile import CompiledParts, compile_network
from planner.circuit.fitted import LoadKey
from planner.circuit.network import Network
from planner.circuit.store import Store
from planner.circuit.tree import Projector
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.job import Job, Wish
from planner.model.loom import Loom, renamed
from planner.model.need import Fault
from planner.proof.align import Alignment, JointSetting
from planner.proof.behaviour import Behaviour, Start, View, controls_product
from planner.proof.clean import CleanPaths, Found
from planner.proof.compare import Comparison, Finding, Moment, Seen
from planner.proof.facts import conductor_facts
from planner.proof.hazards import Hazard, HazardFinder, bare_addresses, loose_nodes
from planner.proof.paths import feeding_path

MOST_POSITIONS_IN_A_FAULT = 64


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


class Prover:
    """Proves candidate looms against one loom before; blocks solved once serve all candidates."""

    def __init__(self, before: Loom, catalogue: Catalogue, job: Job) -> None:
        self.before_loom, self.catalogue, self.job = before, catalogue, job
        self.store = Store(before.supply.live_volts, by_class=True)
        self._stores = {self.store.volts: self.store}
        self.projector = Projector()
        self.seen = Seen()
        self.clean_paths: Found = {}
        self.compiled: CompiledParts = {}
        self.before = self.view(before, loose_nodes(before))

    @cached_property
    def facts(self) -> Facts:
        """What each conductor is in the loom before."""
        return conductor_facts(self.before_loom, self.catalogue, self.compiled)

    def network(self, loom: Loom) -> Network:
        """The compiled network of a loom, for naming its variables."""
        return compile_network(loom, self.catalogue, compiled=self.compiled)

    def view(self, loom: Loom, watched: frozenset[str] = frozenset()) -> View:
        """A loom with everything computed of it; ``watched`` are addresses whose potential is told."""
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

        Raises TooLargeError if one block of the circuit has more positions than can be compared.
        """
        began, solved = time.perf_counter(), self.solved
        job = job or self.job
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
        view = self.view(after, watched)
        run = _Run(self, job, view, after, swapped)
        findings = tuple(run.findings())
        hazards = tuple(run.hazards())
        faults = tuple(run.faults(findings, hazards))
        return Proof(
            findings,
            hazards,
            faults,
            controls_product(view),
            _start_states(view),
            self.solved - solved,
            run.comparison.compared,
            time.perf_counter() - began,
        )


class _Run:
    """One proof under way."""

    def __init__(self, prover: Prover, job: Job, view: View, after: Loom, swapped: frozenset[str]) -> None:
        self.prover, self.job, self.view, self.after_loom = prover, job, view, after
        self.swapped = swapped
        self.removed = frozenset(swap.at for swap in job.swaps if swap.fit == "nothing")
        self.before = prover.before
        self.alignment = Alignment(
            self.before.net, view.net, self.before.variable_number, view.variable_number, renamed(after)
        )
        self.comparison = Comparison(self.before, view, self.alignment, prover.seen)
        self._meaning: dict[int, list[tuple[str, frozenset[str]]]] = {}

    @cached_property
    def clean(self) -> CleanPaths:
        """The judge of clean paths; only asked if something is gained."""
        prover = self.prover
        before, catalogue = prover.before_loom, prover.catalogue
        return CleanPaths(before, self.after_loom, self.view.net, catalogue, prover.facts, prover.clean_paths)

    def findings(self) -> Iterator[Finding]:
        """Yield every outcome of every load, cam and memory."""
        for old_all, new_all in ((self.before.loads, self.view.loads), (self.before.cams, self.view.cams)):
            for key in dict.fromkeys((*old_all, *new_all)):
                yield from self._of_one(key, old_all.get(key), new_all.get(key))
        yield from self.comparison.memory_changes()

    def _of_one(self, key: LoadKey, old: Behaviour | None, new: Behaviour | None) -> Iterator[Finding]:
        wanted = [wish for wish in self.job.wants if _speaks_of(wish, key)]

        def is_wanted(setting: JointSetting, names: tuple[str, ...], appearance: str) -> bool:
            if not wanted:
                return False
            position = dict(zip(names, setting.labels, strict=True))
            return any(wish.is_ == appearance and self.is_meant(wish, position) for wish in wanted)

        def is_clean(moment: Moment) -> bool:
            return self.clean.explains(key, self.view.position(moment))

        for finding in self.comparison.findings(old, new, is_wanted, is_clean):
            yield from self._split_accepted(finding, key)

    def _split_accepted(self, finding: Finding, key: LoadKey) -> Iterator[Finding]:
        if finding.outcome == "lost" and key[0] in self.removed:
            yield replace(finding, accepted=True)  # the job takes the part out: what only it did goes with it
            return
        accepts = [wish for wish in self.job.accepts if _speaks_of(wish, key)]
        if finding.outcome not in ("lost", "changed") or not accepts:
            yield finding
            return
        accepted = frozenset(
            row
            for row in finding.rows
            if any(self.is_meant(wish, dict(zip(finding.names, row, strict=True))) for wish in accepts)
        )
        if accepted:
            yield replace(finding, rows=accepted, accepted=True)
        if finding.rows - accepted:
            yield replace(finding, rows=finding.rows - accepted)

    def is_meant(self, wish: Wish, position: Mapping[str, str]) -> bool:
        """Whether a wish means a position; a variable that the load does not depend on is free."""
        for full, labels in self._meant(wish):
            label = position.get(full)
            if label is not None and label not in labels:
                return False
        return True

    def _meant(self, wish: Wish) -> list[tuple[str, frozenset[str]]]:
        """The positions that a wish speaks of, by the full names of variables."""
        found = self._meaning.get(id(wish))  # the job keeps its wishes for as long as this
        if found is None:
            full_names = ((self.alignment.full_name(name), values) for name, values in wish.when.items())
            found = self._meaning[id(wish)] = [
                (full, self.alignment.labels_meant(full, values))
                for full, values in full_names
                if full in self.alignment.controls
            ]
        return found

    def hazards(self) -> Iterator[Hazard]:
        """Yield every hazard, old ones marked."""
        yield from HazardFinder(self.comparison, self.alignment, self.prover.catalogue, self.swapped).find()

    def faults(self, findings: tuple[Finding, ...], hazards: tuple[Hazard, ...]) -> Iterator[Fault]:
        """Yield everything that is not as it should be."""
        for finding in findings:
            if finding.outcome in ("lost", "changed", "unintended") and not finding.is_memory:
                yield self._fault(finding)
        for hazard in hazards:
            if not hazard.was_before:
                yield Fault(
                    "hazard",
                    hazard.kind,
                    hazard.at,
                    positions=tuple(hazard.positions()[:MOST_POSITIONS_IN_A_FAULT]),
                    share=len(hazard.rows) / max(1, len(hazard.possible)),
                    path=hazard.path,
                    hazard=hazard.kind,
                    control=hazard.control,
                    detail=hazard.detail,
                )
        yield from self._never_works()
        yield from self._wishes_not_met()

    def _fault(self, finding: Finding) -> Fault:
        kind = finding.outcome
        assert kind in ("lost", "changed", "unintended")
        return Fault(
            kind,
            finding.what,
            finding.at,
            finding.duty,
            tuple(finding.positions()[:MOST_POSITIONS_IN_A_FAULT]),
            finding.share,
            self._path(finding),
            detail=f"{finding.before} before, {finding.after} after",
            accepted=finding.accepted,
        )

    def _path(self, finding: Finding) -> tuple[str, ...]:
        """The way that fed a lost load before, or that feeds an unintended one now."""
        sample = finding.sample
        key = (finding.at, finding.what)
        if sample is None or finding.kind == "cam":
            return self._cam_path(finding)
        if finding.outcome == "unintended":
            return self._path_in(self.view, self.view.loads, key, sample.after, sample.start_after)
        return self._path_in(self.before, self.before.loads, key, sample.before, sample.start_before)

    def _path_in(
        self,
        view: View,
        loads: Mapping[LoadKey, Behaviour],
        key: LoadKey,
        setting: Mapping[int, int] | None,
        start: Start | None,
    ) -> tuple[str, ...]:
        if setting is None or start is None or key not in loads:
            return ()
        moment = loads[key].moment_when_on(setting, start) or dict(setting)
        return feeding_path(view.net, key, view.position(moment))

    def _cam_path(self, finding: Finding) -> tuple[str, ...]:
        """The way that ran the motor home before."""
        sample = finding.sample
        law = next((law for law in self.before.net.cams.values() if law.place == finding.at), None)
        if sample is None or sample.before is None or sample.start_before is None or law is None:
            return ()
        cam = self.before.cams[(finding.at, finding.what)]
        moment = dict(sample.before) | dict(zip(cam.group.hidden, sample.start_before, strict=True))
        for load in law.loads:
            path = feeding_path(self.before.net, load, self.before.position(moment))
            if path:
                return path
        return ()

    def _never_works(self) -> Iterator[Fault]:
        """A task that only the new part has and that never runs, in no position."""
        for key, new in self.view.loads.items():
            if key in self.before.loads or new.kind == "coil":
                continue
            if all(value in ("off", "glows") for value in new.function.values()):
                accepted = any(_speaks_of(wish, key) for wish in self.job.accepts)
                detail = "the new part can do it, but it never runs"
                yield Fault("missing", key[1], key[0], new.duty, detail=detail, accepted=accepted)

    def _wishes_not_met(self) -> Iterator[Fault]:
        for wish in self.job.wants:
            for key, new in self.view.loads.items():
                if not _speaks_of(wish, key):
                    continue
                names = self.comparison.names_of(None, new)
                failing = []
                total = 0
                for setting, appearances in self.comparison.appearances(new):
                    position = dict(zip(names, setting.labels, strict=True))
                    if self.is_meant(wish, position):
                        total += 1
                        if appearances - {wish.is_}:
                            failing.append(position)
                if failing:
                    yield Fault(
                        "missing", wish.what, key[0], new.duty,
                        tuple(failing[:MOST_POSITIONS_IN_A_FAULT]), len(failing) / total,
                        detail=f"wanted {wish.is_}",
                    )  # fmt: skip


def _speaks_of(wish: Wish, key: LoadKey) -> bool:
    """Whether a wish speaks of a load."""
    place, does = key
    return wish.what == does and (not wish.at or place in wish.at)


def _start_states(view: View) -> int:
    """Number of combinations of reachable hidden states, independent groups multiplied."""
    left = set(view.states.hidden)
    counts = []
    while left:
        group = view.states.group(frozenset((min(left),)))
        counts.append(len({start for starts in group.starts().values() for start in starts}))
        left -= set(group.hidden)
    return prod(counts)
