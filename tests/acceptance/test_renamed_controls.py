"""What a new part calls its controls changes nothing: the same plan and behaviours, by other names."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from small_looms import Bench, make_part

from planner.engine.packs import installed_rules
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.part import Part
from planner.pipeline import open_catalogue, plan, settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job

SAID_OF_NAMES = "control-called-otherwise"
PREFIX = "so-called "
# The shipped jobs that fit a part with controls, coils or memories which is not in the loom already.
FIT_SOMETHING_THAT_CHANGES = (
    "two-speed-wipers",
    "two-speed-switch-only",
    "two-speed-motor-only",
    "dip-relay-five-to-four",
    "dip-relay-four-to-five",
    "interior-lamp-without-earth",
    "hazard-flasher",
    "hazard-flasher-insulated-panel",
    "lighting-switch-one-feed",
    "ignition-switch-without-accessory",
    "ignition-switch-accessory-drops",
    "trailer-socket-13",
    "changeover-relay-layout",
    "horn-and-push",
    "two-ends-trade",
    "feed-of-unknown-nature",
    "tractor-to-12-volts-new-wiper",
    "car-to-negative-earth-new-radio",
    "whole-van",
    "stronger-heater-on-a-piggyback",
    "heater-like-the-old-one",
    "lamp-on-a-poor-earth",
    "lamp-on-a-sound-earth",
    "stronger-foot-heater",
    "foot-heater-like-the-old-one",
    "led-rear-lamps-and-flasher",
    "launch-battery-isolator",
    "launch-two-speed-wiper",
    "forestry-horn-relay-of-12-volts",
    "minibus-standard-radio",
    "minibus-courtesy-delay",
    "three-terminal-flasher",
    "trailer-socket-converter",
)


def other_name(name: str) -> str:
    """A name that no shipped part has."""
    return f"{PREFIX}{name}"


def other_label(label: str) -> str:
    """A label that no shipped part has."""
    return f"<{label}>"


def plainly(text: str) -> str:
    """A text by the names and labels of the shipped parts."""
    return text.replace(PREFIX, "").replace("<", "").replace(">", "")


def other_names(part: Part) -> Part:
    """The part with every variable and every label of its controls renamed, meanings kept."""

    def when(said: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
        return {
            other_name(n) if n in part.variables else n: [
                other_label(v) if n in part.controls else v for v in vs
            ]
            for n, vs in said.items()
        }

    inside = []
    for wrapped in part.model_dump(by_alias=True)["inside"]:
        kind = wrapped.pop("element")
        element = {key: value for key, value in wrapped.items() if value is not None}
        if "name" in element:
            element["name"] = other_name(element["name"])
        if kind == "control":
            element["positions"] = [
                {"label": other_label(p["label"]), "meaning": p["meaning"]} for p in element["positions"]
            ]
            if "returns" in element:
                element["returns"] = other_label(element["returns"])
        if "stepped_by" in element:
            element["stepped_by"] = other_name(element["stepped_by"])
        if "when" in element:
            element["when"] = when(element["when"])
        inside.append({kind: element})
    return Part.model_validate({**part.model_dump(by_alias=True, exclude={"inside"}), "inside": inside})


@cache
def catalogue() -> Catalogue:
    shipped = open_catalogue()
    return replace(shipped, parts=dict(shipped.parts))


def with_other_names(job: Job, loom: Loom) -> tuple[Job, Catalogue]:
    """The job with every part that it fits renamed inside; wishes use new names where only they exist."""
    parts = catalogue().parts
    fitted = [
        s.fit for s in job.swaps if s.fit in parts and all(p.part != s.fit for p in loom.places.values())
    ]
    before = {name for place in loom.places.values() for name in parts[place.part].variables}
    only_new = {name for fit in fitted for name in parts[fit].variables} - before

    def renamed(wish: Any) -> Any:
        when = {}
        for full, labels in wish.when.items():
            place, slash, name = full.rpartition("/")
            is_new = name in only_new
            when[f"{place}{slash}{other_name(name)}" if is_new else full] = (
                tuple(map(other_label, labels)) if is_new else labels
            )
        return wish.model_copy(update={"when": when})

    wanting = job.model_copy(update={"wants": tuple(map(renamed, job.wants))})
    known = replace(catalogue(), parts={**parts, **{fit: other_names(parts[fit]) for fit in fitted}})
    return wanting, known


def told(job: Job, loom: Loom, known: Catalogue) -> dict[str, object]:
    """What a plan does and finds, told by the names and labels of the shipped parts."""
    prover = Prover(loom, known, job)
    choice = settle(job, loom, known, installed_rules(), prover)
    proof = prover.prove(choice.chosen.candidate.loom)
    return {
        "steps": [plainly(str(step.operation)) for step in choice.chosen.candidate.steps],
        "findings": {
            (f.what, f.at, f.outcome, f.before, f.after, f.accepted): {
                frozenset((plainly(n), plainly(v)) for n, v in zip(f.names, row, strict=True))
                for row in f.rows
            }
            for f in proof.findings
            if f.outcome != "kept"
        },
        "hazards": {(h.kind, h.at, h.was_before) for h in proof.hazards},
        "faults": sorted((f.kind, f.what, f.at, round(f.share, 6)) for f in proof.faults),
        "notes": {plainly(str(note)) for note in choice.notes if note.why.rule != SAID_OF_NAMES},
    }


@pytest.mark.parametrize("name", FIT_SOMETHING_THAT_CHANGES)
def test_other_names_inside_the_new_parts_of_a_shipped_job_change_nothing(name: str) -> None:
    job, loom = read_job(name, catalogue())
    renamed_job, renamed = with_other_names(job, loom)
    assert renamed.parts != catalogue().parts
    assert told(renamed_job, loom, renamed) == told(job, loom, catalogue())


def panel(name: str, marks: str, controls: tuple[str, str]) -> Part:
    """Two switches side by side, no terminal of known purpose."""
    one, other = controls
    return make_part(
        name,
        {
            "terminals": dict.fromkeys(marks, ""),
            "inside": [
                {"control": {"name": one, "positions": ["off", "on"]}},
                {"control": {"name": other, "positions": ["off", "on"]}},
                {"contact": {"join": [marks[0], marks[1]], "when": {one: "on"}}},
                {"contact": {"join": [marks[2], marks[3]], "when": {other: "on"}}},
            ],
        },
    )


@pytest.mark.parametrize(
    ("controls", "verdict"), [(("left", "right"), "measure"), (("fan", "horn"), "no-loss")]
)
def test_where_nothing_tells_two_controls_apart_the_plan_asks_and_is_no_all_clear(
    controls: tuple[str, str], verdict: str
) -> None:
    old, new = panel("panel-old", "1234", ("fan", "horn")), panel("panel-new", "abcd", controls)
    lamp = make_part(
        "one-lamp",
        {
            "terminals": {"58": "58", "31": "mounting"},
            "inside": [{"lamp": {"between": ["58", "31"], "watts": 5, "does": "lamp"}}],
        },
    )
    bench = Bench(
        {part.part: part for part in (old, new, lamp)},
        {"p": "panel-old", "one": "one-lamp", "other": "one-lamp"},
        ["feed:a > p:1", "p:2 > one:58", "feed:b > p:3", "p:4 > other:58"],
        {"a": {"role": "30", "fuse_amps": 5}, "b": {"role": "30", "fuse_amps": 5}},
    )
    known = replace(catalogue(), parts={**catalogue().parts, **bench.parts})
    job = Job.model_validate({"job": "j", "loom": "small", "swaps": [{"at": "p", "fit": "panel-new"}]})
    measured = tuple(wire.model_copy(update={"known": "measured"}) for wire in bench.loom.wires)
    loom = copy_loom(bench.loom, wires=measured)
    made = plan(job, loom, known, installed_rules())
    assert made.verdict == verdict
    asked = [question.because for question in made.questions]
    assert asked == ([SAID_OF_NAMES] if verdict == "measure" else [])
