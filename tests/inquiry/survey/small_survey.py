"""A small vehicle and the survey of one of its switches."""

from typing import Any

from small_looms import Bench, make_parts

from planner.inquiry.survey.answering import take_answers
from planner.inquiry.survey.prepare import Survey, prepare
from planner.inquiry.survey.taking import Surveyed
from planner.model.job import Job
from planner.model.survey_lines import Answer, Answers, Asked, MeterReading
from planner.reading.wire_readings import read_at_wire

PARTS = make_parts("""
battery: {terminals: {"+": "30", "-": "31"}, inside: [{source: {between: ["+", "-"], volts: 12}}]}
ammeter: {terminals: {a: "30", b: "30"}, inside: [{gauge: {between: [a, b], does: amps, ohms: 0.01, full_scale_amps: 30}}]}
key: {terminals: {in: "30", out: "15"}, inside: [{control: {name: ignition, positions: ["off", "on"]}}, {contact: {join: [in, out], when: {ignition: "on"}}}]}
fuses: {terminals: {in: "15", a: "49", b: "49"}, inside: [{fuse: {between: [in, a], amps: 8}}, {fuse: {between: [in, b], amps: 16}}]}
old-fuses: {terminals: {in: "15", a: "49", b: "49"}, inside: [{fuse: {between: [in, a], amps: 16, marked: blowing}}, {fuse: {between: [in, b], amps: 16}}]}
switch: {terminals: {B: "15", L: "58"}, inside: [{control: {name: lamps, positions: ["off", "on"]}}, {contact: {join: [B, L], when: {lamps: "on"}}}]}
late: {terminals: {"15": "15", "58": "58"}, inside: [{control: {name: lamps, positions: ["off", "on"]}}, {contact: {join: ["15", "58"], when: {lamps: "on"}}}]}
relay: {terminals: {"85": "31", "86": "86", "30": "30", "87": "58"}, inside: [{coil: {between: ["86", "85"], ohms: 80, pulls_in_v: 7, drops_out_v: 3, name: arm}}, {contact: {join: ["30", "87"], when: {arm: pulled}}}]}
lamp: {terminals: {L: "58", E: mounting}, inside: [{lamp: {between: [L, E], watts: 5, does: shine}}]}
fan: {terminals: {F: "15", E: mounting}, inside: [{winding: {between: [F, E], watts: 30, does: blow}}]}
""")  # noqa: E501
PLACES = {
    "battery": "battery!insulated", "meter": "ammeter!insulated", "key": "key!insulated",
    "fuses": "fuses!insulated",
    "switch": "switch!insulated", "relay": "relay!insulated", "front": "lamp", "rear": "lamp", "fan": "fan",
    "other": "fan",
}  # fmt: skip
WIRES = (
    "battery:- > earth:z", "battery:+ > meter:a", "meter:b > key:in", "key:out > fuses:in",
    "F = fuses:a > switch:B", "L = switch:L > front:L", "C = front:L > relay:86", "relay:85 > earth:z",
    "battery:+ > relay:30", "relay:87 > rear:L",
    "fuses:a > fan:F", "fuses:b > other:F",
)  # fmt: skip
SWAP = ({"at": "switch", "fit": "late"},)


def bench(**changes: Any) -> Bench:
    return Bench(PARTS, PLACES, WIRES).changed(**changes)


def survey(vehicle: Bench | None = None, swaps: Any = SWAP, **job: Any) -> Survey:
    vehicle = vehicle or bench()
    asked = Job.model_validate({"job": "small", "loom": "small", "swaps": swaps, **job})
    return prepare(asked, vehicle.loom, vehicle.catalogue)


def line(made: Survey, mark: str, number: int = 1, place: str = "switch") -> Asked:
    return next(x for x in made.asked if x.key == (place, mark, number))


def reading(made: Survey, text: str) -> MeterReading:
    return read_at_wire(text, made.loom, bench().catalogue)


def taken(made: Survey, **answers: tuple[str | None, str]) -> Surveyed:
    """Colour code and reading by mark of the switch, or by ``mark_number``."""
    found = {}
    for name, (colour, said) in answers.items():
        mark, _, number = name.partition("_")
        found["switch", mark, int(number or 1)] = Answer(
            colour=colour, reading=reading(made, said) if said else None, no_wire=colour is None and not said
        )
    return taken_at(made, found)


def taken_at(made: Survey, answers: dict[tuple[str, str, int], Answer]) -> Surveyed:
    """The answers by place, mark and number."""
    return take_answers(made, Answers(answers), bench().catalogue)
