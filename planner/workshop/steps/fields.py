"""The fields of a step, for a program that reads the work list."""

from collections.abc import Mapping
from typing import Any

from planner.model.delta import (
    Add,
    ChangeFuse,
    ChangeSupply,
    Cover,
    Cut,
    Extend,
    Fit,
    Hold,
    Insert,
    Join,
    Make,
    Move,
    Piggyback,
    ReEnd,
    Remove,
    Renew,
)
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task


def fields_of(names: Names, task: Task, is_first_go: bool) -> Mapping[str, Any]:
    """The fields of a step; a new wire is told in full only the first time that it is worked on."""
    operation = task.operation
    if isinstance(operation, ChangeSupply):
        return {"volts": operation.supply.volts, "earthed": operation.supply.earthed}
    if isinstance(operation, Remove | Fit):
        return {"at": operation.at, "part": operation.place.part}
    if isinstance(operation, Move):
        return {
            "wire": names.shown(operation.wire),
            "from": operation.was,
            "to": operation.to,
            **names.seen(operation.wire, operation.end),
        }
    if isinstance(operation, Add):
        return _added(names, task, operation) if is_first_go else _put_on(names, task, operation)
    if isinstance(operation, Join):
        return {"wires": [names.shown(w) for w, _, _ in operation.ends], "at": operation.joint}
    if isinstance(operation, Piggyback):
        return {"at": operation.at}
    if isinstance(operation, Insert):
        return {
            "wire": names.shown(operation.wire),
            "part": operation.place.part,
            "at": operation.was,
            "lead": names.shown(operation.lead.wire),
            **names.seen(operation.wire, operation.end),
        }
    if isinstance(operation, Cover) and operation.wire is None:
        return {"at": operation.at}
    if isinstance(operation, ChangeFuse):
        old_amps = names.work.first_fuses[operation.at].printed
        return {"at": operation.at, "amps": operation.amps, "old_amps": old_amps}
    if isinstance(operation, Renew):
        return _renewed(names, operation)
    assert isinstance(operation, Cover | Cut | ReEnd | Extend | Hold)
    at = operation.was if isinstance(operation, Cut) else operation.at
    fields: dict[str, Any] = {"wire": names.shown(str(operation.wire)), "at": at}
    if isinstance(operation, ReEnd):
        fields |= {"fitting": operation.fitting, "old_fitting": operation.old}
    if isinstance(operation, Extend):
        fields["by_metres"] = operation.metres
    return fields | names.seen(str(operation.wire), operation.end or 0)


def _added(names: Names, task: Task, operation: Add) -> dict[str, Any]:
    wire = names.wire(operation.wire.wire)
    make = task.made.operation if task.made else None
    return {
        "wire": names.shown(wire.wire),
        "from": wire.ends[0].at,
        "to": wire.ends[-1].at,
        "colour": wire.leg_colour(0),
        "mm2": wire.leg_mm2(0),
        "metres": wire.leg_metres(0),
        "fittings": [end.fitting for end in wire.ends],
        "from_stock": isinstance(make, Make) and make.lead is not None,
        "tagged": operation.tagged,
        **({"bundle": wire.bundle} if wire.bundle else {}),
    }


def _put_on(names: Names, task: Task, operation: Add) -> dict[str, Any]:
    wire, end = names.wire(operation.wire.wire), task.end or 0
    return {
        "wire": names.shown(wire.wire),
        "at": wire.ends[end].at,
        **names.seen(wire.wire, end),
    }


def _renewed(names: Names, operation: Renew) -> dict[str, Any]:
    wire, ends = names.wire(operation.wire), (operation.first, operation.last)
    legs = range(operation.first, operation.last)
    return {
        "wire": names.shown(operation.wire),
        "from": wire.ends[operation.first].at,
        "to": wire.ends[operation.last].at,
        "colour": wire.leg_colour(operation.first),
        "mm2": operation.mm2,
        "old_mm2": [(operation.old * len(wire.ends))[leg] for leg in legs],
        "metres": round(sum(wire.leg_metres(leg) for leg in legs), 2),
        "fittings": [wire.ends[n].fitting or names.usual_end(wire.ends[n].at) for n in ends],
    }
