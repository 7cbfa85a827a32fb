"""What a restorer should know of a loom: what never works, is fed twice, ends nowhere, is only assumed."""

from collections.abc import Iterator

from planner.inquiry.loom.account import FindingKind, FindingLine, LoadLine
from planner.inquiry.loom.found import FoundLoom
from planner.inquiry.loom.natures import nature_words
from planner.model.elements import Source
from planner.model.facts import ConductorFact
from planner.model.loom import Wire
from planner.model.part import Terminal, Wants
from planner.model.wording import wire_words
from planner.proof.hazards import HazardFinder

_KINDS: dict[str, FindingKind] = {
    "short": "short-circuit",
    "feeds-tied": "fed-twice",
    "chatter": "finds-no-rest",
}
_MUST = {
    "live": "must be live",
    "ignition": "must be live with the ignition",
    "earth": "must be earthed",
    "partner": "must be connected",
}


def hazard_lines(found: FoundLoom) -> Iterator[FindingLine]:
    """Yield shorts, what is fed twice at once, and relays that find no rest."""
    hazards = HazardFinder(
        found.comparison, found.alignment, found.catalogue, frozenset(), lambda *_: False
    ).find()
    for line in found.reporter.hazards([h for h in hazards if h.rows and h.kind in _KINDS]):
        yield FindingLine(_KINDS[line.kind], line.at, line.text, line.when)


def never_lines(found: FoundLoom, loads: tuple[LoadLine, ...]) -> Iterator[FindingLine]:
    """Yield loads that never work, and wires that are never live, never earth and lead to no load."""
    for line in loads:
        if not line.works:
            text = f"{line.what} ({line.title}) never works: {_why_never(found, line.at)}"
            yield FindingLine("never-works", line.at, text)
    for wire in found.loom.wires:
        fact = found.facts.at(wire.ends[0].at)
        is_whole = all(end.at not in ("loose", "unknown") for end in wire.ends)
        if is_whole and fact.nature == "dead" and not _has_something_inside(found, fact):
            text = (
                f"{wire_words(wire)} {wire.wire} {_from_to(found, wire)} is never live and leads to no load"
            )
            yield FindingLine("never-live", wire.wire, text)


def _why_never(found: FoundLoom, place: str) -> str:
    facts = [found.facts.at(f"{place}:{mark}") for mark in found.part(place).terminals]
    if all(fact.live == "never" for fact in facts):
        return "none of its terminals is ever live"
    if all(fact.earthed == "never" for fact in facts):
        return "none of its terminals ever gets to earth"
    return "its feed and its earth never come together"


def _has_something_inside(found: FoundLoom, fact: ConductorFact) -> bool:
    """Whether something is at it that facts do not tell of: a coil, a sender, a generator."""
    for address in fact.addresses:
        place, _, mark = address.partition(":")
        inside = found.part(place).inside if place in found.loom.places else ()
        if any(mark in (getattr(element, "between", None) or ()) for element in inside):
            return True
    return False


def end_lines(found: FoundLoom) -> Iterator[FindingLine]:
    """Yield ends of wires that are on nothing, or of which nobody knows where they are."""
    for wire in found.loom.wires:
        for number, end in enumerate(wire.ends):
            if end.at in ("loose", "unknown"):
                nature = nature_words(found.facts.at(f"end:{wire.wire}:{number}"))
                how = "ends where nobody has seen it" if end.at == "unknown" else "ends loose"
                covered = ", insulated and tied back" if end.covered else ""
                text = (
                    f"{wire_words(wire, number)} {wire.wire} {_from_to(found, wire)} {how}{covered}; {nature}"
                )
                yield FindingLine("ends-nowhere", wire.wire, text)


def terminal_lines(found: FoundLoom) -> Iterator[FindingLine]:
    """Yield terminals that cannot do without something, and do not have it; first the posts of batteries."""
    yield from _posts(found)
    for place in found.loom.places:
        for mark, terminal in found.part(place).terminals.items():
            address = f"{place}:{mark}"
            wants = _wants(found, terminal)
            missing = _missing(found, wants, address)
            is_covered = terminal.covered or address in found.loom.covered
            if missing and terminal.by == "wire" and not is_covered:
                text = f"{found.address(address)} {_MUST[wants]} and {missing}"
                yield FindingLine("wants-something", address, text)


def _posts(found: FoundLoom) -> Iterator[FindingLine]:
    """Yield each post of a battery that is joined to nothing: without it nothing works."""
    for place in found.loom.places:
        for element in found.part(place).inside:
            if not isinstance(element, Source) or element.when:
                continue
            live, back = (f"{place}:{mark}" for mark in element.between)
            if live not in found.loom.ends_at:
                text = f"{_post(found, live)} has no wire: the battery feeds nothing"
                yield FindingLine("battery-open", live, text)
            if back not in found.loom.ends_at:
                text = f"{_post(found, back)} has no wire: nothing gets back to the battery"
                yield FindingLine("battery-open", back, text)


def _post(found: FoundLoom, address: str) -> str:
    place, _, mark = address.partition(":")
    return f"the {mark} post of the {found.titles[place]}"


def _wants(found: FoundLoom, terminal: Terminal) -> Wants:
    role = found.catalogue.roles.get(terminal.role or "")
    return terminal.wants or (role.wants if role else "nothing")


def _missing(found: FoundLoom, wants: Wants, address: str) -> str:
    """What is missing at a terminal; empty if it has what it wants."""
    fact = found.facts.at(address)
    has_wire = address in found.loom.ends_at
    has_it = {
        "live": fact.live != "never",
        "ignition": fact.live != "never",
        "earth": fact.earthed != "never",
        "partner": has_wire,
        "nothing": True,
    }[wants]
    if has_it or (has_wire and fact.nature == "load"):  # it may come through an ammeter
        return ""
    return f"has a wire that is {nature_words(fact)}" if has_wire else "has no wire"


def assumed_lines(found: FoundLoom) -> Iterator[FindingLine]:
    """Yield every fact that nobody has seen, measured or found in a drawing."""
    for name, feed in found.loom.feeds.items():
        if feed.known == "assumed":
            yield FindingLine("assumed", name, f"what {found.address(name)} is")
    for name, place in found.loom.places.items():
        if place.known == "assumed":
            title = found.catalogue.parts[place.part].title
            yield FindingLine("assumed", name, f"that the {found.titles[name]} is a {place.part} ({title})")
    for wire in found.loom.wires:
        known = [n for n, end in enumerate(wire.ends) if end.at not in ("loose", "unknown")]
        assumed = [number for number in known if wire.end_known(number) == "assumed"]
        if assumed == known and assumed:
            text = f"that {wire_words(wire)} {wire.wire} goes {_from_to(found, wire)}"
            yield FindingLine("assumed", wire.wire, text)
            continue
        for number in assumed:
            text = f"that {wire_words(wire, number)} {wire.wire} is on {found.address(wire.ends[number].at)}"
            yield FindingLine("assumed", wire.wire, text)


def _from_to(found: FoundLoom, wire: Wire) -> str:
    """From where to where, as far as it is known."""
    known = [found.address(end.at) for end in wire.ends if end.at not in ("loose", "unknown")]
    return f"from {' to '.join(known)}" if known else "of which no end is known"
