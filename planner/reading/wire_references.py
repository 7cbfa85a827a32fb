"""What the wires of a loom refer to and is not there, and terminals with more ends than they hold."""

from collections import Counter
from collections.abc import Iterator, Mapping

from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.problems import FilePlace, Problem
from planner.reading.unknown_names import item_path, unknown
from planner.reading.validate import suggest
from planner.reading.yaml_source import DataPath, Document

FREE_ENDS = ("unknown", "loose", "earth")


def wire_problems(loom: Loom, document: Document, parts: Mapping[str, Part]) -> Iterator[Problem]:
    """Yield a problem for each wire with the id of another, and each end on nothing that there is."""
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
            here = item_path(document, (key,), address)
            yield from _address_problems(address, loom, document, here, parts)


def _address_problems(
    address: str, loom: Loom, document: Document, path: DataPath, parts: Mapping[str, Part]
) -> Iterator[Problem]:
    place, mark = split_address(address)
    if address in FREE_ENDS or place == "joint":
        return
    if place == "feed":
        if address not in loom.feeds:
            yield unknown(document, path, "feed", address, loom.feeds)
    elif place == "earth":
        if mark not in loom.zones:
            yield unknown(document, path, "zone", mark, loom.zones)
    elif place not in loom.places:
        yield unknown(document, path, "place", place, loom.places)
    else:
        part = parts.get(loom.places[place].part)
        if part and mark not in part.terminals:
            related = ((document.key_place(("places", place)), f"part {part.part!r} is fitted here"),)
            what = f"terminal of {place} ({part.part})"
            yield unknown(document, path, what, mark, part.terminals, related=related)


def bundle_problems(loom: Loom, document: Document) -> Iterator[Problem]:
    """Yield a problem for each bundle of one wire: most likely its name is misspelt."""
    for name, wires in loom.bundles.items():
        if len(wires) == 1:
            message = f"wire {wires[0]!r} lies alone in the bundle {name!r}"
            near = suggest(name, [other for other in loom.bundles if other != name])
            hint = near or "the same bundle on another wire, or none"
            index = next(i for i, wire in enumerate(loom.wires) if wire.bundle == name)
            yield Problem(document.value_place(("wires", index, "bundle")), message, hint=hint)


def room_problems(loom: Loom, document: Document, parts: Mapping[str, Part]) -> Iterator[Problem]:
    """Yield a problem for each terminal with more ends than it holds."""
    rooms = {at: room for at, room in _rooms(loom, parts) if len(loom.ends_at[at]) > room}
    extra = [at for at, room in rooms.items() for _ in range(len(loom.ends_at[at]) - room)]
    all_of_them = ", ".join(map(repr, sorted((*loom.piggybacks, *extra))))
    what = (
        "if they are there, a line of the loom" if len(extra) == 1 else "for all that are there, in the loom"
    )
    found: dict[tuple[int, int], tuple[str, tuple[tuple[FilePlace, str], ...]]] = {}
    for address, room in rooms.items():
        ends = loom.ends_at[address]
        # Ends are told by their place in the file, since two wires may wrongly share an id.
        at = [
            (index, number)
            for index, wire in enumerate(loom.wires)
            for number, end in enumerate(wire.ends)
            if end.at == address
        ]
        index, number = at[room]
        related = tuple((document.value_place(("wires", i, "ends", n)), "is on it too") for i, n in at[:room])
        message = f"{address} holds {room}, and {len(ends)} ends are on it"
        found[index, number] = message, related
    hint: str | None = f"{what}: piggybacks: [{all_of_them}]; or another terminal"
    for (index, number), (message, related) in sorted(found.items()):
        yield Problem(document.value_place(("wires", index, "ends", number)), message, related, hint)
        hint = None  # said once it is enough


def _rooms(loom: Loom, parts: Mapping[str, Part]) -> Iterator[tuple[str, int]]:
    """Yield how many ends each terminal with a wire takes."""
    piggybacks = Counter(loom.piggybacks)
    for address in loom.ends_at:
        place, mark = split_address(address)
        part = parts.get(loom.places[place].part) if place in loom.places else None
        terminal = part.terminals.get(mark) if part else None
        if terminal is not None:
            yield address, terminal.holds + piggybacks[address]
