"""Why one step comes before another, in words."""

from planner.messages import tr
from planner.model.bench_sheet import BenchSheet, Visit
from planner.sheets.sheet import Block, Cell, Item, Listing, Section, Sheet, say
from planner.workshop.order.why import chain


def why_sheet(bench: BenchSheet, first: int, then: int) -> Sheet:
    """Why the first of two steps comes before the other."""
    both = tuple(Item(Cell(f"{n}.", "strong"), Cell(bench.step(n).text)) for n in (first, then))
    return Sheet(
        tr("Why step {then} comes after step {first}", then=then, first=first),
        (Section("", (Listing(both),)), Section("", _answer(bench, first, then))),
    )


def _answer(bench: BenchSheet, first: int, then: int) -> tuple[Block, ...]:
    links = chain(bench.demands, first, then)
    if links:
        items = tuple(
            Item(
                Cell("-"),
                Cell(
                    tr(
                        "step {first} before step {then}: {why}",
                        first=link.first,
                        then=link.then,
                        why=tr(link.why),
                    )
                ),
            )
            for link in links
        )
        return (Listing(items),)
    one, other = bench.step(first), bench.step(then)
    if other.do == "connect" and one.fields.get("wire") == other.fields.get("wire"):
        return (say(tr("Nothing demands it. A wire is made where one comes by first: step {n}.", n=first)),)
    here, there = _visit(bench, first), _visit(bench, then)
    if here == there:
        why = tr(
            "Nothing demands it. Both are done at one place, and one may be done as well before the other."
        )
    else:
        why = tr(
            "Nothing demands it. They are at different places, and the places come in this order for the "
            "fewest changes of place."
        )
    return (say(why),)


def _visit(bench: BenchSheet, number: int) -> Visit:
    return next(visit for visit in bench.visits if number in visit.steps)
