"""A work of a few steps at one switch: its loom, its parts, and operations to choose from."""

from collections.abc import Mapping, Sequence
from typing import Any

from planned import catalogue as shipped

from planner.engine.costs import minutes
from planner.model.catalogue import Catalogue
from planner.model.delta import (
    Add,
    Cover,
    Fit,
    Make,
    Move,
    Operation,
    Reason,
    Remove,
    Step,
    new_end,
)
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom, Place, Wire
from planner.model.part import Part
from planner.model.plan import Card, PlanStep
from planner.workshop.steps.worklist import WorkList


def make_part(name: str, marks: Sequence[str]) -> Part:
    """A part with terminals and nothing inside."""
    return Part.model_validate(
        {
            "part": name,
            "title": f"The {name} part",
            "family": "small",
            "source": "invented",
            "terminals": {mark: {} for mark in marks},
        }
    )


FUSE = make_part("fuse", ["in", "out"]).model_copy(update={"title": "Fuse"})
NEW = Part.model_validate(
    {
        "part": "new",
        "title": "Late switch",
        "family": "small",
        "source": "invented",
        "minutes": 15,
        "terminals": {
            "15": {},
            "53": {},
            "31b": {"stamped": False},
            "x": {},
            "case": {"role": "31", "by": "mounting"},
        },
    }
)
DIODE = Part.model_validate(
    {
        "part": "diode",
        "title": "Diode",
        "family": "small",
        "source": "invented",
        "terminals": {"a": {}, "k": {}, "case": {"role": "31", "by": "mounting"}},
        "inside": [{"diode": {"between": ["a", "k"]}}],
    }
)
BATTERY = Part.model_validate(
    {
        "part": "battery",
        "title": "Battery",
        "family": "battery",
        "source": "invented",
        "terminals": {"plus": {}, "minus": {}},
        "inside": [{"source": {"between": ["plus", "minus"], "volts": 12}}],
    }
)
PARTS = {
    "old": make_part("old", ["15", "M", "S"]),
    "new": NEW,
    "fuse": FUSE,
    "diode": DIODE,
    "battery": BATTERY,
}
WIRES: Sequence[Mapping[str, Any]] = (
    {"wire": "W1", "colour": "OG", "mm2": 1.5, "metres": 0.5, "ends": ["dash.switch:15", "q:1"]},
    {"wire": "W2", "colour": ["YE", "YE/BK"], "mm2": [1.5, 1], "metres": [0.9, 0.3],
     "ends": ["q:2", "dash.switch:M", "q:3"]},
    {"wire": "W3", "colour": "YE/BK", "mm2": 1, "metres": 0.7, "ends": ["dash.switch:S", "q:4"]},
    {"wire": "N1", "colour": "GN", "mm2": 1, "metres": 0.7, "ends": ["q:5", "earth:dash"]},
)  # fmt: skip
OLD_PLACE = Place(part="old", zone="dash", title="wiper switch, dash")
NEW_PLACE = OLD_PLACE.model_copy(update={"part": "new"})
REMOVE = Remove("dash.switch", OLD_PLACE, (("W1", 0, "15"), ("W2", 1, "M"), ("W3", 0, "S")))
FIT = Fit("dash.switch", NEW_PLACE)
STAY = Move("W1", 0, "dash.switch:15", "dash.switch:15")
MOVE = Move("W2", 1, "dash.switch:M", "dash.switch:53")
COVER = Cover("dash.switch:S", "W3", 0)
NOMINAL = Wire.model_validate(
    {
        "wire": "new-1",
        "colour": "BK",
        "mm2": 1,
        "metres": 1,
        "ends": ["dash.switch:x", "earth:dash"],
    }
)
MADE = NOMINAL.model_copy(
    update={
        "colour": ("BK/WH",),
        "mm2": (1.5,),
        "metres": (0.46,),
        "ends": (new_end("dash.switch:x", "blade-6.3"), new_end("earth:dash", "ring-6")),
    }
)
ADD, MAKE = Add(NOMINAL, "31"), Make(MADE, NOMINAL)


def work_list(*operations: Operation, swaps: Sequence[str] = ("dash.switch",), **loom: object) -> WorkList:
    """The work list of some operations in the order in which they were chosen."""
    before = Loom.model_validate(
        {
            "loom": "tiny",
            "supply": {"volts": 12, "earthed": "negative"},
            "zones": {"dash": {"title": "dashboard"}},
            "places": {
                "dash.switch": OLD_PLACE.model_dump(),
                "q": {"part": "fuse", "zone": "dash", "title": "other part"},
            },
            "wires": list(WIRES),
            **loom,
        }
    )
    job = Job.model_validate(
        {"job": "j", "loom": "tiny", "swaps": [{"at": at, "fit": "new"} for at in swaps]}
    )
    after = before
    for operation in operations:
        after = operation.apply(after)
    steps = [Step(o, Reason(f"rule-{o.do}", (f"a fact about {o.do}",), "invented")) for o in operations]
    catalogue = Catalogue({}, {}, PARTS, {}, {}, {}, load_standards=lambda: shipped().standards)
    return WorkList(
        before,
        after,
        steps,
        catalogue,
        job,
        Facts(),
        lambda done: minutes(done, before, after, catalogue, {}),
    )


def listed(*operations: Operation, swaps: Sequence[str] = ("dash.switch",)) -> tuple[PlanStep, ...]:
    return work_list(*operations, swaps=swaps).steps()


def card(*operations: Operation) -> Card:
    made = work_list(*operations)
    (only,) = made.cards(made.steps())
    return only
