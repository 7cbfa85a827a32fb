"""Rule cases as data: reads a case file, prepares the case a rule is shown, and puts emissions into words."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache
from pathlib import Path
from typing import Any

import catalogs
from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.needs import swap_operations
from planner.model.catalogue import Catalogue, Publication
from planner.model.delta import (
    Add,
    ChangeFuse,
    Cover,
    Cut,
    Extend,
    Fit,
    Hold,
    Insert,
    Join,
    Make,
    Move,
    Operation,
    Piggyback,
    ReEnd,
    Remove,
    Renew,
)
from planner.model.facts import ConductorFact, Facts
from planner.model.job import Job
from planner.model.loom import Loom, Place
from planner.model.need import (
    BareTerminal,
    Emission,
    Fault,
    Fitted,
    FullTerminal,
    LeansOn,
    LooseEnd,
    Need,
    OtherPole,
    OtherVolts,
    Proposal,
    Question,
    ShortReach,
    WireToMake,
    WrongFitting,
)
from planner.model.part import Part, Role
from planner.model.standards import Standards
from planner.model.strain import Strain
from planner.proof.facts import conductor_facts
from planner.reading.job_references import check_job
from planner.reading.loom_references import check_loom
from planner.reading.part_references import check_part
from planner.reading.standards import read_standards
from planner.reading.validate import build
from planner.reading.yaml_source import DataPath, Document, read_document

CASES = Path(__file__).parent.parent / "cases"
KEYS = {"name", "need", "first", "expect", "job", "loom", "facts", "taken"}
NEEDS: Mapping[str, type] = {
    "loose-end": LooseEnd,
    "bare-terminal": BareTerminal,
    "full-terminal": FullTerminal,
    "wrong-fitting": WrongFitting,
    "short-reach": ShortReach,
    "wire-to-make": WireToMake,
    "fault": Fault,
    "fitted": Fitted,
    "leans-on": LeansOn,
    "other-volts": OtherVolts,
    "other-pole": OtherPole,
}
NUMBERS = {"end": int, "metres": float, "share": float, "fuse_amps": float}
STRAIN_NUMBERS = {"leg": int, "loaded": int, "value": float, "limit": float, "carries": float}


@dataclass(frozen=True)
class RuleCase:
    """One case of a case file."""

    rule: str
    file: Path
    number: int

    @property
    def data(self) -> Mapping[str, Any]:
        return dict(_document(self.file).data["cases"][self.number])

    @property
    def name(self) -> str:
        return str(self.data["name"])

    @property
    def is_firing(self) -> bool:
        return bool(self.data["expect"])


def case_files() -> list[Path]:
    """Every case file, by rule name."""
    return sorted(CASES.glob("*.yaml"))


def rule_cases() -> list[RuleCase]:
    """Every case of every file."""
    return [RuleCase(f.stem, f, n) for f in case_files() for n in range(len(_document(f).data["cases"]))]


@lru_cache
def _document(file: Path) -> Document:
    return read_document(file)


@lru_cache
def _roles() -> Mapping[str, Role]:
    document = read_document(catalogs.directory() / "roles.yaml")
    return {name: _built(Role, document, (name,)) for name in document.data}


def _built(model: Any, document: Document, path: DataPath = ()) -> Any:
    made, problems = build(model, document, path)
    assert not problems, "\n".join(line for p in problems for line in p.lines())
    return made


def _part_of(case: RuleCase, key: str) -> Document:
    """The loom or job of a case file as a document of its own, with what the case changes in it."""
    document, changes = _document(case.file), case.data.get(key) or {}

    def below(places: Mapping[DataPath, tuple[int, int]]) -> dict[DataPath, tuple[int, int]]:
        own = ("cases", case.number, key)
        found = {path[1:]: at for path, at in places.items() if path and path[0] == key}
        return found | {path[3:]: at for path, at in places.items() if path[:3] == own and path[3:]}

    data = {**document.data[key], **changes}
    return Document(document.file, data, below(document.keys), below(document.values))


@lru_cache
def _catalogue(file: Path) -> Catalogue:
    """The parts of a case file, and a twin of each: another type that is the same inside.

    A part that is swapped for itself stays where it is; for its twin it is taken out.
    """
    document = _document(file)
    sources = {"invented": Publication(title="Invented for a test", basis="invented")}
    parts: list[Part] = [_built(Part, document, ("parts", n)) for n in range(len(document.data["parts"]))]
    for number, part in enumerate(parts):
        problems = check_part(part, document, ("parts", number), _roles(), sources)
        assert not problems, "\n".join(line for p in problems for line in p.lines())
    twins = [part.model_copy(update={"part": f"{part.part}-twin"}) for part in parts]
    by_id = {part.part: part for part in parts + twins}
    return Catalogue(_roles(), sources, by_id, {}, {}, {}, _standards)


@lru_cache
def _standards() -> Standards:
    return read_standards([catalogs.directory()])


def prepare(case: RuleCase) -> Case:
    """The case as the engine would show it: parts swapped, first operations done, facts computed."""
    unknown = set(case.data) - KEYS
    assert not unknown, f"{case.file.name}: {case.name}: unknown keys {sorted(unknown)}"
    catalogue = _catalogue(case.file)
    loom_document, job_document = _part_of(case, "loom"), _part_of(case, "job")
    before: Loom = _built(Loom, loom_document)
    job: Job = _built(Job, job_document)
    problems = check_loom(before, loom_document, catalogue)
    # A rule is asked of one need, whether a whole job raises it or not.
    problems += [
        problem
        for problem in check_job(job, job_document, before, catalogue.parts)
        if "asks for nothing" not in problem.message
    ]
    assert not problems, "\n".join(line for p in problems for line in p.lines())
    facts = dict(conductor_facts(before, catalogue).by_address)
    for address, given in (case.data.get("facts") or {}).items():
        facts[address] = ConductorFact(**_typed(given))
    loom = before
    for operation in swap_operations(before, job, catalogue.parts):
        loom = operation.apply(loom)
    shown = Case(Fitted(""), before, loom, catalogue, job, Facts(facts))
    for item in case.data.get("first") or ():
        loom = _operation(item, shown).apply(loom)
        shown = Case(Fitted(""), before, loom, catalogue, job, Facts(facts))
    taken = frozenset(case.data.get("taken") or ())
    return Case(_need(case.data["need"], loom), before, loom, catalogue, job, Facts(facts), taken)


def _typed(given: Mapping[str, Any]) -> dict[str, Any]:
    typed: dict[str, Any] = {}
    for key, value in given.items():
        if key in NUMBERS:
            typed[key] = NUMBERS[key](value)
        elif key in ("accepted", "momentary"):
            typed[key] = value == "true"
        elif key == "ends":
            typed[key] = tuple((wire, int(end)) for wire, end in value)
        elif key == "loads":
            typed[key] = tuple((place, does) for place, does in value)
        else:
            typed[key] = tuple(value) if isinstance(value, list) else value
    return typed


def _need(item: Mapping[str, Any], loom: Loom) -> Need:
    ((kind, given),) = item.items()
    if kind == "strain":
        return _strain(given)
    values = _typed(given)
    if kind == "full-terminal":
        values.setdefault("ends", loom.ends_at.get(values["at"], ()))
    if kind == "wire-to-make":
        values.setdefault("wire", loom.wires[-1].wire)
        values.setdefault("role", None)
    need: Need = NEEDS[kind](**values)
    return need


def _strain(given: Mapping[str, Any]) -> Fault:
    """A strain over its limit as the need that the engine makes of it."""
    values = {"unit": "A", "source": "", "basis": "", "position": {}, **_typed(given)}
    strain = Strain(**{key: STRAIN_NUMBERS.get(key, lambda v: v)(value) for key, value in values.items()})
    return Fault("strain", strain.kind, strain.at, strain.duty, path=strain.path, strain=strain)


def _operation(item: Mapping[str, Any], shown: Case) -> Operation:
    """An operation that is done before the rule is asked."""
    ((word, text),) = item.items()
    given = _typed(text)
    if word == "move":
        wire, end, to = given["wire"], given["end"], given["to"]
        now = shown.loom.find(wire).ends[end].at
        was = shown.before.find(wire).ends[end].at if wire in shown.before.wire_index else now
        return Move(wire, end, was, to, now)
    if word == "add":
        add = draft_wire(shown, given["from"], given["to"], given.get("role"))
        return Add(add.wire, add.role, given.get("tagged") == "true")
    if word == "cover":
        at = given.get("at") or shown.before.find(given["wire"]).ends[given["end"]].at
        return Cover(at, given.get("wire"), given.get("end"))
    if word == "piggyback":
        return Piggyback(given["at"])
    if word == "fit":
        return Fit(given["at"], Place(**{k: v for k, v in given.items() if k != "at"}))
    if word == "re-end":
        wire, end = given["wire"], given["end"]
        ends = shown.loom.find(wire).ends
        return ReEnd(wire, end, given.get("at", ends[end].at), given["fitting"], ends[end].fitting)
    if word == "make":
        nominal, lead = shown.loom.find(given["wire"]), shown.job.stock[int(given["lead"])]
        laid = {"colour": (lead.colour,), "mm2": (lead.mm2,), "metres": (lead.metres,)}
        return Make(nominal.model_copy(update=laid), nominal, int(given["lead"]))
    raise AssertionError(f"a case cannot begin with {word!r}")


def describe(operation: Operation) -> dict[str, str]:
    """What a case file may say of an operation, as text."""
    said: dict[str, Any] = {
        f.name: getattr(operation, f.name) for f in fields(operation) if f.name not in ("place", "ends")
    }
    if isinstance(operation, Move | Cover | Cut | ReEnd | Extend | Hold | Piggyback | ChangeFuse):
        pass
    elif isinstance(operation, Renew):
        said["from"], said["to"] = operation.ends
    elif isinstance(operation, Add | Make):
        wire = operation.wire
        said |= {"wire": wire.wire, "from": wire.ends[0].at, "to": wire.ends[-1].at}
        said |= {"colour": wire.colour[0], "mm2": wire.mm2[0], "metres": wire.metres[0]}
        said["fittings"] = [end.fitting for end in wire.ends]
        said.pop("nominal", None)
    elif isinstance(operation, Join):
        said["ends"] = [f"{wire} {end}" for wire, end, _ in operation.ends]
    elif isinstance(operation, Insert):
        said |= {"part": operation.place.part, "lead": operation.lead.wire}
    elif isinstance(operation, Fit | Remove):
        said |= {"part": operation.place.part, "mounting": operation.place.mounting}
    return {key: _text(value) for key, value in said.items()}


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list | tuple):
        return ", ".join(_text(item) for item in value)
    return str(value)


def mismatches(expected: list[Any], emitted: list[Emission], rule: str) -> list[str]:
    """What is wrong with what a rule yielded; empty if nothing is."""
    if len(expected) != len(emitted):
        return [f"expected {len(expected)}, got {len(emitted)}: {[told(e) for e in emitted]}"]
    wrong = []
    for want, got in zip(expected, emitted, strict=True):
        if got.why.rule != rule:
            wrong.append(f"the reason names {got.why.rule!r}")
        wrong += [f"{fault}: {told(got)}" for fault in _faults(want, got)]
        if re.search(r"\{\w+(:\S*)?\}", _said(got)):
            wrong.append(f"something is not filled in: {told(got)}")
    return wrong


def _faults(want: Mapping[str, Any], got: Emission) -> list[str]:
    unknown = set(want) - {"do", "offer", "because", "question", "remark", "source", "leans-on", "gives-up"}
    faults = [f"unknown key {key!r} in expect" for key in unknown]
    reason = {
        "source": got.why.source,
        "leans-on": [f"{wire} {end}" for wire, end in got.why.leans_on],
    }
    faults += [f"{key} is {reason[key]!r}" for key in reason.keys() & set(want) if want[key] != reason[key]]
    if not isinstance(got.why.source, str):
        faults.append("the reason has no source")
    if not any(want.get("because", "") in fact for fact in got.why.facts):
        faults.append(f"no fact says {want['because']!r}")
    if isinstance(got, Proposal):
        return faults + _proposal_faults(want, got)
    kind, text = ("question", _question_text(got)) if isinstance(got, Question) else ("remark", got.text)
    if kind not in want:
        return [*faults, f"a {kind} was not expected"]
    if want[kind] not in text:
        faults.append(f"the {kind} does not say {want[kind]!r}")
    return faults


def _proposal_faults(want: Mapping[str, Any], got: Proposal) -> list[str]:
    if "do" not in want:
        return ["a proposal was not expected"]
    faults = []
    if want.get("gives-up", "") not in got.gives_up:
        faults.append(f"what it gives up is {got.gives_up!r}")
    if (want.get("offer", "false") == "true") is not got.offer:
        faults.append(f"offer is {got.offer}")
    if [word for item in want["do"] for word in item] != [o.do for o in got.operations]:
        return [*faults, f"operations are {[o.do for o in got.operations]}"]
    for item, operation in zip(want["do"], got.operations, strict=True):
        said = describe(operation)
        for key, value in next(iter(item.values())).items():
            if said.get(key) != _text(value):
                faults.append(f"{operation.do}: {key} is {said.get(key)!r}, expected {_text(value)!r}")
    return faults


def _question_text(question: Question) -> str:
    lines = [question.about, question.where, question.how]
    return "\n".join(lines + [f"{reading}: {means}" for reading, means in question.answers])


def _said(emission: Emission) -> str:
    """All that a person reads of an emission."""
    if isinstance(emission, Proposal):
        return "\n".join((emission.gives_up, *emission.why.facts))
    text = _question_text(emission) if isinstance(emission, Question) else emission.text
    return "\n".join((text, *emission.why.facts))


def told(emission: Emission) -> str:
    """An emission in words, for a failing case."""
    facts = "; ".join(emission.why.facts)
    if isinstance(emission, Proposal):
        return f"{[(o.do, describe(o)) for o in emission.operations]} offer={emission.offer} because {facts}"
    text = _question_text(emission) if isinstance(emission, Question) else emission.text
    return f"{text} because {facts}"
