"""Findings in words: each outcome with the shortest exact condition, and whether it may be driven so."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import product

from planner.circuit.network import Network
from planner.messages import tr
from planner.model.elements import SPARK
from planner.model.loom import Loom
from planner.model.need import Fault, HazardKind
from planner.model.plan import BehaviourLine, HazardLine, RoadFit, StrainLine
from planner.model.strain import INTOLERABLE
from planner.proof.compare import Finding
from planner.proof.condition import Condition, shortest_condition
from planner.proof.dark_instruments import dark_instruments
from planner.proof.facts import place_titles
from planner.proof.hazards import Hazard
from planner.proof.off_scale import only_at_their_end
from planner.proof.short_way import short_way
from planner.proof.words import say

ROAD_WORDS = {
    "head": "headlamps",
    "tail": "side and tail lamps",
    "stop": "stop lamps",
    "signal": "turn signals",
    "horn": "horn",
    "wiper": "wipers",
}
# What was there before is not the plan's, but no reason to drive with it.
OLD_AGAINST_ROAD: Mapping[HazardKind, str] = {
    "short": "a short circuit",
    "feeds-tied": "two feeds tied together",
}
MOST_POSITIONS_PRINTED = 200
MOST_CONTROLS_NAMED = 5
_ORDER = {"unintended": 0, "lost": 1, "changed": 2, "gained": 3, "otherwise": 4, "kept": 5}


class Reporter:
    """Puts the findings of one proof into words."""

    def __init__(
        self,
        before: Loom,
        after: Loom,
        networks: Sequence[Network],
        cranking: Collection[tuple[str, str]] = (),
    ) -> None:
        self.before, self.after = before, after
        self.cranking = cranking  # controls and their positions, held as long as the starter turns
        self.titles: dict[str, str] = {}
        self.values: dict[str, tuple[str, ...]] = {}
        self.sprung: dict[str, frozenset[str]] = {}
        self.meanings: dict[str, dict[str, str]] = {}
        for net, loom in zip(networks, (before, after), strict=True):
            self.titles |= place_titles(loom, net)
            for name, variable in net.variables.items():
                self.sprung[name] = self.sprung.get(name, frozenset()) | variable.sprung
                known = self.values.get(name, ())
                self.values[name] = known + tuple(v for v in variable.values if v not in known)
                pairs = zip(variable.values, variable.meanings, strict=True)
                self.meanings.setdefault(name, {}).update({v: f"{v} ({m})" for v, m in pairs if v != m})

    def title(self, place: str) -> str:
        """What people call a place of either loom."""
        return self.after.place_title(place) if place in self.after.places else self.before.place_title(place)

    def _title_of(self, finding: Finding) -> str:
        """What people call the place of a load; of one that is lost, what they called it with its part."""
        is_gone = finding.outcome == "lost" and finding.at in self.before.places
        return self.before.place_title(finding.at) if is_gone else self.title(finding.at)

    def when(
        self, names: tuple[str, ...], rows: Collection[tuple[str, ...]], possible: Collection[tuple[str, ...]]
    ) -> str:
        """The shortest exact condition for some rows, in words."""
        if not names:
            return "always"
        variables = {}
        for index, name in enumerate(names):
            seen = {row[index] for row in possible} | {row[index] for row in rows}
            ordered = [v for v in self.values.get(name, ()) if v in seen]
            variables[name] = tuple(ordered) + tuple(sorted(seen - set(ordered)))
        condition = shortest_condition(variables, rows, possible)
        return say(condition, self.titles, self.meanings)

    def at(self, position: Mapping[str, str]) -> str:
        """One position in words; of many controls only the first few are named."""
        named = dict(list(position.items())[:MOST_CONTROLS_NAMED])
        cube = {name: (value,) for name, value in named.items()}
        values = {name: self.values.get(name, ()) for name in named}
        more = len(position) - len(named)
        said = say(Condition((cube,), values=values), self.titles, self.meanings)
        return f"{said}, and {more} more control{'s' * (more > 1)} moved" if more else said

    def behaviours(self, findings: Sequence[Finding]) -> Iterator[BehaviourLine]:
        """Yield one line for each outcome; a behaviour that is kept everywhere is one line ``always``."""
        at_their_end = only_at_their_end(findings)  # told among what is missing
        flashes = {_shown(f) for f in findings if f.duty == "head" and self._is_held(f)}
        for finding in sorted(
            (f for f in dark_instruments(findings) if (f.at, f.what) not in at_their_end),
            key=lambda f: (_ORDER[f.outcome], f.duty not in ROAD_WORDS, f.at, f.what, f.before, f.after),
        ):
            whole = finding.rows == finding.possible
            kept = finding.outcome == "kept"
            if (
                kept
                and not whole
                and any(
                    other is not finding
                    and other.outcome == "kept"
                    and (other.at, other.what) == (finding.at, finding.what)
                    and (other.before, other.after) < (finding.before, finding.after)
                    for other in findings
                )
            ):
                continue
            when = "" if kept else self.when(finding.names, finding.rows, finding.possible)
            if _shown(finding) in flashes:
                when = tr("as the flash of the headlamps, {when}", when=when)
            yield BehaviourLine(
                what=finding.what,
                at=finding.at,
                title=self._title_of(finding),
                outcome=finding.outcome,
                before="" if kept else finding.before,
                after="" if kept else finding.after,
                when=when,
                positions=() if kept else tuple(finding.positions()[:MOST_POSITIONS_PRINTED]),
                duty=finding.duty,
                accepted=finding.accepted,
                as_wished=finding.as_wished,
                in_new_position=finding.in_new_position,
                is_memory=finding.is_memory,
                instead=self.at(dict(finding.instead)) if finding.instead else "",
                because=self._let_go(finding.let_go),
                while_cranking=not kept and self._is_cranking(finding),
            )

    def _is_cranking(self, finding: Finding) -> bool:
        """Whether something shows only while the starter is held on."""
        rows = [zip(finding.names, row, strict=True) for row in finding.rows]
        return all(any(each in self.cranking for each in row) for row in rows)

    def _is_held(self, finding: Finding) -> bool:
        """Whether something shows only while a lever is held that springs back, as headlamps are flashed."""
        held = [self.sprung.get(name, frozenset()) for name in finding.names]
        return finding.outcome != "kept" and all(
            any(value in sprung for value, sprung in zip(row, held, strict=True)) for row in finding.rows
        )

    def _let_go(self, armatures: Sequence[str]) -> str:
        """What is said of relays that bring something about by letting go."""
        places = tr(" and ").join(dict.fromkeys(self.title(name.rpartition("/")[0]) for name in armatures))
        return (
            tr("the relay at the {place} held it off, and no longer pulls in", place=places) if places else ""
        )

    def missing(self, faults: Sequence[Fault]) -> Iterator[BehaviourLine]:
        """Yield one line for each behaviour that is wanted and does not work, or that a part has unused."""
        for fault in faults:
            if fault.kind in ("missing", "unused"):
                names = tuple(dict.fromkeys(name for position in fault.positions for name in position))
                rows = {tuple(position[name] for name in names) for position in fault.positions}
                whole = [self.values[name] for name in names]
                yield BehaviourLine(
                    what=fault.what,
                    at=fault.at,
                    title=self.title(fault.at),
                    outcome="unused" if fault.kind == "unused" else "missing",
                    before="",
                    after=fault.detail,
                    when=self.when(names, rows, frozenset(product(*whole))),
                    positions=fault.positions,
                    duty=fault.duty,
                    accepted=fault.accepted,
                )

    def hazards(self, hazards: Sequence[Hazard]) -> Iterator[HazardLine]:
        """Yield one line for each hazard, new ones first."""
        for hazard in sorted(hazards, key=lambda h: (h.was_before, h.kind, h.at)):
            yield HazardLine(
                kind=hazard.kind,
                at=hazard.at,
                text=self.hazard_words(hazard),
                when=self.when(hazard.names, hazard.rows, hazard.possible),
                positions=tuple(hazard.positions()[:MOST_POSITIONS_PRINTED]),
                path=hazard.path,
                was_before=hazard.was_before,
            )

    def hazard_words(self, hazard: Hazard) -> str:
        """What is unsafe and where; of a short the way that it takes."""
        place = hazard.at.partition(":")[0]
        known = place in self.after.places or place in self.before.places
        way = short_way(self.after, hazard.path) if hazard.kind == "short" else ""
        said = f"{way}; {hazard.detail}" if way else hazard.detail
        return f"{self.title(place)}: {said}" if known and not way else said


def _shown(finding: Finding) -> tuple[object, ...]:
    """An outcome and where it shows: a warning lamp that goes with the headlamps shares both."""
    return finding.outcome, finding.names, frozenset(finding.rows)


def judge_road(
    behaviours: Sequence[BehaviourLine],
    hazards: Sequence[Hazard],
    strains: Sequence[StrainLine],
    has_questions: bool,
    is_unsettled: bool,
    reporter: Reporter,
) -> tuple[RoadFit, tuple[str, ...]]:
    """May it be driven like this? From road lamps, horn, wipers, hazards and what is over its limit."""
    against: dict[str, None] = {}
    at_start: dict[str, None] = {}  # nobody drives while the starter turns
    for line in behaviours:
        is_worse = line.outcome in ("lost", "changed", "unintended") and not line.as_wished
        if line.what == SPARK and line.outcome == "unintended":
            against[f"the engine is not stopped any more {line.when}"] = None
        elif line.duty in ROAD_WORDS and is_worse and line.while_cranking and line.outcome != "unintended":
            at_start[f"{line.what} ({line.title}): {line.outcome} only while the starter turns"] = None
        elif line.duty in ROAD_WORDS and is_worse:
            against[f"{line.what} ({line.title}): {line.outcome} {line.when}"] = None
    for hazard in hazards:
        if not hazard.was_before and (hazard.kind != "dead-position" or hazard.duty in ROAD_WORDS):
            against[hazard.detail] = None
        elif hazard.was_before and hazard.rows and hazard.kind in OLD_AGAINST_ROAD:
            against[
                f"{OLD_AGAINST_ROAD[hazard.kind]}, as before the work: {reporter.hazard_words(hazard)}"
            ] = None
    for strain in strains:
        counts = strain.kind in INTOLERABLE or strain.duty in ROAD_WORDS
        if strain.is_new and not strain.is_wearing and counts:
            against[strain.text] = None
    if against:
        return "no", tuple(against)
    unknown = []
    if is_unsettled:
        unknown.append("something is still to settle")
    if has_questions:
        unknown.append("a question to settle is open")
    seen = {line.duty for line in behaviours}
    missing = [words for duty, words in ROAD_WORDS.items() if duty not in seen]
    if missing:
        unknown.append(f"not in this loom: {', '.join(missing)}")
    if unknown:
        return "not-known", tuple(unknown)
    return "yes", ("lamps, horn and wipers work as before, and nothing new is over its limit", *at_start)


def fault_words(fault: Fault, title: str) -> str:
    """A fault in one line, for alternatives."""
    if fault.kind == "hazard":
        return f"{fault.what} at {title}: {fault.detail}" if title else f"{fault.what}: {fault.detail}"
    where = f" ({title})" if title else ""
    said = " (accepted)" if fault.accepted else ""
    return f"{fault.kind}{said}: {fault.what}{where}: {fault.detail}"
