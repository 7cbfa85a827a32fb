"""Colours that contradict what the wire computes to be.

A loom's scheme says which colour each role has; a wire of such a colour that surely is something else is
told. A colour that the scheme does not name is told if it is used for what is live and for earth as well.
"""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from planner.inquiry.loom.account import FindingLine
from planner.inquiry.loom.found import FoundLoom
from planner.inquiry.loom.natures import nature_words
from planner.model.facts import Nature
from planner.model.part import Role
from planner.model.wording import colour_words

LIVE: frozenset[Nature] = frozenset({"always-live", "ignition-live", "switched-live"})
EARTH: frozenset[Nature] = frozenset({"earth"})
# What a conductor may not be if its role wants something. A feed behind a switch or fuse is live as well.
_CONTRADICTING: Mapping[str, frozenset[Nature]] = MappingProxyType(
    {"live": EARTH, "ignition": EARTH, "earth": LIVE, "partner": EARTH}
)
FROM_LIVE, TO_EARTH = 40, 90  # ranks of roles between which neither pole is ruled out
MOST_NAMED = 4


def colour_lines(found: FoundLoom) -> Iterator[FindingLine]:
    """Yield each wire whose colour the scheme has for something else, and colours used for both poles."""
    meant: dict[str, list[str]] = {}
    for role, colour in found.loom.scheme.items():
        meant.setdefault(colour, []).append(role)
    natures: dict[str, dict[Nature, list[str]]] = {}
    for wire in found.loom.wires:
        fact = found.facts.at(wire.ends[0].at if ":" in wire.ends[0].at else f"end:{wire.wire}:0")
        for colour in dict.fromkeys(wire.colour):
            roles = meant.get(colour)
            if roles is None:
                natures.setdefault(colour, {}).setdefault(fact.nature, []).append(wire.wire)
            elif all(fact.nature in _ruled_out(found.catalogue.roles[role]) for role in roles):
                said = " or ".join(f"{role} ({found.catalogue.roles[role].meaning})" for role in roles)
                what = nature_words(fact)
                text = f"{colour_words(colour)} ({wire.wire}) is the colour of {said}; the wire is {what}"
                yield FindingLine("colour", wire.wire, text)
    yield from _for_both_poles(natures)


def _ruled_out(role: Role) -> frozenset[Nature]:
    """What a conductor of a role surely is not."""
    if role.wants != "nothing":
        return _CONTRADICTING[role.wants]
    if role.rank <= FROM_LIVE:
        return EARTH
    return LIVE if role.rank >= TO_EARTH else frozenset()


def _for_both_poles(natures: Mapping[str, Mapping[Nature, list[str]]]) -> Iterator[FindingLine]:
    for colour, used in sorted(natures.items()):
        live = [wire for nature, wires in used.items() if nature in LIVE for wire in wires]
        earth = [wire for nature, wires in used.items() if nature in EARTH for wire in wires]
        if live and earth:
            text = f"{colour_words(colour)} is live on {_named(live)} and earth on {_named(earth)}"
            yield FindingLine("colour", colour, text)


def _named(wires: list[str]) -> str:
    more = len(wires) - MOST_NAMED
    return ", ".join(wires[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
