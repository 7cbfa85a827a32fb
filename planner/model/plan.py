"""The result of planning a job: everything a sheet shows and ``--json`` prints, in plain records.

Sheets compute nothing: words, orders and verdicts are settled here and in the pipeline.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from math import isfinite
from typing import Any, Literal

from planner.model.need import Outcome
from planner.model.vehicle_kind import VehicleKind

Verdict = Literal["no-loss", "losses", "measure", "unsettled", "unsafe"]
RoadFit = Literal["yes", "no", "not-known"]


@dataclass(frozen=True, slots=True)
class CardRow:
    """One line of a part's card: an end (or a bare terminal) and what becomes of it."""

    mark: str  # terminal of the new part, or "-" for an end that goes nowhere
    colour: str  # in words, "" for a bare terminal
    wire: str  # id, "" for a bare terminal
    was_on: str  # mark on the old part, or where a new wire comes from
    goes_to: str  # mark, or what becomes of the end
    is_changed: bool
    steps: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Card:
    """One fitted, changed or removed part."""

    at: str
    title: str  # of the place
    old_part: str  # title, "" if the place is new
    new_part: str  # title, "" if removed
    mounting: str
    rows: tuple[CardRow, ...]


@dataclass(frozen=True, slots=True)
class PlanStep:
    """One operation of the work list. ``fields`` say it to a program, always in the same order."""

    n: int
    do: str
    fields: Mapping[str, Any]
    text: str  # the step as a sentence for the bench
    because: tuple[str, ...]  # rule names
    facts: tuple[str, ...]
    source: str
    reversible: bool
    minutes: float
    place: str = ""  # where one stands to do it
    id: str = ""  # what it does and to what: the same in every plan of the job
    ends: tuple[str, ...] = ()  # those that its text ends with, each on its terminal
    what: str = ""  # its text without what hangs on the other steps of its list


WORSE = frozenset({"lost", "changed", "unintended"})  # outcomes of what worked before, and does not as it did


@dataclass(frozen=True, slots=True)
class BehaviourLine:
    """One outcome of one behaviour, with the condition in words."""

    what: str
    at: str
    title: str
    outcome: Outcome | Literal["missing", "unused"]  # missing: wanted, and it does not work
    before: str
    after: str
    when: str
    positions: tuple[Mapping[str, str], ...]
    duty: str = "none"
    accepted: bool = False
    as_wished: bool = False  # the job wants it off there: accepted too
    in_new_position: bool = False
    is_memory: bool = False
    instead: str = ""  # of what is worked otherwise: by what, in words
    because: str = ""  # what brings it about, where that is not plain
    path: tuple[str, ...] = ()
    while_cranking: bool = False  # only while the starter is held on


@dataclass(frozen=True, slots=True)
class HazardLine:
    """Something unsafe, with the condition in words."""

    kind: str
    at: str
    text: str
    when: str
    positions: tuple[Mapping[str, str], ...]
    path: tuple[str, ...]
    was_before: bool


@dataclass(frozen=True, slots=True)
class StrainLine:
    """A current, voltage or reading against its limit, at the position in which it is worst."""

    kind: str
    at: str
    leg: int | None
    text: str
    value: float
    limit: float
    unit: str
    use: float  # share of what is allowed; more than 1 is too much
    is_least: bool  # the limit is the least it should be, not the most
    is_dangerous: bool
    is_wearing: bool  # it wears, dims or gets hot, and all works as before
    before: float | None  # the same value before the work
    was_over: bool
    is_new: bool  # over its limit, and not so before or clearly less so
    when: str
    position: Mapping[str, str]
    loads: tuple[tuple[str, str], ...]
    path: tuple[str, ...]
    source: str
    basis: str
    duty: str
    gets_hot: bool = False  # a terminal that passes far more than it is tested with

    @property
    def is_over(self) -> bool:
        """Whether the limit is passed."""
        return self.use > 1.0

    @property
    def is_from_memory(self) -> bool:
        """Whether the limit, or what it was reckoned from, was not seen in print."""
        return self.basis.startswith("memory")


@dataclass(frozen=True, slots=True)
class LoadLine:
    """The volts of a load of the loom after, over every position in which it is meant to work fully."""

    at: str
    what: str
    title: str  # of the place
    least_volts: float
    least_when: str
    looks: str  # at the least volts
    before_least_volts: float | None  # None: it was not there, or never meant to work fully
    most_volts: float
    rated_volts: float


