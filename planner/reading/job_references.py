"""What a job refers to and its loom or the catalogue does not have."""

from collections.abc import Iterator, Mapping
from itertools import islice

from planner.model.delta import operation_words
from planner.model.elements import Load
from planner.model.job import Job, Swap, Wish
from planner.model.loom import Loom
from planner.model.names import variables_of
from planner.model.part import Part
from planner.problems import Problem
from planner.reading.fitted_references import needs_of_part, parts_of, supply_problems
from planner.reading.unknown_names import item_path, unknown, when_problems
from planner.reading.validate import MOST_FAULTS, suggest
from planner.reading.yaml_source import DataPath, Document


def check_job(job: Job, document: Document, loom: Loom, parts: Mapping[str, Part]) -> list[Problem]:
    """What a job refers to and its loom or the catalogue does not have."""
    problems = list(islice(_swap_problems(job, document, loom, parts), MOST_FAULTS))
    if job.supply is not None:
        after = parts_of(loom, parts) | {s.at: parts[s.fit] for s in job.swaps if s.fit in parts}
        for swap in job.swaps:
            if swap.fit == "nothing":
                after.pop(swap.at, None)
        problems += supply_problems(job.supply, after, document, "the supply is to be")
    fitted = _parts_by_place(job, loom, parts)
    variables = dict(variables_of(loom, parts))
    for swap in job.swaps:
        if swap.fit not in parts or not _has_place(swap, loom):
            continue
        for name, labels in parts[swap.fit].variables.items():
            full = f"{swap.at}/{name}"
            variables[full] = (*variables.get(full, ()), *labels)
    for key, wishes in (("wants", job.wants), ("accepts", job.accepts)):
        for index, wish in enumerate(wishes):
            path = (key, index)
            problems += _wish_problems(wish, document, path, fitted)
            problems += when_problems(wish.when, document, (*path, "when"), variables)
    words = operation_words()
    strange = [word for word in job.minutes if word not in words]
    problems += [unknown(document, ("minutes", w), "operation", w, words, key=True) for w in strange]
    return problems


def asking_nothing(job: Job, document: Document, loom: Loom) -> Iterator[Problem]:
    """Yield it as a problem if a job neither swaps nor wants anything: it is only a beginning."""
    if not job.swaps and not job.wants and job.supply is None:
        place = document.value_place(("swaps",) if "swaps" in document.data else ("job",))
        hint = f"under swaps, what goes in where: - {{at: {next(iter(loom.places), 'PLACE')}, fit: PART}}"
        yield Problem(place, "the job asks for nothing: it swaps nothing", hint=hint)


def _swap_problems(job: Job, document: Document, loom: Loom, parts: Mapping[str, Part]) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for index, swap in enumerate(job.swaps):
        path: DataPath = ("swaps", index)
        if first.setdefault(swap.at, index) != index:
            related = ((document.value_place(("swaps", first[swap.at], "at")), "first here"),)
            message = f"two swaps at {swap.at!r}"
            yield Problem(document.value_place((*path, "at")), message, related, "one swap for each place")
        if swap.fit in parts:
            yield from needs_of_part(parts[swap.fit], loom, document, (*path, "fit"), None)
        elif swap.fit != "nothing":
            yield unknown(document, (*path, "fit"), "part", swap.fit, (*parts, "nothing"))
        if swap.zone is not None and swap.zone not in loom.zones:
            yield unknown(document, (*path, "zone"), "zone", swap.zone, loom.zones)
        if swap.at in loom.places:
            yield from _moved(swap, loom, document, path)
        else:
            yield from _new_place(swap, loom, document, path)


def _moved(swap: Swap, loom: Loom, document: Document, path: DataPath) -> Iterator[Problem]:
    there = loom.places[swap.at].zone
    if swap.zone in loom.zones and swap.zone != there:
        message = f"{swap.at} is in zone {there!r}; a swap cannot move it to {swap.zone!r}"
        hint = "leaving zone out, or a removal and a new place"
        yield Problem(document.value_place((*path, "zone")), message, hint=hint)


def _has_place(swap: Swap, loom: Loom) -> bool:
    """Whether a swap's place is there or meant as a new one, rather than misspelt."""
    return swap.at in loom.places or swap.zone is not None or swap.mounting is not None


def _new_place(swap: Swap, loom: Loom, document: Document, path: DataPath) -> Iterator[Problem]:
    at = document.value_place((*path, "at"))
    if swap.fit == "nothing" or not _has_place(swap, loom):
        near = suggest(swap.at, loom.places)
        new = None if swap.fit == "nothing" else "zone and mounting, if it is a new place"
        hint = "; or ".join(text for text in (near, new) if text)
        yield Problem(at, f"no place is called {swap.at!r}", hint=hint or None)
        return
    for key in ("zone", "mounting"):
        if getattr(swap, key) is None:
            accepted = ", ".join(loom.zones) if key == "zone" else "metal, insulated or doubtful"
            yield Problem(at, f"a new place needs its {key}", hint=f"{key}: {accepted}")


def _parts_by_place(job: Job, loom: Loom, parts: Mapping[str, Part]) -> dict[str, list[Part]]:
    """The parts at each place, before and after: a wish may be about either."""
    names = [(name, place.part) for name, place in loom.places.items()]
    names += [(swap.at, swap.fit) for swap in job.swaps]
    found: dict[str, list[Part]] = {}
    for place, part in names:
        found.setdefault(place, []).extend([parts[part]] if part in parts else [])
    return found


def _wish_problems(
    wish: Wish, document: Document, path: DataPath, fitted: Mapping[str, list[Part]]
) -> Iterator[Problem]:
    does = {
        place: {e.does for part in there for e in part.inside if isinstance(e, Load) and e.does}
        for place, there in fitted.items()
    }
    everywhere = set().union(*does.values())
    if wish.what not in everywhere:
        yield unknown(document, (*path, "what"), "load", wish.what, everywhere)
    for place in wish.at:
        here = item_path(document, (*path, "at"), place)
        if place not in fitted:
            yield unknown(document, here, "place", place, fitted)
        elif wish.what in everywhere and wish.what not in does[place]:
            message = f"nothing at {place} is for {wish.what!r}"
            elsewhere = sorted(other for other, words in does.items() if wish.what in words)
            yield Problem(document.value_place(here), message, hint=" or ".join(elsewhere[:4]))
