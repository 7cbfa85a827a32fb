"""What a loom refers to and is not there, and terminals with more ends than they hold."""

from collections.abc import Iterator, Mapping
from itertools import chain, islice

from planner.model.catalogue import Catalogue
from planner.model.elements import Fuse
from planner.model.fitted_fuse import fused_side
from planner.model.loom import Loom
from planner.model.names import variables_of
from planner.model.part import Part
from planner.problems import Problem
from planner.reading.fitted_references import earthed_without_body, needs_of_part, parts_of, supply_problems
from planner.reading.unknown_names import unknown, when_problems
from planner.reading.validate import MOST_FAULTS
from planner.reading.wire_references import bundle_problems, room_problems, wire_problems
from planner.reading.yaml_source import Document

PLACEHOLDER = "CHOOSE"  # what stands in a new folder for a part that is still to be said


def check_loom(loom: Loom, document: Document, catalogue: Catalogue) -> list[Problem]:
    """What a loom refers to and is not there, and terminals with more ends than they hold."""
    found = chain(
        _place_problems(loom, document, catalogue),
        _condition_problems(loom, document),
        _feed_problems(loom, document, catalogue),
        supply_problems(loom.supply, parts_of(loom, catalogue.parts), document, "the supply is"),
        wire_problems(loom, document, catalogue.parts),
        bundle_problems(loom, document),
        room_problems(loom, document, catalogue.parts),
        _fuse_problems(loom, document, catalogue.parts),
    )
    problems = list(islice(found, MOST_FAULTS))  # each name that is not known is looked for among all
    for index, route in enumerate(loom.routes):
        for key, zone in (("from", route.from_), ("to", route.to)):
            if zone not in loom.zones:
                problems.append(unknown(document, ("routes", index, key), "zone", zone, loom.zones))
    strange = [role for role in loom.scheme if role not in catalogue.roles]
    problems += [unknown(document, ("scheme", r), "role", r, catalogue.roles, key=True) for r in strange]
    return problems


def _place_problems(loom: Loom, document: Document, catalogue: Catalogue) -> Iterator[Problem]:
    fitted = parts_of(loom, catalogue.parts).values()
    for name, place in loom.places.items():
        path = ("places", name)
        if place.zone not in loom.zones:
            yield unknown(document, (*path, "zone"), "zone", place.zone, loom.zones)
        if place.part in catalogue.parts:
            yield from needs_of_part(
                catalogue.parts[place.part],
                loom,
                document,
                (*path, "part"),
                catalogue.part_places.get(place.part),
                fitted,
            )
            yield from earthed_without_body(name, place, catalogue.parts[place.part], loom, document)
            terminals = catalogue.parts[place.part].terminals
            for said, mark in place.marks.items():
                if mark not in terminals:
                    where = (*path, "marks", said)
                    yield unknown(document, where, "terminal of this part", mark, terminals)
        elif place.part != PLACEHOLDER:
            yield unknown(document, (*path, "part"), "part", place.part, catalogue.parts)
    yield from _not_chosen(loom, document)


def _not_chosen(loom: Loom, document: Document) -> Iterator[Problem]:
    """One problem for all places of a new folder at which nobody has said yet which part sits there."""
    left = [name for name, place in loom.places.items() if place.part == PLACEHOLDER]
    if left:
        are = "1 place has no part yet" if len(left) == 1 else f"{len(left)} places have no part yet"
        hint = (
            f"in place of {PLACEHOLDER} the id of its part: one of those below its line, or one that "
            "'loomwright parts WORDS' finds; a place that your swap does not touch may go, with its wires"
        )
        where = document.value_place(("places", left[0], "part"))
        yield Problem(where, f"{are}: {', '.join(left)}", hint=hint)


def _condition_problems(loom: Loom, document: Document) -> Iterator[Problem]:
    for name, positions in loom.conditions.items():
        path = ("conditions", name)
        labels = [position.label for position in positions]
        if len(labels) < 2:
            yield Problem(document.value_place(path), f"condition {name!r} needs two values or more")
        for index, label in enumerate(labels):
            if label in labels[:index]:
                message = f"two values of {name!r} are labelled {label!r}"
                yield Problem(document.value_place((*path, index)), message)


def _feed_problems(loom: Loom, document: Document, catalogue: Catalogue) -> Iterator[Problem]:
    variables = variables_of(loom, catalogue.parts)
    for name, feed in loom.feeds.items():
        path = ("feeds", name)
        if feed.role not in catalogue.roles:
            yield unknown(document, (*path, "role"), "role", feed.role, catalogue.roles)
        yield from when_problems(feed.when, document, (*path, "when"), variables)


def _fuse_problems(loom: Loom, document: Document, parts: Mapping[str, Part]) -> Iterator[Problem]:
    """Yield a problem for each fuse that is said to have been put in where there is none."""
    known = [
        fused_side(place, element)
        for place, fitted in loom.places.items()
        for element in (parts[fitted.part].inside if fitted.part in parts else ())
        if isinstance(element, Fuse)
    ]
    for address in loom.fuses:
        if address not in known:
            yield unknown(document, ("fuses", address), "fused side of a fuse", address, known, key=True)