@dataclass(frozen=True, slots=True)
class DeadTestLine:
    """What an ohmmeter reads from the fused side of a fuse to the body, battery off, everything at rest."""

    at: str
    text: str  # the fuse, as people say it
    ohms: float  # infinite if nothing joins them
    ohms_lamps_out: float


@dataclass(frozen=True, slots=True)
class CurrentsLine:
    """What the electrical view covered."""

    points: int  # operating points solved, of the loom after
    worst_residual_amps: float  # by which Kirchhoff's current law is missed at any node of any of them
    charge_percent: float  # of the battery
    wire_celsius: float
    loads: tuple[LoadLine, ...]
    appearance: str  # at which share of its power a load looks how
    dead_tests: tuple[DeadTestLine, ...] = ()
    bundles: tuple[str, ...] = ()  # wires that lie together, by the loom's names for them
    insulations: tuple[str, ...] = ()  # that the loom names for its wires
    assumed: tuple[str, ...] = ()  # what nobody has read in this vehicle, and the figures rest on


@dataclass(frozen=True, slots=True)
class QuestionLine:
    """A reading that has to be taken."""

    about: str
    where: str
    how: str
    answers: tuple[tuple[str, str], ...]  # reading, what it means
    because: str  # rule
    source: str
    after_work: bool = False  # it cannot be taken before the last step is done


@dataclass(frozen=True, slots=True)
class RemarkLine:
    """Something the restorer should know."""

    text: str
    because: str
    source: str
    is_open: bool = False  # the plan is not settled while it is so
    but: str = ""  # what of it the verdict says as well: all works as before, and yet


@dataclass(frozen=True, slots=True)
class AlternativeLine:
    """A plan beside the chosen one: what is done besides or instead, what it costs and loses."""

    title: str
    minutes: float  # of the whole alternative plan
    steps: tuple[str, ...]  # as sentences, those that differ from the plan
    loses: tuple[str, ...]
    because: str
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ProofLine:
    """What the proof covered."""

    positions: int
    start_states: int
    solved: int
    compared: int
    looms: int
    seconds: float
    engine_needs_spark: bool = False  # what shows only until an engine stands is left out


