"""The faults of a proof: what is lost, changed, unintended or unsafe, never runs, or is not as wanted."""

from collections.abc import Collection, Iterator, Mapping, Sequence

from planner.circuit.fitted import LoadKey
from planner.messages import tr
from planner.model.elements import ROAD_DUTIES
from planner.model.job import Job
from planner.model.need import Fault
from planner.model.wording import appearance_words
from planner.proof.behaviour import Behaviour, Start, View, is_on
from planner.proof.compare import Comparison, Finding
from planner.proof.dark_instruments import dark_instruments
from planner.proof.hazards import Hazard
from planner.proof.let_go import ARMATURE
from planner.proof.off_scale import only_at_their_end
from planner.proof.wishes import Meaning, is_as_wished, speaking_of

MOST_POSITIONS_IN_A_FAULT = 64


class FaultFinder:
    """Finds the faults of the loom after, as a job wants it."""

    def __init__(self, job: Job, comparison: Comparison, meaning: Meaning) -> None:
        self.job, self.comparison, self.meaning = job, comparison, meaning
        self.before, self.view = comparison.before, comparison.after

    def find(self, findings: Sequence[Finding], hazards: Sequence[Hazard]) -> Iterator[Fault]:
        """Yield everything that is not as it should be."""
        for finding in dark_instruments(findings):
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
        unmet = tuple(self._wishes_not_met())
        told = {(fault.at, fault.what) for fault in unmet}
        yield from self._never_works(only_at_their_end(findings), told)
        yield from unmet

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
        return view.feeding_path(key, moment)

    def _cam_path(self, finding: Finding) -> tuple[str, ...]:
        """The way that ran the motor home before."""
        sample = finding.sample
        law = next((law for law in self.before.net.cams.values() if law.place == finding.at), None)
        if sample is None or sample.before is None or sample.start_before is None or law is None:
            return ()
        cam = self.before.cams[(finding.at, finding.what)]
        moment = dict(sample.before) | dict(zip(cam.group.hidden, sample.start_before, strict=True))
        for load in law.loads:
            path = self.before.feeding_path(load, moment)
            if path:
                return path
        return ()

    def _never_works(self, at_their_end: frozenset[LoadKey], told: Collection[LoadKey]) -> Iterator[Fault]:
        """A task that only the new part has and that never runs, in no position.

        A part that works otherwise was fitted for what it does: the rest is missing only if the job wants it,
        or if the road does: a rear lamp that lights as a tail lamp was not fitted to stop without its other.
        What is ``told`` is missing already, with the positions in which the job wants it.
        """
        for key, new in self.view.loads.items():
            if key in self.before.loads or new.kind == "coil":
                continue
            accepted = bool(speaking_of(self.job.accepts, key))
            if key in at_their_end:
                detail = tr("it shows nothing but an end of its scale")
                yield Fault("missing", key[1], key[0], new.duty, detail=detail, accepted=accepted)
            elif not any(map(is_on, new.function.values())):
                if key in told or self._is_held_off(key[0], new):
                    continue
                asked = new.duty in ROAD_DUTIES or bool(speaking_of(self.job.wants, key))
                is_wanted = asked or not self._works(key[0])
                yield Fault(
                    "missing" if is_wanted else "unused", key[1], key[0], new.duty,
                    detail=tr("the new part can do it, but it never runs"), accepted=accepted,
                )  # fmt: skip

    def _is_held_off(self, place: str, load: Behaviour) -> bool:
        """Whether a relay of its own part, pulled in, keeps a load dark: it warns of what does not fail."""
        hidden = [self.view.label_of(v) for v in load.group.hidden]
        own = [
            index
            for index, name in enumerate(hidden)
            if name.startswith(f"{place}/") and self.view.net.variables[name].kind == ARMATURE
        ]
        starts = load.group.starts().values()
        return any(state[index] != 0 for index in own for states in starts for state in states)

    def _works(self, place: str) -> bool:
        """Whether the part at a place does anything in any position."""
        loads = (load for (at, _), load in self.view.loads.items() if at == place and load.kind != "coil")
        return any(is_on(value) for load in loads for value in load.function.values())

    def _wishes_not_met(self) -> Iterator[Fault]:
        for key, new in self.view.loads.items():
            for wish in speaking_of(self.job.wants, key):
                names = self.comparison.names_of(None, new)
                failing = []
                total = 0
                for setting, appearances in self.comparison.appearances(new):
                    position = dict(zip(names, setting.labels, strict=True))
                    if self.meaning.is_meant(wish, position):
                        total += 1
                        if not all(is_as_wished(wish, str(each)) for each in appearances):
                            failing.append({**self.meaning.free_of(wish, position), **position})
                if failing:
                    yield Fault(
                        "missing", wish.what, key[0], new.duty,
                        tuple(failing[:MOST_POSITIONS_IN_A_FAULT]), len(failing) / total,
                        detail=tr("wanted {appearance}", appearance=appearance_words(wish.is_)),
                    )  # fmt: skip
