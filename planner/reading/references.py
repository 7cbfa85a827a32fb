"""Names that point at nothing: each at its place in the file, with the nearest that exist."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from itertools import chain, islice

from planner.model.catalogue import Catalogue, Publication
from planner.model.delta import operation_words
from planner.model.elements import Cam, Coil, Control, Fuse, Load, Sender, Source, Step
from planner.model.fitted_fuse import fused_side
from planner.model.job import Job, Swap, Wish
from planner.model.loom import Loom, Place, Supply, split_address
from planner.model.names import meanings_of_name, variables_of
from planner.model.part import Part, Role
from planner.problems import FilePlace, Problem
from planner.reading.validate import MOST_FAULTS, suggest
from planner.reading.yaml_source import DataPath, Document

Values = Mapping[str, tuple[str, ...]]
FREE_ENDS = ("unknown", "loose", "earth")


def check_part(
    part: Part,
    document: Document,
    path: DataPath,
    roles: Mapping[str, Role],
    sources: Mapping[str, Publication],
) -> list[Problem]:
    """What a part refers to and is not there; variables it leaves to the loom are checked with a loom."""
    return list(_part_problems(part, document, path, roles, sources))


def check_loom(loom: Loom, document: Document, catalogue: Catalogue) -> list[Problem]:
    """What a loom refers to and is not there, and terminals with more ends than they hold."""
    found = chain(
        _place_problems(loom, document, catalogue),
        _condition_problems(loom, document),
        _feed_problems(loom, document, catalogue),
        _supply_problems(loom.supply, _parts_of(loom, catalogue.parts), document, "the supply is"),
        _wire_problems(loom, document, catalogue.parts),
        _bundle_problems(loom, document),
        _room_problems(loom, document, catalogue.parts),
        _fuse_problems(loom, document, catalogue.parts),
    )
    problems = list(islice(found, MOST_FAULTS))  # each name that is not known is looked for among all
    for index, route in enumerate(loom.routes):
        for key, zone in (("from", route.from_), ("to", route.to)):
            if zone not in loom.zones:
                problems.append(_unknown(document, ("routes", index, key), "zone", zone, loom.zones))
    strange = [role for role in loom.scheme if role not in catalogue.roles]
    problems += [_unknown(document, ("scheme", r), "role", r, catalogue.roles, key=True) for r in strange]
    return problems


def check_job(job: Job, document: Document, loom: Loom, parts: Mapping[str, Part]) -> list[Problem]:
    """What a job refers to and its loom or the catalogue does not have."""
    problems = list(islice(_swap_problems(job, document, loom, parts), MOST_FAULTS))
    if job.supply is not None:
        after = _parts_of(loom, parts) | {s.at: parts[s.fit] for s in job.swaps if s.fit in parts}
        for swap in job.swaps:
            if swap.fit == "nothing":
                after.pop(swap.at, None)
        problems += _supply_problems(job.supply, after, document, "the supply is to be")
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
            problems += _when_problems(wish.when, document, (*path, "when"), variables)
    words = operation_words()
    strange = [word for word in job.minutes if word not in words]
    problems += [_unknown(document, ("minutes", w), "operation", w, words, key=True) for w in strange]
    return problems


def _unknown(
    document: Document,
    path: DataPath,
    what: str,
    name: str,
    known: Iterable[str],
    *,
    key: bool = False,
    related: tuple[tuple[FilePlace, str], ...] = (),
) -> Problem:
    place = document.key_place(path) if key else document.value_place(path)
    return Problem(place, f"no {what} is called {name!r}", related, suggest(name, known))


# -- parts -------------------------------------------------------------------------------------------------


def _part_problems(
    part: Part,
    document: Document,
    path: DataPath,
    roles: Mapping[str, Role],
    sources: Mapping[str, Publication],
) -> Iterator[Problem]:
    if part.source not in sources:
        yield _unknown(document, (*path, "source"), "source", part.source, sources)
    for mark, terminal in part.terminals.items():
        if terminal.role is not None and terminal.role not in roles:
            yield _unknown(document, (*path, "terminals", mark, "role"), "role", terminal.role, roles)
    yield from _name_problems(part, document, path)
    for index, element in enumerate(part.inside):
        inside = (*path, "inside", index, element.element)
        yield from _label_problems(part, document, inside, getattr(element, "when", {}))
        if isinstance(element, Control):
            yield from _control_problems(element, document, inside)
        between = getattr(element, "between", ("", "other"))
        if between[0] == between[1]:
            message = f"both ends of the {element.element} are on {between[0]!r}"
            yield Problem(document.value_place((*inside, "between")), message)


def _name_problems(part: Part, document: Document, path: DataPath) -> Iterator[Problem]:
    nodes = (*part.terminals, *part.nodes)
    coils = [e.name for e in part.inside if isinstance(e, Coil)]
    loads = [e.does for e in part.inside if isinstance(e, Load) and e.does]
    for index, key, kind, name in part.references():
        here = (*path, "inside", index, part.inside[index].element, key)
        at = _item_path(document, here, name)
        if kind == "node" and name not in nodes:
            yield _unknown(document, at, "terminal or node of this part", name, nodes)
        elif isinstance(part.inside[index], Step) and key == "stepped_by" and name not in coils:
            yield _unknown(document, at, "armature of this part", name, coils)
        elif isinstance(part.inside[index], Cam) and key == "turned_by" and name not in loads:
            yield _unknown(document, at, "load of this part", name, loads)


def _item_path(document: Document, path: DataPath, name: str) -> DataPath:
    """The path of one name in a list, or of the value itself where it was given alone."""
    value = document.at(document.nearest(path))
    return (*path, value.index(name)) if isinstance(value, list) and name in value else path


def _label_problems(
    part: Part, document: Document, inside: DataPath, when: Mapping[str, tuple[str, ...]]
) -> Iterator[Problem]:
    for name, labels in when.items():
        if name in part.variables:
            yield from _unknown_labels(labels, part.variables[name], name, document, (*inside, "when", name))


def _unknown_labels(
    labels: Iterable[str], known: tuple[str, ...], name: str, document: Document, path: DataPath
) -> Iterator[Problem]:
    for label in labels:
        if label not in known:
            yield _unknown(document, _item_path(document, path, label), f"value of {name!r}", label, known)


def _control_problems(control: Control, document: Document, inside: DataPath) -> Iterator[Problem]:
    labels = [position.label for position in control.positions]
    if control.returns is not None and control.returns not in labels:
        yield _unknown(
            document, (*inside, "returns"), f"position of {control.name!r}", control.returns, labels
        )
    for index, label in enumerate(labels):
        if label in labels[:index]:
            message = f"two positions of {control.name!r} are labelled {label!r}"
            yield Problem(document.value_place((*inside, "positions", index)), message)


# -- looms -------------------------------------------------------------------------------------------------


def _place_problems(loom: Loom, document: Document, catalogue: Catalogue) -> Iterator[Problem]:
    for name, place in loom.places.items():
        path = ("places", name)
        if place.zone not in loom.zones:
            yield _unknown(document, (*path, "zone"), "zone", place.zone, loom.zones)
        if place.part in catalogue.parts:
            yield from _needs_of_part(
                catalogue.parts[place.part],
                loom,
                document,
                (*path, "part"),
                catalogue.part_places.get(place.part),
            )
            yield from _earthed_without_body(name, place, catalogue.parts[place.part], loom, document)
        else:
            yield _unknown(document, (*path, "part"), "part", place.part, catalogue.parts)


def _earthed_without_body(
    name: str, place: Place, part: Part, loom: Loom, document: Document
) -> Iterator[Problem]:
    """A part that its mounting earths, in a zone where there is nothing to earth it."""
    zone = loom.zones.get(place.zone)
    if zone is None or zone.body or place.mounting != "metal":
        return
    if any(terminal.by == "mounting" for terminal in part.terminals.values()):
        message = f"its mounting cannot earth it: zone {place.zone!r} has no body"
        yield Problem(document.key_place(("places", name)), message, hint="mounting: insulated")


def _needs_of_part(
    part: Part, loom: Loom, document: Document, path: DataPath, part_place: FilePlace | None
) -> Iterator[Problem]:
    """What a part leaves to the loom's conditions and the loom does not have."""
    related = ((part_place, f"part {part.part!r}"),) if part_place else ()
    conditions = {name: tuple(p.label for p in positions) for name, positions in loom.conditions.items()}
    wanted: dict[str, set[str]] = {}
    for element in part.inside:
        for name, labels in getattr(element, "when", {}).items():
            if name not in part.variables:
                wanted.setdefault(name, set()).update(labels)
        if isinstance(element, Sender):
            wanted.setdefault(element.follows, set()).update(element.ohms)
            for label in conditions.get(element.follows, ()):
                if label not in element.ohms:
                    message = f"part {part.part!r} has no ohms for {element.follows!r} at {label!r}"
                    yield Problem(document.value_place(path), message, related)
    for name in sorted(wanted):
        if name not in conditions:
            message = f"part {part.part!r} depends on {name!r}, which this loom's conditions do not have"
            known = (*conditions, *part.variables)
            yield Problem(document.value_place(path), message, related, suggest(name, known))
            continue
        for label in sorted(wanted[name].difference(conditions[name])):
            message = (
                f"part {part.part!r} depends on {name!r} at {label!r}, which is not one of its values here"
            )
            yield Problem(document.value_place(path), message, related, suggest(label, conditions[name]))


