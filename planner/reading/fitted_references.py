"""What parts ask of the loom that they are fitted in: conditions, a body that earths them, its supply."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from planner.model.elements import Sender, Source
from planner.model.loom import Loom, Place, Supply
from planner.model.part import Part
from planner.problems import FilePlace, Problem
from planner.reading.validate import suggest
from planner.reading.yaml_source import DataPath, Document

# What people call a control that nobody touches, a door that is shut, a switch that is off.
REST_LABELS = frozenset({"off", "released", "shut", "closed", "at rest", "rest", "stopped", "empty", "no"})


def parts_of(loom: Loom, parts: Mapping[str, Part]) -> dict[str, Part]:
    """The parts of a loom by place, as far as the catalogue has them."""
    return {name: parts[place.part] for name, place in loom.places.items() if place.part in parts}


def needs_of_part(
    part: Part,
    loom: Loom,
    document: Document,
    path: DataPath,
    part_place: FilePlace | None,
    beside: Iterable[Part] = (),
) -> Iterator[Problem]:
    """What a part leaves to the loom's conditions and the loom does not have, as problems of a file.

    What is to be added is one line that serves the parts ``beside`` it as well.
    """
    related = ((part_place, f"part {part.part!r}"),) if part_place else ()
    for message, hint in conditions_lacking(part, loom, beside):
        yield Problem(document.value_place(path), message, related, hint)


def conditions_lacking(
    part: Part, loom: Loom, beside: Iterable[Part] = ()
) -> Iterator[tuple[str, str | None]]:
    """Yield what a part leaves to the loom's conditions and the loom does not have, and what to try.

    ``beside`` are parts whose values a condition that is to be added needs too.
    """
    conditions = {name: tuple(p.label for p in positions) for name, positions in loom.conditions.items()}
    wanted = _labels_left_to_loom(part)
    for element in part.inside:
        if isinstance(element, Sender):
            for label in conditions.get(element.follows, ()):
                if label not in element.ohms:
                    yield f"part {part.part!r} has no ohms for {element.follows!r} at {label!r}", None
    for name in sorted(wanted):
        if name not in conditions:
            message = f"part {part.part!r} depends on {name!r}, which this loom's conditions do not have"
            near = suggest(name, (*conditions, *part.variables))
            near = None if near and near.startswith("one of") else near  # none of them is meant
            together = (part, *beside)
            labels = set[str]().union(*(_labels_left_to_loom(each).get(name, ()) for each in together))
            is_sent = any(isinstance(e, Sender) and e.follows == name for p in together for e in p.inside)
            added = _condition_to_add(name, labels, is_sent=is_sent)
            yield message, f"{near}, or {added}" if near else added
            continue
        lacking = sorted(wanted[name].difference(conditions[name]))
        if lacking:
            said = " and ".join(map(repr, lacking))
            are = "is not one" if len(lacking) == 1 else "are not some"
            message = f"part {part.part!r} depends on {name!r} at {said}, which {are} of its values here"
            known = suggest(lacking[0], conditions[name])
            values = ", ".join(f'"{label}"' for label in (*conditions[name], *lacking))
            added = f"in the loom, this line under conditions: {name}: [{values}]"
            yield message, f"{known}; or, {added}" if len(lacking) == 1 and known else added


def _labels_left_to_loom(part: Part) -> dict[str, set[str]]:
    """The values that a part knows of each variable that is not its own."""
    wanted: dict[str, set[str]] = {}
    for element in part.inside:
        for name, labels in getattr(element, "when", {}).items():
            if name not in part.variables:
                wanted.setdefault(name, set()).update(labels)
        if isinstance(element, Sender):
            wanted.setdefault(element.follows, set()).update(element.ohms)
    return wanted


def _condition_to_add(name: str, labels: Collection[str], *, is_sent: bool) -> str:
    """The line that a loom lacks: the values that its part knows; one for rest, where a sender has none."""
    rest = sorted(REST_LABELS.intersection(labels))[:1]
    others = sorted(set(labels).difference(rest))
    is_free = not rest and not is_sent
    values = ", ".join(f'"{label}"' for label in (*(["at rest"] if is_free else rest), *others))
    free = "" if not is_free else ", the first by any name that you like"
    return f"this line under conditions: {name}: [{values}]{free}"


def earthed_without_body(
    name: str, place: Place, part: Part, loom: Loom, document: Document
) -> Iterator[Problem]:
    """A part that its mounting earths, in a zone where there is nothing to earth it."""
    zone = loom.zones.get(place.zone)
    if zone is None or zone.body or place.mounting != "metal":
        return
    if any(terminal.by == "mounting" for terminal in part.terminals.values()):
        message = f"its mounting cannot earth it: zone {place.zone!r} has no body"
        yield Problem(document.key_place(("places", name)), message, hint="mounting: insulated")


def supply_problems(
    supply: Supply, parts: Mapping[str, Part], document: Document, lead: str
) -> Iterator[Problem]:
    """Batteries that give other volts, or whose post marked plus or minus is earthed against the supply.

    Generators may be regulated to other volts or repolarised: the plan speaks of them.
    """
    for place, part in parts.items():
        for element in part.inside:
            if not isinstance(element, Source) or element.when:
                continue
            hint = f"a battery of {supply.words} at {place} (swaps), or the supply that it gives"
            if element.volts != supply.volts:
                message = f"{lead} {supply.volts:g} V, but {place} ({part.part}) gives {element.volts:g} V"
                yield Problem(document.value_place(("supply", "volts")), message, hint=hint)
            if element.between[0] == ("-" if supply.earthed == "negative" else "+"):
                message = (
                    f"{lead} {supply.earthed} earth, but {place} ({part.part}) has its "
                    f"{element.between[0]!r} post live"
                )
                yield Problem(document.value_place(("supply", "earthed")), message, hint=hint)
