"""The bench sheet as one JSON document."""

from dataclasses import asdict
from typing import Any

from planner.model.bench_sheet import BenchSheet, Material
from planner.sheets.build.meter_json import meter_json
from planner.workshop.order.why import chain


def bench_json(bench: BenchSheet) -> dict[str, Any]:
    """The whole sheet; each step has the number and fields of the plan, and an id and a place."""
    whole = bench.plan.as_json()
    steps = [
        {**shown, "id": step.id, "place": step.place, "done": step.n in bench.done}
        for shown, step in zip(whole["steps"], bench.plan.steps, strict=True)
    ]
    return {
        "job": bench.plan.job,
        "title": bench.plan.title,
        "verdict": bench.plan.verdict,
        "cautions": list(bench.plan.cautions),
        "questions": whole["questions"],
        "unsettled": list(bench.plan.unsettled),
        "visits": [asdict(visit) for visit in bench.visits],
        "changes_of_place": bench.changes,
        "changes_at_least": bench.changes_at_least,
        "proven_fewest": bench.is_shortest,
        "steps": steps,
        "demands": [asdict(demand) for demand in bench.demands],
        "earthed_post": {"before": bench.earthed_post, "after": bench.earthed_post_after},
        "left_off": [asdict(one) for one in bench.left_off],
        "settled_first": list(bench.settled_first),
        "leads": list(bench.leads),
        "polarity": list(bench.polarity),
        "first_power": [asdict(fuse) for fuse in bench.fuses],
        "interlocks": [asdict(one) for one in bench.interlocks],
        "charging": asdict(bench.charging) if bench.charging else None,
        "meter": meter_json(bench.meter) if bench.meter else None,
        "making": [asdict(wire) for wire in bench.making],
        "materials": [_material(line) for line in bench.materials],
        "cutting": [{**asdict(plan), "left_metres": plan.left_metres} for plan in bench.cutting],
        "labels": [{**asdict(label), "text": label.text} for label in bench.labels],
        "papers": {
            "exchanged": list(bench.exchanged),
            "tied_back": list(bench.tied_back),
            "added": list(bench.links_added),
            "changed": list(bench.fittings_changed),
        },
        "undo": [asdict(line) for line in bench.undo],
        "taken_back": [asdict(line) for line in bench.taken_back],
        "mends": list(bench.mends),
        "warnings": list(bench.warnings),
    }


def _material(line: Material) -> dict[str, Any]:
    return {
        "kind": line.kind,
        "what": line.what,
        "amount": line.amount,
        "unit": line.unit,
        "on_hand": line.on_hand,
        "steps": list(line.steps),
        "note": line.note,
        "to_buy": line.to_buy,
    }


def why_json(bench: BenchSheet, first: int, then: int) -> dict[str, Any]:
    """The demands that lead from one step to another; none if nothing demands it."""
    links = chain(bench.demands, first, then)
    return {"first": first, "then": then, "because": [asdict(link) for link in links]}