def _parts_of(loom: Loom, parts: Mapping[str, Part]) -> dict[str, Part]:
    return {name: parts[place.part] for name, place in loom.places.items() if place.part in parts}


def _supply_problems(
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
            yield _unknown(document, (*path, "role"), "role", feed.role, catalogue.roles)
        yield from _when_problems(feed.when, document, (*path, "when"), variables)


def _when_problems(
    when: Mapping[str, tuple[str, ...]], document: Document, path: DataPath, variables: Values
) -> Iterator[Problem]:
    for name, labels in when.items():
        here = (*path, name)
        meant = meanings_of_name(name, variables)
        if len(meant) == 1:
            yield from _unknown_labels(labels, variables[meant[0]], name, document, here)
        elif meant:
            message = f"{name!r} may mean {len(meant)} things here"
            yield Problem(document.key_place(here), message, hint=" or ".join(meant[:4]))
        else:
            known = {*variables, *(full.partition("/")[2] for full in variables if "/" in full)}
            yield _unknown(document, here, "condition or control", name, known, key=True)


def _wire_problems(loom: Loom, document: Document, parts: Mapping[str, Part]) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for index, wire in enumerate(loom.wires):
        path: DataPath = ("wires", index)
        if first.setdefault(wire.wire, index) != index:
            related = ((document.value_place(("wires", first[wire.wire], "wire")), "first used here"),)
            message = f"two wires are called {wire.wire!r}"
            yield Problem(document.value_place((*path, "wire")), message, related, "another id")
        for number, end in enumerate(wire.ends):
            yield from _address_problems(end.at, loom, document, (*path, "ends", number, "at"), parts)
    for key in ("piggybacks", "covered"):
        for address in getattr(loom, key):
            here = _item_path(document, (key,), address)
            yield from _address_problems(address, loom, document, here, parts)


def _bundle_problems(loom: Loom, document: Document) -> Iterator[Problem]:
    """Yield a problem for each bundle of one wire: most likely its name is misspelt."""
    for name, wires in loom.bundles.items():
        if len(wires) == 1:
            message = f"wire {wires[0]!r} lies alone in the bundle {name!r}"
            near = suggest(name, [other for other in loom.bundles if other != name])
            hint = near or "the same bundle on another wire, or none"
            index = next(i for i, wire in enumerate(loom.wires) if wire.bundle == name)
            yield Problem(document.value_place(("wires", index, "bundle")), message, hint=hint)


def _address_problems(
    address: str, loom: Loom, document: Document, path: DataPath, parts: Mapping[str, Part]
) -> Iterator[Problem]:
    place, mark = split_address(address)
    if address in FREE_ENDS or place == "joint":
        return
    if place == "feed":
        if address not in loom.feeds:
            yield _unknown(document, path, "feed", address, loom.feeds)
    elif place == "earth":
        if mark not in loom.zones:
            yield _unknown(document, path, "zone", mark, loom.zones)
    elif place not in loom.places:
        yield _unknown(document, path, "place", place, loom.places)
    else:
        part = parts.get(loom.places[place].part)
        if part and mark not in part.terminals:
            related = ((document.key_place(("places", place)), f"part {part.part!r} is fitted here"),)
            what = f"terminal of {place} ({part.part})"
            yield _unknown(document, path, what, mark, part.terminals, related=related)


def _room_problems(loom: Loom, document: Document, parts: Mapping[str, Part]) -> Iterator[Problem]:
    piggybacks = Counter(loom.piggybacks)
    for address, ends in loom.ends_at.items():
        place, mark = split_address(address)
        part = parts.get(loom.places[place].part) if place in loom.places else None
        terminal = part.terminals.get(mark) if part else None
        if terminal is None or len(ends) <= terminal.holds + piggybacks[address]:
            continue
        # Ends are told by their place in the file, since two wires may wrongly share an id.
        at = [
            (index, number)
            for index, wire in enumerate(loom.wires)
            for number, end in enumerate(wire.ends)
            if end.at == address
        ]
        room = terminal.holds + piggybacks[address]
        index, number = at[room]
        related = tuple((document.value_place(("wires", i, "ends", n)), "is on it too") for i, n in at[:room])
        message = f"{address} holds {room}, and {len(ends)} ends are on it"
        hint = f"piggybacks: [{address!r}], or another terminal"
        yield Problem(document.value_place(("wires", index, "ends", number)), message, related, hint)


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
            yield _unknown(document, ("fuses", address), "fused side of a fuse", address, known, key=True)


# -- jobs --------------------------------------------------------------------------------------------------


def _swap_problems(job: Job, document: Document, loom: Loom, parts: Mapping[str, Part]) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for index, swap in enumerate(job.swaps):
        path: DataPath = ("swaps", index)
        if first.setdefault(swap.at, index) != index:
            related = ((document.value_place(("swaps", first[swap.at], "at")), "first here"),)
            message = f"two swaps at {swap.at!r}"
            yield Problem(document.value_place((*path, "at")), message, related, "one swap for each place")
        if swap.fit in parts:
            yield from _needs_of_part(parts[swap.fit], loom, document, (*path, "fit"), None)
        elif swap.fit != "nothing":
            yield _unknown(document, (*path, "fit"), "part", swap.fit, (*parts, "nothing"))
        if swap.zone is not None and swap.zone not in loom.zones:
            yield _unknown(document, (*path, "zone"), "zone", swap.zone, loom.zones)
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
        yield _unknown(document, (*path, "what"), "load", wish.what, everywhere)
    for place in wish.at:
        here = _item_path(document, (*path, "at"), place)
        if place not in fitted:
            yield _unknown(document, here, "place", place, fitted)
        elif wish.what in everywhere and wish.what not in does[place]:
            message = f"nothing at {place} is for {wish.what!r}"
            elsewhere = sorted(other for other, words in does.items() if wish.what in words)
            yield Problem(document.value_place(here), message, hint=" or ".join(elsewhere[:4]))
