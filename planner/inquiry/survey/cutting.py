"""Cuts out of a whole loom what a swap has to do with, so that a person need describe no more than that."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.inquiry.survey.edges import Edges, find_edges
from planner.inquiry.survey.kept import find_kept, joined_wires, past_ammeters
from planner.inquiry.survey.trimming import edged_wire, pruned, touching
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.elements import Sender
from planner.model.facts import ConductorFact
from planner.model.job import Job, Wish
from planner.model.loom import Loom, Wire, split_address
from planner.model.names import meanings_of_name, variables_of
from planner.model.wording import address_words, counted
from planner.proof.facts import conductor_facts
from planner.proof.prove import Prover


@dataclass(frozen=True)
class Template:
    """A shipped job cut down to what a person has to describe; every fact in it is assumed."""

    job: Job
    loom: Loom
    whole: Loom  # that it was cut from
    cut: tuple[str, ...]  # the places left out
    fed_from: Mapping[str, str]  # feed at the edge: the terminal of the whole loom that it stands for

    @property
    def swapped(self) -> tuple[str, ...]:
        """The places where a part comes out, in the order of the job."""
        return tuple(swap.at for swap in self.job.swaps if swap.at in self.loom.places)


def cut_out(job: Job, loom: Loom, catalogue: Catalogue) -> Template:
    """Cut a job's loom down, in steps until each terminal that matters is what it was before.

    What the rest does to a conductor is told by feeds at the edge; a path through the rest from one kept
    terminal to another is none, so the places that it leads through are kept as well. A part whose load works
    no more for the cut is left out if it only shares a conductor.
    """
    facts = conductor_facts(past_ammeters(loom, catalogue), catalogue)
    first = find_kept(job, loom, catalogue, facts)
    kept, left_out = set(first.places), set[str]()
    while True:
        template = _cut(job, loom, catalogue, kept)
        again = conductor_facts(past_ammeters(template.loom, catalogue), catalogue)
        missing = {
            place
            for address in first.watched
            if _tied(facts.at(address)) != _tied(again.at(address))
            for place in _beyond(loom, address, kept)
        }
        if missing:
            kept |= missing
            continue
        without_work = (_idle(job, loom, template, catalogue) & first.beside & kept) - left_out
        if not without_work:
            return template
        left_out |= without_work  # what comes back after that, for a path leads through it, stays
        kept -= without_work


def _tied(fact: ConductorFact) -> tuple[str, str]:
    return fact.live, fact.earthed


def _idle(job: Job, loom: Loom, template: Template, catalogue: Catalogue) -> set[str]:
    """The places with a load that works in the whole loom, but never in what is kept of it."""
    before = set(Prover(loom, catalogue, job).before.never_working)
    now = Prover(template.loom, catalogue, template.job).before.never_working
    return {place for place, does in now if (place, does) not in before}


def _beyond(loom: Loom, address: str, kept: Collection[str]) -> Iterator[str]:
    for wire, number in joined_wires(loom, address):
        place = split_address(loom.find(wire).ends[number].at)[0]
        if place in loom.places and place not in kept:
            yield place


def _cut(job: Job, loom: Loom, catalogue: Catalogue, kept: Collection[str]) -> Template:
    places = {place: fitted for place, fitted in loom.places.items() if place in kept}
    wires = touching(loom, places)
    heads = dict.fromkeys(e.at for w in wires for e in w.ends if split_address(e.at)[0] in loom.places)
    cut = [address for address in heads if split_address(address)[0] not in places]
    variables = variables_of(loom, catalogue.parts)
    wished = _wished_variables(job, variables, places)
    edges = find_edges(past_ammeters(loom, catalogue), catalogue, places, wished, cut)
    edged = pruned(tuple(edged_wire(wire, edges) for wire in wires), places)
    met = {end.at for wire in edged for end in wire.ends}
    feeds = {n: f for n, f in {**loom.feeds, **edges.feeds}.items() if n in met}
    left = tuple(place for place in loom.places if place not in places)
    own = _own_job(job, variables, edges)
    used = {n for feed in feeds.values() for n in feed.when}
    used |= {n for wish in (*own.wants, *own.accepts) for n in wish.when}
    fitted = [place.part for place in places.values()] + [swap.fit for swap in job.swaps]
    used |= {name for part in fitted if part in catalogue.parts for name in _needed(part, catalogue)}
    partial = copy_loom(
        loom,
        loom=f"my-{job.job}"[:60],
        title=f"{own.title or job.job}: my own",
        note=f"Described after the pattern of {loom.title or loom.loom}; what nobody has seen is assumed.",
        conditions={n: p for n, p in edges.conditions.items() if n in used},
        feeds={n: f.model_copy(update={"known": "assumed"}) for n, f in feeds.items()},
        places={n: p.model_copy(update={"known": "assumed"}) for n, p in places.items()},
        wires=edged,
        wire_list=None,
        piggybacks=tuple(a for a in loom.piggybacks if split_address(a)[0] in places),
        covered=tuple(a for a in loom.covered if split_address(a)[0] in places),
        fuses={a: amps for a, amps in loom.fuses.items() if split_address(a)[0] in places},
        not_seen=(*loom.not_seen, *_not_seen(loom, wires, edges, left)),
    )
    return Template(own, partial, loom, left, edges.fed_from)


def _wished_variables(
    job: Job, variables: Mapping[str, tuple[str, ...]], places: Collection[str]
) -> dict[str, None]:
    """The variables of places cut off that a job's wishes name."""
    names = [name for wish in (*job.wants, *job.accepts) for name in wish.when]
    meant = [full for name in names for full in meanings_of_name(name, variables)]
    return dict.fromkeys(full for full in meant if "/" in full and full.rpartition("/")[0] not in places)


def _own_job(job: Job, variables: Mapping[str, tuple[str, ...]], edges: Edges) -> Job:
    def own(wish: Wish) -> Wish:
        when = {}
        for name, labels in wish.when.items():
            meant = meanings_of_name(name, variables)
            when[edges.names.get(meant[0], name) if len(meant) == 1 else name] = labels
        return wish.model_copy(update={"when": when})

    return job.model_copy(
        update={
            "job": f"my-{job.job}"[:60],
            "reasoning": None,
            "stock": (),  # what lies on somebody else's bench
            "minutes": {},
            "loom": "loom.yaml",
            "wants": tuple(own(wish) for wish in job.wants),
            "accepts": tuple(own(wish) for wish in job.accepts),
        }
    )


def _needed(part: str, catalogue: Catalogue) -> Iterator[str]:
    """Yield the names that a part leaves to the loom's conditions."""
    record = catalogue.parts[part]
    for element in record.inside:
        yield from (name for name in getattr(element, "when", {}) if name not in record.variables)
        if isinstance(element, Sender):
            yield element.follows


def _not_seen(loom: Loom, wires: Sequence[Wire], edges: Edges, left: Collection[str]) -> Iterator[str]:
    """Yield what is cut off: before each feed, beside what is kept, and how much more there is."""
    before = [_short(address_words(loom, address)) for address in edges.fed_from.values()]
    if before:
        yield f"what lies before {'; '.join(before)}"
    ends = dict.fromkeys(split_address(end.at)[0] for wire in wires for end in wire.ends)
    near = [place for place in ends if place in left]
    if near:
        titles = dict.fromkeys(_short(loom.place_title(place)) for place in near)
        yield f"what else is wired to the parts that are kept, and what it takes: {', '.join(titles)}"
    if len(left) > len(near):
        rest = len(left) - len(near)
        yield f"{counted(rest, 'part')} of the pattern further away"


def _short(title: str) -> str:
    return title.partition(",")[0]
