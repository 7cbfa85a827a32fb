"""Mistakes that a person makes, wired into a vehicle's loom by an edit of its file, hunted in conversation.

Who answers is the edited vehicle: what is said of it at first is checked against it too, so that nobody tells
the hunt what a person would not see.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from bench_person import Person
from testing_ground import catalogue

from planner.commands.work import tracing
from planner.commands.work.tracing import Tracing, taken_as_meant
from planner.reading.catalogue import read_loom
from planner.reading.seen_lines import read_lines
from planner.reading.seen_words import SeenWords
from planner.sheet_pipeline import wired
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.wired import Wired


@dataclass(frozen=True)
class Slip:
    """One mistake: where it is made, which ends the edited file has elsewhere, what a person says first."""

    vehicle: str
    symptoms: tuple[str, ...]
    found: str
    ends: Mapping[str, str] = field(default_factory=dict)  # "W36.1": address
    wires: Mapping[str, Mapping[str, object]] = field(default_factory=dict)  # what is otherwise of a wire
    left_out: str = ""  # a wire that was not made
    joined: tuple[str, str] = ("", "")  # two terminals that bare copper or a welded contact joins
    piggybacks: tuple[str, ...] = ()  # terminals with one more end than they hold


@lru_cache
def known(vehicle: str) -> Known:
    return Known(Vehicle(wired(vehicle, catalogue()), catalogue()))


def edited(slip: Slip, folder: Path) -> Person:
    """The vehicle with the mistake, read from a file that was edited; made wires have their short names."""
    sound = known(slip.vehicle).vehicle.wired
    shown = {wire: short for wire, short in sound.shown.items() if wire != short}
    text = json.dumps(sound.loom.model_dump(mode="json", exclude_defaults=True, by_alias=True))
    for wire, short in shown.items():
        text = text.replace(json.dumps(wire), json.dumps(short))
    document: dict[str, Any] = json.loads(text)
    wires = {wire["wire"]: wire for wire in document["wires"]}
    for end, at in slip.ends.items():
        wire, _, number = end.rpartition(".")
        own = wires[wire]["ends"][int(number)]
        wires[wire]["ends"][int(number)] = {**(own if isinstance(own, dict) else {}), "at": at}
    for wire, otherwise in slip.wires.items():
        wires[wire] |= otherwise
    if all(slip.joined):
        document["wires"].append(
            {"wire": "bare", "colour": "BK", "mm2": 1.5, "metres": [0.05], "ends": [*slip.joined]}
        )
    document["piggybacks"] = [*document.get("piggybacks", ()), *filter(None, slip.joined), *slip.piggybacks]
    document["wires"] = [wire for wire in document["wires"] if wire["wire"] != slip.left_out]
    file = folder / "edited.yaml"
    file.write_text(json.dumps(document), encoding="utf-8")
    loom = read_loom(str(file), catalogue())
    built = Known(Vehicle(Wired("edited", loom), catalogue()))
    return Person(built, called=shown, should=known(slip.vehicle))


def conversation(person: Person, sound: Known, symptoms: Sequence[str], folder: Path) -> tuple[Report, int]:
    """Hunt at the prompt with a person who says some symptoms and then answers: the report, and the readings.

    What is said at first is what the person sees, in the setting in which it is taken.
    """
    words = SeenWords(sound.vehicle.wired.loom, catalogue(), sound.ways)
    hunt, told = Hunt(sound), 0
    for symptom in symptoms:
        for line in read_lines(symptom, words):
            for seen in taken_as_meant(hunt, line, words):
                told += 1
                if seen.kind == "looks":
                    assert person.look(seen.settings, seen.at) == seen.says, symptom
    reports: list[Report] = []

    class Noted(Report):
        """A report that is at hand for who answers."""

        def __init__(self, *given: Any) -> None:
            super().__init__(*given)
            reports.append(self)

    def answers() -> Iterator[str]:
        yield from symptoms
        last = None
        while (asked := reports[-1].question) is not None:
            assert reports[-1] is not last, f"not understood: {person.typed(asked)}"
            last = reports[-1]
            yield person.typed(asked)

    said = answers()

    def typed() -> str:
        answer = next(said)
        print(answer)
        return answer

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tracing, "Report", Noted)
        patch.setattr("builtins.input", typed)
        report = Tracing(hunt, words, folder / "log.yaml").hold()
    return report, len(hunt.observations) - told