@dataclass(frozen=True, slots=True)
class LeadLine:
    """A lead of a kit, or a wire for which the kit has none, and what becomes of it."""

    lead: str  # what it is tagged with; empty for a wire that has to be made
    text: str
    outcome: Literal["used", "left over", "not offered", "missing"]
    step: int | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """A settled and proven plan."""

    job: str
    title: str
    loom: str
    is_demonstration: bool
    verdict: Verdict
    road: RoadFit
    road_why: tuple[str, ...]
    cards: tuple[Card, ...]
    steps: tuple[PlanStep, ...]
    behaviours: tuple[BehaviourLine, ...]
    hazards: tuple[HazardLine, ...]
    unsettled: tuple[str, ...]
    questions: tuple[QuestionLine, ...]
    remarks: tuple[RemarkLine, ...]
    cautions: tuple[str, ...]
    not_seen: tuple[str, ...]
    alternatives: tuple[AlternativeLine, ...]
    proof: ProofLine
    minutes: float
    is_proven_cheapest: bool
    strains: tuple[StrainLine, ...] = ()
    currents: CurrentsLine | None = None
    reasoning: str = ""
    leads: tuple[LeadLine, ...] = ()  # only if a kit was laid out
    kind: VehicleKind = "car"  # what it is of: words hang on it

    def as_json(self) -> dict[str, Any]:
        """The contract's document."""
        return {
            "job": self.job,
            "title": self.title,
            "loom": self.loom,
            "verdict": self.verdict,
            "road": {"fit": self.road, "why": list(self.road_why)},
            "steps": [
                {
                    "n": step.n,
                    "do": step.do,
                    **step.fields,
                    "text": step.text,
                    "because": list(step.because),
                    "facts": list(step.facts),
                    "source": step.source,
                    "reversible": step.reversible,
                    "minutes": step.minutes,
                }
                for step in self.steps
            ],
            "behaviours": [
                {
                    "what": line.what,
                    "at": line.at,
                    "outcome": line.outcome,
                    "before": line.before,
                    "after": line.after,
                    "when": line.when,
                    "positions": [dict(p) for p in line.positions],
                    "accepted": line.accepted,
                    **({"as_wished": True} if line.as_wished else {}),
                    "new_position": line.in_new_position,
                    "memory": line.is_memory,
                    **({"instead": line.instead} if line.instead else {}),
                    **({"because": line.because} if line.because else {}),
                }
                for line in self.behaviours
            ],
            "hazards": [
                {
                    "kind": line.kind,
                    "at": line.at,
                    "text": line.text,
                    "when": line.when,
                    "positions": [dict(p) for p in line.positions],
                    "path": list(line.path),
                    "was_before": line.was_before,
                }
                for line in self.hazards
            ],
            "unsettled": list(self.unsettled),
            "questions": [
                {
                    "about": q.about,
                    "where": q.where,
                    "how": q.how,
                    "answers": [{"reading": reading, "means": means} for reading, means in q.answers],
                    "because": q.because,
                    "source": q.source,
                }
                for q in self.questions
            ],
            "remarks": [{"text": r.text, "because": r.because, "source": r.source} for r in self.remarks],
            "cautions": list(self.cautions),
            "not_seen": list(self.not_seen),
            "alternatives": [
                {
                    "title": a.title,
                    "minutes": a.minutes,
                    "steps": list(a.steps),
                    "loses": list(a.loses),
                    "because": a.because,
                    "facts": list(a.facts),
                }
                for a in self.alternatives
            ],
            "proof": {
                "positions": self.proof.positions,
                "start_states": self.proof.start_states,
                "solved": self.proof.solved,
                "compared": self.proof.compared,
                "looms": self.proof.looms,
                "seconds": self.proof.seconds,
            },
            "cost": self.minutes,
            "proven_cheapest": self.is_proven_cheapest,
            "currents": self._currents(),
            **({"leads": [asdict(line) for line in self.leads]} if self.leads else {}),
        }

    def _currents(self) -> dict[str, Any]:
        covered = self.currents
        return {
            "points": covered.points if covered else 0,
            "worst_residual_amps": covered.worst_residual_amps if covered else 0.0,
            "charge_percent": covered.charge_percent if covered else None,
            "wire_celsius": covered.wire_celsius if covered else None,
            "bundles": list(covered.bundles) if covered else [],
            "insulations": list(covered.insulations) if covered else [],
            **({"assumed": list(covered.assumed)} if covered and covered.assumed else {}),
            "appearance": covered.appearance if covered else "",
            "loads": [
                {
                    "at": line.at,
                    "what": line.what,
                    "title": line.title,
                    "least_volts": round(line.least_volts, 6),
                    "least_when": line.least_when,
                    "looks": line.looks,
                    "before_least_volts": (
                        None if line.before_least_volts is None else round(line.before_least_volts, 6)
                    ),
                    "most_volts": round(line.most_volts, 6),
                    "rated_volts": line.rated_volts,
                }
                for line in (covered.loads if covered else ())
            ],
            "dead_tests": [
                {
                    "at": line.at,
                    "ohms": _ohms(line.ohms),
                    "ohms_lamps_out": _ohms(line.ohms_lamps_out),
                }
                for line in (covered.dead_tests if covered else ())
            ],
            "strains": [
                {
                    "kind": line.kind,
                    "at": line.at,
                    "leg": line.leg,
                    "text": line.text,
                    "value": round(line.value, 6),
                    "limit": round(line.limit, 6),
                    "unit": line.unit,
                    "limit_is": "least" if line.is_least else "most",
                    "use": round(line.use, 4) if isfinite(line.use) else None,
                    "before": None if line.before is None else round(line.before, 6),
                    "was_over": line.was_over,
                    "new": line.is_new,
                    "when": line.when,
                    "position": dict(line.position),
                    "loads": [{"at": at, "what": what} for at, what in line.loads],
                    "path": list(line.path),
                    "source": line.source,
                    "basis": line.basis,
                }
                for line in self.strains
            ],
        }


def _ohms(ohms: float) -> float | None:
    """A reading for JSON, which has no infinity: null is open."""
    return round(ohms, 3) if isfinite(ohms) else None
