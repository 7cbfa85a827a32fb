"""The bench sheet of a plan: its steps by place, materials, labels, first power, and the way back."""

from planner.model.bench_sheet import BenchSheet, Demand, Visit
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.plan import Plan
from planner.workshop.ends.crimps import is_wet
from planner.workshop.materials.labels import labels
from planner.workshop.materials.made_wires import making
from planner.workshop.materials.materials import cutting, materials
from planner.workshop.materials.pieces import pieces
from planner.workshop.papers.added import links_added
from planner.workshop.papers.papers import exchanged, fittings_changed, tied_back
from planner.workshop.papers.replay import replay
from planner.workshop.papers.undoing import undo_lines
from planner.workshop.power.charging import charging
from planner.workshop.power.first_power import fuse_tests
from planner.workshop.power.leads_first import leads_reads
from planner.workshop.power.left_off import left_off, settled_first
from planner.workshop.power.read_first import read_first
from planner.workshop.steps.worklist import WorkList

_POSTS = {"negative": "minus", "positive": "plus"}


def bench_sheet(plan: Plan, work: WorkList, job: Job, catalogue: Catalogue, facts_after: Facts) -> BenchSheet:
    """Everything that is taken to the vehicle; ``facts_after`` are those of the loom when all is done."""
    names, ordered = work.names, work.ordered
    made = pieces(names, ordered)
    done = replay(work.work, ordered)
    plans = cutting(names, made, job)
    strips = labels(names, ordered)
    before, after = names.before, names.after
    off = left_off(names, plan, facts_after)
    tests = fuse_tests(after, catalogue, facts_after)
    left = [one.place for one in off]
    polarity, fuses = read_first(names, facts_after, tests, left)
    return BenchSheet(
        plan=plan,
        visits=tuple(_visits(work)),
        changes=work.order.changes,
        changes_at_least=work.order.at_least,
        is_shortest=work.order.is_proven,
        demands=tuple(Demand(d.first, d.then, d.why) for d in work.demands),
        making=making(names, made),
        materials=materials(names, ordered, made, plans, strips, job, off),
        cutting=plans,
        labels=strips,
        undo=undo_lines(names, done),
        exchanged=tuple(exchanged(names, done)),
        tied_back=tuple(tied_back(names, done)),
        links_added=tuple(links_added(names, done, made)),
        fittings_changed=tuple(fittings_changed(names, done)),
        fuses=fuses,
        leads=leads_reads(names, facts_after, left),
        polarity=polarity,
        left_off=off,
        settled_first=settled_first(plan, off),
        charging=charging(names),
        earthed_post=_POSTS[before.supply.earthed],
        earthed_post_after=_POSTS[after.supply.earthed],
        before=before,
        after=after,
        parts=catalogue.parts,
        wire_names=names.new_wires,
        shrunk_last=tuple(n for n, at in names.leads_joined.items() if any(is_wet(names, a) for a in at)),
    )


def _visits(work: WorkList) -> list[Visit]:
    places, zones = work.work.places, work.names.after.zones
    visits, number = [], 0
    for place, tasks in work.order.visits:
        zone = places.zone(place)
        title = (zones[zone].title or zone) if zone in zones else zone
        numbers = tuple(range(number + 1, number + 1 + len(tasks)))
        number += len(tasks)
        visits.append(Visit(place, places.title(place), title, numbers))
    return visits
